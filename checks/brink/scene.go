package brink

// scene is a card's marks, and what speaks for or against them.
type scene struct {
	f      *field
	inside []int32 // for each blob the one whose ground it lies on
	marks  []blob
	// strays are blobs that the knife cuts or that lie beyond it: if a mark
	// has its like among them, both are parts of a pattern.
	strays []blob
	shapes []group // the groups of marks that are no lettering
	jumps  []point // where the colour jumps along the canvas's edge, field pixels
	// restless: so much runs off the card that one more shape cut or near the
	// trim is most likely a part of it.
	restless bool
}

type point struct{ x, y int }

// mostMarks is how many marks a card may have; one with more is a texture. A
// postcard set full of small print has some three thousand letters.
const mostMarks = 6000

// Sizes of marks, mm, and shares of the card.
const (
	mostCut     = 15.0 // a shape that the trim cuts, and larger than this, runs off by design
	mostShare   = 0.6  // a shape inside that spans more of the card is a panel or a frame
	lineAspect  = 12   // what is longer beside its width is a line or a bar
	lineWidth   = 1.0
	leastMark   = 1.4
	leastCut    = 2.0
	leastBeside = 4.0
)

func newScene(f *field) *scene {
	s := &scene{f: f}
	for _, b := range f.findBlobs() {
		s.inside = append(s.inside, b.inside)
		if b.rim || f.isSpeck(&b) || b.contrast < f.tol {
			continue
		}
		if f.isCut(&b) {
			s.strays = append(s.strays, b)
		}
		if !f.runsOut(&b) && !f.isLine(&b) && f.isMarkSize(&b) {
			s.marks = append(s.marks, b)
		}
	}
	if len(s.marks) > mostMarks {
		s.marks = nil
	}
	s.findJumps()
	around := 2 * (f.mmX(f.w) + f.mmY(f.h))
	s.restless = float64(len(s.jumps)) > 0.06*around
	return s
}

// runsOut reports whether a blob comes so near to the canvas's edge that it
// goes on beyond.
func (f *field) runsOut(b *blob) bool {
	const rim = 2
	return b.x0 < rim || b.y0 < rim || b.x1 > f.w-rim || b.y1 > f.h-rim
}

// isCut reports whether any of the blob lies beyond the trim.
func (f *field) isCut(b *blob) bool {
	_, d := nearest(f.boxOf(b.x0, b.y0, b.x1, b.y1), f.c.Trim)
	return d < 0
}

func (f *field) isLine(b *blob) bool {
	long, short := f.mmX(b.w()), f.mmY(b.h())
	if short > long {
		long, short = short, long
	}
	return short < lineWidth && long > lineAspect*short
}

func (f *field) isMarkSize(b *blob) bool {
	w, h := f.mmX(b.w()), f.mmY(b.h())
	if f.isCut(b) {
		return max(w, h) <= mostCut
	}
	return w <= mostShare*f.c.Trim.W.MM() && h <= mostShare*f.c.Trim.H.MM()
}

// findJumps walks along the canvas's edge, a pixel within, and notes where the
// colour changes by more than the tolerance.
func (s *scene) findJumps() {
	f := s.f
	walk := func(n int, at func(i int) (x, y int)) {
		const stride = 3
		for i := 0; i+stride < n; i++ {
			x, y := at(i)
			xx, yy := at(i + stride)
			if f.differ(y*f.w+x, yy*f.w+xx) > f.tol {
				s.jumps = append(s.jumps, point{x, y})
				i += stride
			}
		}
	}
	walk(f.w, func(i int) (int, int) { return i, 1 })
	walk(f.w, func(i int) (int, int) { return i, f.h - 2 })
	walk(f.h, func(i int) (int, int) { return 1, i })
	walk(f.h, func(i int) (int, int) { return f.w - 2, i })
}

// mustSurvive decides whether a group of marks is something that must survive,
// and whether that is sure.
func (s *scene) mustSurvive(g *group) (sure, ok bool) {
	if !g.most(func(b *blob) bool { return b.sharp }) {
		return false, false
	}
	if !g.lettering && !g.most(func(b *blob) bool { return b.plain }) {
		return false, false
	}
	if s.isPattern(g) || s.isScrawl(g) || s.isSpatter(g) {
		return false, false
	}
	near := s.around(g)
	crowd, unrest, busy := near.crowd, near.unrest, s.edgeUnrest(g)
	if g.lettering {
		const word = 5 // fewer letters are told from a photograph's details only on calm ground
		typeset := g.isTypeset() && (len(g.blobs) >= word || unrest < 6)
		if !typeset && s.breaksOff(g) {
			return false, false
		}
		calm := crowd < 0.05 && unrest < 6 && busy < 0.15
		return calm && (typeset || !s.restless), calm || typeset && crowd < 0.4
	}
	sure = crowd < 0.03 && unrest < 6 && busy < 0.05
	if s.restless || !s.isNotable(g, near) {
		return false, false
	}
	return sure, crowd < 0.1 && unrest < 10 && busy < 0.1
}

