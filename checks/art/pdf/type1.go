package pdf

import (
	"bytes"

	"stoneproof/checks/art/pdf/syntax"
)

// type1 reads what we need of a Type 1 font program (Adobe Type 1 Font Format):
// the outlines by name and the font's own encoding.
type type1 struct {
	charstrings map[string][]byte
	subrs       [][]byte
	encoding    [256]string
	scale       float64
	steps       int // left to run charstrings for
}

// Keys of the two encryptions (section 7.1, 7.3).
const (
	eexecKey      = 55665
	charstringKey = 4330
)

func newType1(b []byte) *type1 {
	b = unwrapPFB(b)
	i := bytes.Index(b, []byte("eexec"))
	if i < 0 {
		return nil
	}
	f := &type1{charstrings: map[string][]byte{}, scale: 0.001, steps: charstringSteps}
	f.readClear(b[:i])
	f.readPrivate(openEexec(b[i+len("eexec"):]))
	if len(f.charstrings) == 0 {
		return nil
	}
	return f
}

// unwrapPFB takes the headers out of a font that was embedded as a PFB file.
func unwrapPFB(b []byte) []byte {
	if len(b) < 6 || b[0] != 128 {
		return b
	}
	var out []byte
	for len(b) >= 6 && b[0] == 128 && b[1] != 3 {
		n := int(b[2]) | int(b[3])<<8 | int(b[4])<<16 | int(b[5])<<24
		b = b[6:]
		n = max(0, min(n, len(b)))
		out, b = append(out, b[:n]...), b[n:]
	}
	return out
}

// readClear reads the part that is not encrypted: the matrix and the encoding.
func (f *type1) readClear(b []byte) {
	if _, after, ok := bytes.Cut(b, []byte("/FontMatrix")); ok {
		l := syntax.Lexer{B: after}
		l.Next()
		if t := l.Next(); t.Kind == syntax.Number && t.Num > 0 {
			f.scale = t.Num
		}
	}
	_, after, ok := bytes.Cut(b, []byte("/Encoding"))
	if !ok {
		return
	}
	l := syntax.Lexer{B: after}
	if t := l.Next(); string(t.Raw) == "StandardEncoding" {
		f.encoding = *codeNames("StandardEncoding")
		return
	}
	for t := l.Next(); t.Kind != syntax.End && string(t.Raw) != "def" && string(t.Raw) != "readonly"; t = l.Next() {
		if string(t.Raw) != "dup" {
			continue
		}
		at, name := l.Next(), l.Next()
		if c := int(at.Num); at.Kind == syntax.Number && name.Kind == syntax.Name && c >= 0 && c < 256 {
			f.encoding[c] = string(name.Raw)
		}
	}
}

// openEexec decrypts the private part, which is binary or hexadecimal.
func openEexec(b []byte) []byte {
	for len(b) > 0 && syntax.IsWhite(b[0]) {
		b = b[1:]
	}
	hex := len(b) >= 4
	for _, c := range b[:min(4, len(b))] {
		_, digit := syntax.HexDigit(c)
		hex = hex && digit
	}
	if hex {
		b = syntax.Unhex(nil, b)
	}
	return decrypt(b, eexecKey, 4)
}

func decrypt(b []byte, key uint16, skip int) []byte {
	const c1, c2 = 52845, 22719
	out := make([]byte, len(b))
	for i, c := range b {
		out[i] = c ^ byte(key>>8)
		key = (uint16(c)+key)*c1 + c2
	}
	return out[min(skip, len(out)):]
}

