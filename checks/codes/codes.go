package codes

import "math"

// Suspect is a place where three finder patterns lie as those of a code.
type Suspect struct {
	X0, Y0, X1, Y1 float64 // micrometres; with room for the quiet zone and more
	Module         float64 // about, micrometres
}

// Code is a QR code in a picture.
type Code struct {
	Corners  [4]Point // the symbol's own top left, top right, bottom right, bottom left
	Modules  int      // on a side
	Module   float64  // micrometres
	Reversed bool     // light on dark
	Mirrored bool     // left for right

	// Readable tells that it reads as printed. Text and Level may be known all the
	// same where it does not: then it reads in the art alone.
	Readable bool
	Text     string
	Level    string // of error correction: L, M, Q or H

	// Quiet is how many modules are bare beyond each side, from 0 to QuietSeen, in the
	// order of the corners: the first lies between the first two.
	Quiet [4]float64
	// Contrast is how much more light the light modules give back than the dark ones,
	// in linear light, of 1: the symbol contrast of ISO/IEC 15415, with the medians in
	// the place of the extremes (from memory).
	Contrast float64
}

// QuietSeen is how far out the quiet zone is followed, modules.
const QuietSeen = 6

// surePixels is the size of a module from which on its timing pattern is plain to see.
const surePixels = 3

// Suspects finds where codes may be. It is quick and takes too much rather than too
// little: small modules need no more than 1.5 pixels. The likeliest come first.
func Suspects(p Plane) []Suspect {
	if !p.sound() {
		return nil
	}
	var out []Suspect
	for _, f := range p.frames(p.finders()) {
		if f.module >= surePixels*max(p.PxW, p.PxH) {
			if _, ok := p.timed(f, plain()); !ok {
				continue
			}
		}
		b := f.around(QuietSeen + 2).cut(&p)
		out = append(out, Suspect{b.x0, b.y0, b.x1, b.y1, f.module})
	}
	return out
}

// Read finds the codes in a picture of what press and paper make of the art, and
// reads them as a printer with dots of so many micrometres prints them.
func Read(p Plane, dot float64) []Code {
	if !p.sound() || !(dot > 0) || math.IsInf(dot, 1) {
		return nil
	}
	var out []Code
	for _, f := range p.frames(p.finders()) {
		if c, ok := p.code(f, dot); ok && !overlaps(out, c) {
			out = append(out, c)
		}
	}
	return out
}

// overlaps reports whether the middle of a code lies in one that is known: it is the
// same, seen by other patterns.
func overlaps(known []Code, c Code) bool {
	at := middle(c.Corners)
	for _, k := range known {
		m := middle(k.Corners)
		if math.Hypot(m.X-at.X, m.Y-at.Y) < k.Module*float64(k.Modules)/2 {
			return true
		}
	}
	return false
}

func middle(c [4]Point) Point { return Point{(c[0].X + c[2].X) / 2, (c[0].Y + c[2].Y) / 2} }

// code measures what a frame holds, if it is a code.
func (p *Plane) code(f frame, dot float64) (Code, bool) {
	f, timed := p.timed(f, plain())
	printed, g := p.asPrinted(&f, dot)
	m, read := printed.read(&g)
	if !read {
		if m, read = p.text(&f); !read && !timed {
			return Code{}, false
		}
	}
	if m.modules > 0 && m.modules != f.modules {
		f, g = f.resized(m.modules), g.resized(m.modules)
	}
	c := Code{
		Corners: f.corners(), Modules: f.modules, Module: f.arm / float64(f.modules-7), Reversed: !f.dark,
		Mirrored: m.mirrored, Readable: m.printed, Text: m.text, Level: m.level,
	}
	c.Contrast = p.contrast(&f)
	c.Quiet = p.quiet(&f)
	return c, true
}

// asPrinted is the picture of a symbol as printed, and the frame in it. A dot is
// never larger than asked for unless the symbol is so large that it needs no such
// detail.
func (p *Plane) asPrinted(f *frame, dot float64) (Plane, frame) {
	part := f.around(QuietSeen).cut(p)
	dot = max(dot, f.module/12, max(part.x1-part.x0, part.y1-part.y0)/float64(limits().side))
	g := *f
	g.origin = Point{f.origin.X - part.x0, f.origin.Y - part.y0}
	return p.printed(part, dot), g
}