// isNotable reports whether the group is large enough to be more than a chance
// spot. One that is cut may be the end of something else, and one beside more
// of its own colour a splash of it: they must be larger.
func (s *scene) isNotable(g *group, near surroundings) bool {
	size := max(s.f.mmX(g.w()), s.f.mmY(g.h()))
	least := leastMark
	if _, distance := nearest(s.f.box(g), s.f.c.Trim); distance < 0 {
		least = leastCut
	}
	if !g.most(func(b *blob) bool { return b.contrast >= leastContrast }) {
		return false
	}
	if near.alike > 0.02 || s.isSplash(g) {
		least = leastBeside
	}
	return size >= least
}

// isScrawl reports whether the group is thin strokes all over the card: cracks,
// scratches, contours.
func (s *scene) isScrawl(g *group) bool {
	const thin = 0.1 // share of the box that is ink
	f := s.f
	wide := f.mmX(g.w()) > mostShare*f.c.Trim.W.MM() || f.mmY(g.h()) > mostShare*f.c.Trim.H.MM()
	ink := 0
	for k := range g.blobs {
		ink += g.blobs[k].area
	}
	return !g.lettering && wide && float64(ink) < thin*float64(g.w()*g.h())
}

// breaksOff reports whether the group may be a piece of a scrawl: there is one in
// its ink.
func (s *scene) breaksOff(g *group) bool {
	for k := range s.shapes {
		if o := &s.shapes[k]; s.isScrawl(o) && akinShade(&o.blobs[0], &g.blobs[0]) {
			return true
		}
	}
	return false
}

// isSplash reports whether about the group there is ground of many shades of
// its colour: a wash, of which the group may be a drop.
func (s *scene) isSplash(g *group) bool {
	const reach, shades = 8, 8 // mm; levels
	f := s.f
	mx, my := roundInt(reach*1000/f.px), roundInt(reach*1000/f.py)
	var n, sum, squares, all float64
	for y := max(0, g.y0-my); y < min(f.h, g.y1+my); y++ {
		for x := max(0, g.x0-mx); x < min(f.w, g.x1+mx); x++ {
			p := y*f.w + x
			all++
			if f.state[p] == ground && f.apart(p, g.blobs[0].ink) < akinColour {
				v := float64(f.rgb[3*p+1])
				n, sum, squares = n+1, sum+v, squares+v*v
			}
		}
	}
	return n > all/20 && squares/n-sum/n*sum/n > shades*shades
}

// most reports whether is holds for most of the group's area.
func (g *group) most(is func(b *blob) bool) bool {
	yes, all := 0, 0
	for k := range g.blobs {
		all += g.blobs[k].area
		if is(&g.blobs[k]) {
			yes += g.blobs[k].area
		}
	}
	return 2*yes > all
}

// surroundings are what lies within 2 mm of a group.
type surroundings struct {
	crowd  float64 // share of other marks
	alike  float64 // share of the group's own colour
	unrest float64 // how far the ground is from smooth, in levels
}

// withAllInside tells for each blob whether it is of the group or lies in one
// that is, however deep.
func (s *scene) withAllInside(g *group) []bool {
	own := make([]bool, len(s.inside))
	for _, b := range g.blobs {
		own[b.id] = true
	}
	for id, inside := range s.inside { // what is inside is labelled later
		own[id] = own[id] || own[inside]
	}
	return own
}

func (s *scene) around(g *group) surroundings {
	f := s.f
	own := s.withAllInside(g)
	mx, my := roundInt(2000/f.px), roundInt(2000/f.py)
	others, grounds, alike, off := 0, 0, 0, 0
	for y := max(0, g.y0-my); y < min(f.h, g.y1+my); y++ {
		for x := max(0, g.x0-mx); x < min(f.w, g.x1+mx); x++ {
			p := y*f.w + x
			id := f.label[p]
			if own[id] {
				continue
			}
			if f.apart(p, g.blobs[0].ink) < akinColour {
				alike++
			}
			if f.state[p] != ground {
				others++
				continue
			}
			grounds++
			off += f.apart(p, [3]int{int(f.ref[3*p]) / 16, int(f.ref[3*p+1]) / 16, int(f.ref[3*p+2]) / 16})
		}
	}
	all := float64(max(1, others+grounds))
	return surroundings{crowd: float64(others) / all, alike: float64(alike) / all,
		unrest: float64(off) / float64(max(1, grounds))}
}

// edgeUnrest is how many times a millimetre the colour jumps along the parts
// of the canvas's edge that are near the group.
func (s *scene) edgeUnrest(g *group) float64 {
	const reach = 8 // mm
	f := s.f
	mx, my := roundInt(reach*1000/f.px), roundInt(reach*1000/f.py)
	n := 0
	for _, p := range s.jumps {
		if p.x >= g.x0-mx && p.x < g.x1+mx && p.y >= g.y0-my && p.y < g.y1+my {
			n++
		}
	}
	return float64(n) / (max(f.mmX(g.w()), f.mmY(g.h())) + 2*reach)
}