// readPrivate finds the subroutines and charstrings: "dup 3 12 RD …" and
// "/name 34 RD …", each with so many bytes after RD and a space.
func (f *type1) readPrivate(b []byte) {
	skip := 4
	if _, after, ok := bytes.Cut(b, []byte("/lenIV")); ok {
		l := syntax.Lexer{B: after}
		skip = int(l.Next().Num)
	}
	l := syntax.Lexer{B: b}
	inChars := false
	var a, p syntax.Token // the two tokens before the present one
	for t := l.Next(); t.Kind != syntax.End; t = l.Next() {
		switch {
		case t.Kind == syntax.Name && string(t.Raw) == "CharStrings":
			inChars = true
		case (string(t.Raw) == "RD" || string(t.Raw) == "-|") && p.Kind == syntax.Number:
			n := int(p.Num)
			if n < 0 || n > len(b)-l.P-1 {
				return
			}
			code := b[l.P+1 : l.P+1+n]
			l.P += 1 + n
			if skip >= 0 {
				code = decrypt(code, charstringKey, skip)
			}
			f.keep(a, code, inChars)
		}
		a, p = p, t
	}
}

func (f *type1) keep(label syntax.Token, code []byte, char bool) {
	const most = 65536
	switch i := int(label.Num); {
	case char && label.Kind == syntax.Name && len(f.charstrings) < most:
		f.charstrings[string(label.Raw)] = code
	case !char && label.Kind == syntax.Number && i >= 0 && i < most:
		for len(f.subrs) <= i {
			f.subrs = append(f.subrs, nil)
		}
		f.subrs[i] = code
	}
}

func (f *type1) ink(glyph int) (Rect, bool) { return f.inkOf(f.encoding[glyph&255]) }

func (f *type1) inkOf(name string) (Rect, bool) {
	code, ok := f.charstrings[name]
	if !ok {
		return Rect{}, false
	}
	c := charstring{type1: true, local: f.subrs, steps: &f.steps, seac: func(code int) []byte {
		return f.charstrings[latin.list[standardSID(code)]]
	}}
	r, ok := c.bounds(code)
	return Rect{r.X0 * f.scale, r.Y0 * f.scale, r.X1 * f.scale, r.Y1 * f.scale}, ok
}

// escapeType1 runs the two-byte operators of Type 1 (section 6.4).
func (c *charstring) escapeType1(b byte) {
	s := c.stack
	n := len(s)
	switch {
	case b == 6 && n >= 5: // seac
		c.accented(s[0], s[1], s[2], s[3], s[4])
	case b == 7 && n >= 2: // sbw
		c.at = Point{c.at.X + s[0], c.at.Y + s[1]}
	case b == 12 && n >= 2: // div
		if s[n-1] == 0 {
			c.fail()
			return
		}
		c.stack = append(s[:n-2], s[n-2]/s[n-1])
		return
	case b == 16 && n >= 2:
		c.otherSubr()
		return
	case b == 17: // pop
		v := 0.0
		if k := len(c.post); k > 0 {
			v, c.post = c.post[k-1], c.post[:k-1]
		}
		c.stack = append(s, v)
		return
	case b == 33 && n >= 2: // setcurrentpoint
		c.at = Point{s[0], s[1]}
	}
	c.stack = c.stack[:0]
}

// otherSubr does the flex of section 8.3 and hands everything else its own
// arguments back, which is right for hint replacement.
func (c *charstring) otherSubr() {
	n := len(c.stack)
	which, count := int(c.stack[n-1]), int(c.stack[n-2])
	if count < 0 || count > n-2 {
		c.fail()
		return
	}
	args := c.stack[n-2-count : n-2]
	c.post = c.post[:0]
	switch {
	case which == 1:
		c.inFlex, c.flex, c.before = true, c.flex[:0], c.at
	case which == 2 && c.inFlex: // the point is taken by the moveto before it
	case which == 0 && len(c.flex) >= 7:
		p := c.flex
		c.box = c.box.Union(curveBounds(c.before, p[1], p[2], p[3])).Union(curveBounds(p[3], p[4], p[5], p[6]))
		c.at, c.inFlex = p[6], false
		c.post = append(c.post, p[6].Y, p[6].X)
	default:
		for i := len(args) - 1; i >= 0; i-- {
			c.post = append(c.post, args[i])
		}
	}
	c.stack = c.stack[:n-2-count]
}
