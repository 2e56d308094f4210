package pdf

import "math"

// charstring runs the outline program of one glyph and keeps only the box of the
// outline: Type 2 (Adobe Technical Note 5177) or Type 1 (Adobe Type 1 Font Format,
// chapter 6). It has a budget, since subroutines that call each other can ask for
// any amount of work.
type charstring struct {
	local, global [][]byte
	type1         bool
	seac          func(code int) []byte // Type 1: charstring of a StandardEncoding code

	stack  []float64
	post   []float64 // Type 1: the PostScript stack of OtherSubrs
	at     Point
	box    Rect
	stems  int
	steps  *int // left for the whole font
	depth  int
	flex   []Point // Type 1: points of a flex being gathered
	before Point   // where that flex began
	inFlex bool
	done   bool
	failed bool
}

const (
	// charstringSteps is for all glyphs of one font. A glyph takes some hundred; a
	// text of ten thousand different ones stays within it.
	charstringSteps = 5_000_000
	charstringDepth = 10 // both formats allow as much
	charstringStack = 513
)

// bounds gives the outline's box in font units; ok is false if the program fails.
// A glyph without outline, such as a space, has an Empty box.
func (c *charstring) bounds(code []byte) (box Rect, ok bool) {
	c.box = nowhere()
	c.run(code)
	return c.box, !c.failed
}

func (c *charstring) fail() { c.failed, c.done = true, true }

func (c *charstring) run(code []byte) {
	if c.depth++; c.depth > charstringDepth {
		c.fail()
	}
	defer func() { c.depth-- }()
	for i := 0; i < len(code) && !c.done; {
		if *c.steps--; *c.steps < 0 {
			c.fail()
			return
		}
		b := code[i]
		if n, size := c.operand(code[i:]); size > 0 {
			if len(c.stack) >= charstringStack {
				c.fail()
				return
			}
			c.stack = append(c.stack, n)
			i += size
			continue
		}
		i++
		switch {
		case b == 11: // return
			return
		case b == 12:
			if i < len(code) {
				c.escape(code[i])
			}
			i++
		case !c.type1 && (b == 19 || b == 20): // hintmask, cntrmask: a bit for each stem
			c.hints()
			i += (c.stems + 7) / 8
		default:
			c.operator(b)
		}
	}
}

// operand reads a number; size is 0 if there is none.
func (c *charstring) operand(s []byte) (v float64, size int) {
	b := s[0]
	switch {
	case b >= 32 && b <= 246:
		return float64(int(b) - 139), 1
	case b >= 247 && b <= 250 && len(s) > 1:
		return float64((int(b)-247)*256 + int(s[1]) + 108), 2
	case b >= 251 && b <= 254 && len(s) > 1:
		return float64(-(int(b)-251)*256 - int(s[1]) - 108), 2
	case b == 28 && !c.type1 && len(s) > 2:
		return float64(int16(uint16(s[1])<<8 | uint16(s[2]))), 3
	case b == 255 && len(s) > 4:
		n := int32(uint32(s[1])<<24 | uint32(s[2])<<16 | uint32(s[3])<<8 | uint32(s[4]))
		if c.type1 {
			return float64(n), 5
		}
		return float64(n) / 65536, 5
	}
	return 0, 0
}

func (c *charstring) operator(b byte) {
	switch b {
	case 1, 3, 18, 23: // hstem, vstem, hstemhm, vstemhm
		c.hints()
	case 4, 21, 22: // vmoveto, rmoveto, hmoveto
		c.moveTo(b)
	case 5: // rlineto
		for i := 0; i+1 < len(c.stack); i += 2 {
			c.line(c.stack[i], c.stack[i+1])
		}
	case 6, 7: // hlineto, vlineto: the two alternate
		for i, v := range c.stack {
			if (i%2 == 0) == (b == 6) {
				c.line(v, 0)
			} else {
				c.line(0, v)
			}
		}
	case 8, 24, 25: // rrcurveto, rcurveline, rlinecurve
		c.mixed(b)
	case 9: // closepath, Type 1 only
	case 10:
		c.call(c.local)
		return
	case 13: // hsbw, Type 1 only: the start point is the side bearing
		if c.type1 && len(c.stack) >= 1 {
			c.at = Point{c.at.X + c.stack[0], c.at.Y}
		}
	case 14: // endchar
		c.endChar()
	case 26, 27, 30, 31: // vvcurveto, hhcurveto, vhcurveto, hvcurveto
		c.curves(b)
	case 29:
		c.call(c.global)
		return
	}
	c.stack = c.stack[:0]
}

func (c *charstring) hints() {
	c.stems += len(c.stack) / 2
	c.stack = c.stack[:0]
}

func (c *charstring) moveTo(b byte) {
	// The last numbers count; a width may stand before them in Type 2.
	n := len(c.stack)
	switch {
	case b == 21 && n >= 2:
		c.at = Point{c.at.X + c.stack[n-2], c.at.Y + c.stack[n-1]}
	case b == 22 && n >= 1:
		c.at.X += c.stack[n-1]
	case b == 4 && n >= 1:
		c.at.Y += c.stack[n-1]
	}
	if c.inFlex {
		c.flex = append(c.flex, c.at)
	}
}

