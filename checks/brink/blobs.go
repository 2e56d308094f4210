package brink

// blob is a patch of pixels that the ground does not reach. Its box is in
// field pixels, x1 and y1 past the end.
type blob struct {
	x0, y0, x1, y1 int
	id             int32
	area           int
	inside         int32  // the blob whose ground it lies on; 0 is the card's own
	rim            bool   // it touches what is around that blob: its softened edge
	ink            [3]int // its commonest strong colour, as a mean
	under          [3]int // the ground's colour beside it
	contrast       int    // greatest difference of a channel between the two
	sharp          bool   // its edge is a step, not a fade
	plain          bool   // it is of few colours
}

func (b *blob) w() int { return b.x1 - b.x0 }
func (b *blob) h() int { return b.y1 - b.y0 }

// mm turns pixels of the field into millimetres.
func (f *field) mmX(px int) float64 { return float64(px) * f.px / 1000 }
func (f *field) mmY(px int) float64 { return float64(px) * f.py / 1000 }

// Sizes that blobs are told apart by, mm.
const (
	zoneSide  = 6.0  // what is larger both ways may be ground for marks on it
	speckArea = 0.05 // mm²: grain that stands out by chance
	maxBlobs  = 1 << 15
	maxDepth  = 3 // panels on panels
)

// findBlobs labels what no ground reaches. Large ones are flooded from within
// in turn, and what is left in them are blobs on that panel.
func (f *field) findBlobs() []blob {
	f.floodFromOutside()
	blobs := []blob{{}} // ids count from 1
	blobs = f.labelIn(blobs, 0, rect{0, 0, f.w, f.h})
	from := 1
	for range maxDepth {
		to := len(blobs)
		for id := from; id < to; id++ {
			b := blobs[id]
			if b.rim || f.mmX(b.w()) < zoneSide || f.mmY(b.h()) < zoneSide {
				continue
			}
			f.floodPanel(&b)
			blobs = f.labelIn(blobs, b.id, rect{b.x0, b.y0, b.x1, b.y1})
		}
		from = to
	}
	return blobs
}

type rect struct{ x0, y0, x1, y1 int }

// floodPanel floods a blob from the pixels three within its rim.
func (f *field) floodPanel(b *blob) {
	const deep = 3
	in := func(x, y int) bool {
		return x >= b.x0 && x < b.x1 && y >= b.y0 && y < b.y1 && f.label[y*f.w+x] == b.id
	}
	for y := b.y0; y < b.y1; y++ {
		for x := b.x0; x < b.x1; x++ {
			if !in(x, y) || !in(x-deep, y) || !in(x+deep, y) || !in(x, y-deep) || !in(x, y+deep) {
				continue
			}
			if !in(x-deep-1, y) || !in(x+deep+1, y) || !in(x, y-deep-1) || !in(x, y+deep+1) {
				f.seed(y*f.w + x)
			}
		}
	}
	f.spread(b.id)
}

// labelIn labels the unreached pixels of a blob as blobs of their own.
func (f *field) labelIn(blobs []blob, inside int32, area rect) []blob {
	for y := area.y0; y < area.y1; y++ {
		for x := area.x0; x < area.x1; x++ {
			p := y*f.w + x
			if f.state[p] != unknown || f.label[p] != inside || len(blobs) >= maxBlobs {
				continue
			}
			blobs = append(blobs, f.fillBlob(p, int32(len(blobs)), inside))
		}
	}
	return blobs
}

func (f *field) isSpeck(b *blob) bool { return f.mmX(b.area)*f.mmY(1) < speckArea }

// isVast reports whether a blob spans most of the card both ways.
func (f *field) isVast(b *blob) bool {
	return f.mmX(b.w()) > mostShare*f.c.Trim.W.MM() && f.mmY(b.h()) > mostShare*f.c.Trim.H.MM()
}

// fillBlob labels the blob about pixel start, eight ways connected.
func (f *field) fillBlob(start int, id, inside int32) blob {
	b := blob{id: id, inside: inside, x0: f.w, y0: f.h}
	f.label[start] = id
	f.queue = append(f.queue[:0], int32(start))
	for at := 0; at < len(f.queue); at++ {
		p := int(f.queue[at])
		x, y := p%f.w, p/f.w
		b.x0, b.y0, b.x1, b.y1 = min(b.x0, x), min(b.y0, y), max(b.x1, x+1), max(b.y1, y+1)
		b.area++
		for ny := max(0, y-1); ny <= min(f.h-1, y+1); ny++ {
			for nx := max(0, x-1); nx <= min(f.w-1, x+1); nx++ {
				q := ny*f.w + nx
				switch {
				case f.label[q] == inside && f.state[q] == unknown:
					f.label[q] = id
					f.queue = append(f.queue, int32(q))
				case f.label[q] != inside && f.label[q] != id && inside != 0:
					b.rim = true
				}
			}
		}
	}
	if !b.rim && !f.isSpeck(&b) && !f.isVast(&b) { // what can be no mark need not be looked at
		f.feel(&b, f.queue)
	}
	f.queue = f.queue[:0]
	return b
}
