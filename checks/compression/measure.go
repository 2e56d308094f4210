package compression

// Marks is what compression left in a picture.
type Marks struct {
	Quality int  // at which the save was made that did the most; 0 where none shows
	Earlier bool // pixels alone tell of that save: the file has been saved anew since
	Blocks  Mark // borders of blocks
	Specks  Mark // specks beside type and hard edges
}

// Mark is one kind of damage.
type Mark struct {
	Levels float64 // of 255
	Place  Place   // where it is worst
}

// Place is a part of the picture in pixels.
type Place struct{ X0, Y0, X1, Y1 int }

// Measure looks for the save that damaged a picture most. Own is the table of luminance,
// or of the first ink, of the JPEG file that the pixels come from, as stored; nil for
// pixels of another kind.
func Measure(p Plane, own *Table) Marks { return MeasureFrom(p, own, 0, 0) }

// MeasureFrom is Measure of a file that is shown turned: its first whole block begins at
// (x, y), each 0 to 7.
func MeasureFrom(p Plane, own *Table, x, y int) (m Marks) {
	if !p.sound() {
		return Marks{}
	}
	home := grid{x & 7, y & 7}
	if own != nil {
		q, _ := Quality(*own)
		m = Marks{Quality: q}
		m.Blocks, m.Specks = p.damage(home, own)
	}
	s, ok := p.find()
	if !ok || own != nil && s.grid == home && s.quality > m.Quality-5 {
		return m
	}
	table := TableAt(s.quality)
	earlier := Marks{Quality: s.quality, Earlier: true}
	earlier.Blocks, earlier.Specks = p.damage(s.grid, &table)
	if earlier.Blocks.Levels+earlier.Specks.Levels > m.Blocks.Levels+m.Specks.Levels {
		return earlier
	}
	return m
}

// seen is the least difference of light that anybody sees on paper, levels.
const seen = 2

// damage measures both kinds, unless the steps are too small to do any.
func (p Plane) damage(g grid, t *Table) (blocks, specks Mark) {
	if reach(t) > seen {
		blocks = p.blocks(g, t)
	}
	if rounding(t) > seen {
		specks = p.specks(g, t)
	}
	return blocks, specks
}