func (c *charstring) line(dx, dy float64) {
	c.box.add(c.at)
	c.at = Point{c.at.X + dx, c.at.Y + dy}
	c.box.add(c.at)
}

func (c *charstring) curve(v [6]float64) {
	a := c.at
	p := Point{a.X + v[0], a.Y + v[1]}
	q := Point{p.X + v[2], p.Y + v[3]}
	c.at = Point{q.X + v[4], q.Y + v[5]}
	c.box = c.box.Union(curveBounds(a, p, q, c.at))
}

// mixed is a row of curves with one line after (24) or lines before (25) it.
func (c *charstring) mixed(b byte) {
	s := c.stack
	if b == 25 {
		for ; len(s) >= 8; s = s[2:] {
			c.line(s[0], s[1])
		}
	}
	for ; len(s) >= 6; s = s[6:] {
		c.curve([6]float64(s[:6]))
	}
	if b == 24 && len(s) >= 2 {
		c.line(s[0], s[1])
	}
}

// curves are the forms whose tangents at one or both ends lie along an axis.
func (c *charstring) curves(b byte) {
	s := c.stack
	if b == 26 || b == 27 {
		extra := 0.0
		if len(s)%4 == 1 {
			extra, s = s[0], s[1:]
		}
		for ; len(s) >= 4; s = s[4:] {
			if b == 27 {
				c.curve([6]float64{s[0], extra, s[1], s[2], s[3], 0})
			} else {
				c.curve([6]float64{extra, s[0], s[1], s[2], 0, s[3]})
			}
			extra = 0
		}
		return
	}
	for flat := b == 31; len(s) >= 4; s, flat = s[4:], !flat {
		last := 0.0
		if len(s) == 5 {
			last = s[4]
		}
		if flat {
			c.curve([6]float64{s[0], 0, s[1], s[2], last, s[3]})
		} else {
			c.curve([6]float64{0, s[0], s[1], s[2], s[3], last})
		}
	}
}

func (c *charstring) call(subrs [][]byte) {
	n := len(c.stack)
	if n == 0 {
		c.fail()
		return
	}
	i := int(c.stack[n-1])
	c.stack = c.stack[:n-1]
	if !c.type1 { // the bias of Technical Note 5176, section 16
		switch {
		case len(subrs) < 1240:
			i += 107
		case len(subrs) < 33900:
			i += 1131
		default:
			i += 32768
		}
	}
	if i < 0 || i >= len(subrs) {
		c.fail()
		return
	}
	c.run(subrs[i])
}

// endChar ends the glyph; with four numbers it is an accented character built of
// two others, which only old Type 2 fonts do.
func (c *charstring) endChar() {
	if n := len(c.stack); !c.type1 && n >= 4 && c.seac != nil {
		c.accented(0, c.stack[n-4], c.stack[n-3], c.stack[n-2], c.stack[n-1])
	}
	c.done = true
}

// accented draws the base and the accent, moved, into the same box.
func (c *charstring) accented(bearing, dx, dy, base, accent float64) {
	seac := c.seac
	if seac == nil {
		c.fail()
		return
	}
	c.seac = nil // the parts are plain glyphs
	move := Point{dx - bearing, dy}
	for _, part := range []struct {
		code float64
		at   Point
	}{{base, Point{}}, {accent, move}} {
		c.stack, c.at, c.stems, c.done = c.stack[:0], part.at, 0, false
		c.run(seac(int(part.code)))
	}
	c.done = true
}

func (c *charstring) escape(b byte) {
	s := c.stack
	switch {
	case c.type1:
		c.escapeType1(b)
		return
	case b == 34 && len(s) >= 7: // hflex
		c.curve([6]float64{s[0], 0, s[1], s[2], s[3], 0})
		c.curve([6]float64{s[4], 0, s[5], -s[2], s[6], 0})
	case b == 35 && len(s) >= 12: // flex
		c.curve([6]float64(s[:6]))
		c.curve([6]float64(s[6:12]))
	case b == 36 && len(s) >= 9: // hflex1
		c.curve([6]float64{s[0], s[1], s[2], s[3], s[4], 0})
		c.curve([6]float64{s[5], 0, s[6], s[7], s[8], -(s[1] + s[3] + s[7])})
	case b == 37 && len(s) >= 11: // flex1
		dx, dy := s[0]+s[2]+s[4]+s[6]+s[8], s[1]+s[3]+s[5]+s[7]+s[9]
		c.curve([6]float64(s[:6]))
		if math.Abs(dx) > math.Abs(dy) {
			c.curve([6]float64{s[6], s[7], s[8], s[9], s[10], -dy})
		} else {
			c.curve([6]float64{s[6], s[7], s[8], s[9], -dx, s[10]})
		}
	default:
		c.fail() // arithmetic is allowed but no writer uses it
		return
	}
	c.stack = c.stack[:0]
}
