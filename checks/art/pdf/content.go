package pdf

// Content is what a page paints, in paint order.
type Content struct {
	Texts    []Text
	Images   []Image
	Paths    []Path
	Shadings []Shading
	Spaces   []SpaceUse // colour spaces really painted with, in order of first use
	Fonts    []*Font    // fonts really shown with, in order of first use

	// Notes tells what was odd or had to be passed over, each thing once.
	Notes []string
	// Truncated tells that a ceiling was hit: the lists are not complete.
	Truncated bool
}

// Item is what all painted things have in common.
type Item struct {
	Order int  // place in the paint order of the page, from 0
	Box   Rect // the part that the clip lets through, in display space
	Full  Rect // the whole, before clipping

	Clipped    bool // nothing of it comes through the clip; Box is then zero
	Hidden     bool // it belongs to a layer that is not printed
	Layer      int  // the layer that hides it, else the innermost around it: its place in Document.Layers from 1, 0 for none
	Annotation bool // it comes from an annotation's appearance
	InMask     bool // it shapes a soft mask and is not itself seen
	InPattern  bool // it is part of a tile; Box is the area tiled
	InGlyph    bool // it is part of a glyph of a Type 3 font
	Shaped     bool // the clip is no upright rectangle: less than Box may come through

	Look
}

// Seen tells whether the item leaves anything on the page: not clipped away, not
// hidden, not part of a mask.
func (i Item) Seen() bool { return !i.Clipped && !i.Hidden && !i.InMask }

// Look is the part of the graphics state that decides how paint lands (8.4).
type Look struct {
	Fill, Stroke           Colour
	FillAlpha, StrokeAlpha float64 // constant alpha, ca and CA
	Blend                  string  // "Normal" and so on; the first known of a list
	SoftMask               bool    // a soft mask is set in the graphics state

	FillOverprint, StrokeOverprint bool
	OverprintMode                  int // OPM: 0 or 1 (8.6.7)
}

// Colour is a colour as set by the content.
type Colour struct {
	Space   *Space
	Values  []float64 // one per component; for Pattern those of the underlying space
	Pattern *Pattern  // set when Space is a Pattern space and the pattern was found
}

// Pattern is a tiling or shading pattern used as a colour.
type Pattern struct {
	Name    string // resource name
	Tiling  bool
	Colored bool   // a tiling pattern that brings its own colours
	Shading *Space // colour space of a shading pattern
	Matrix  Matrix // pattern space → display space

	tile *stream // content of a tiling pattern
}

// Text is one run: the glyphs of one Tj, TJ, ' or ".
type Text struct {
	Item
	String   string // as far as the font tells; U+FFFD where it does not
	Font     *Font
	Size     float64 // height of the em as printed, in points
	Mode     int     // text rendering mode (9.3.6); 3 is invisible, 7 only clips
	Quad     Quad    // around the ink, turned with the text
	Exact    bool    // the ink was measured on the embedded outlines, not estimated
	Glyphs   int     // glyphs shown
	LineThin float64 // least stroke width as printed, in points, for modes that stroke
}

// Seen tells whether the text leaves anything on the page; text in a mode that
// neither fills nor strokes does not.
func (t Text) Seen() bool { return t.Item.Seen() && t.Mode&3 != 3 }

// Path is one painted path.
type Path struct {
	Item
	Filled, Stroked    bool
	EvenOdd            bool
	Rectangle          bool    // one rectangle, upright on the page
	Segments           int     // lines, curves and closings
	WidthMin, WidthMax float64 // stroke width as printed, in points; 0 is the thinnest line of the device
	Dashed             bool
	// Strokes are the single straight lines that the path is made of, in order,
	// where it is made of nothing else and there are at most 64: how crop marks,
	// rules and grids are drawn.
	Strokes [][2]Point
	// Quads are the four-sided shapes that a filled path is made of, likewise: how
	// programs write rules and strips of any slant.
	Quads []Quad
}

// Shading is one use of the sh operator: paint over all that the clip lets through.
type Shading struct {
	Item
	Type  int // ShadingType 1 to 7
	Space *Space
}
