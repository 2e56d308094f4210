package gang

import (
	"context"
	"math"

	"stoneproof/checks/art"
	"stoneproof/rules"
)

// picture is a sheet that is pixels: its lightness over white paper.
type picture struct {
	w, h  int
	light []byte
	um    float64 // micrometres a pixel
	two   bool    // it has two levels: greys are a scatter of dots, which no two cards share
}

// pictureOf decodes a raster side, or says why not. Its size comes from its density,
// else from the sheet that is wanted.
func pictureOf(s *art.Side, want rules.Size) (p *picture, why string) {
	um := 0.0
	switch d := s.Header.Density; {
	case d.X > 0 && math.Abs(d.X-d.Y) < d.X/100:
		um = float64(rules.Inch) / d.X
	case want != rules.Size{}:
		um = float64(max(want.W, want.H)) / float64(max(s.Header.Width, s.Header.Height))
	default:
		return nil, "The picture does not tell how large it is printed: save it with its resolution, or name the sheet with --sheet."
	}
	px, err := s.Pixels()
	if err != nil {
		return nil, "The picture cannot be decoded: " + err.Error() + "."
	}
	return &picture{w: px.Width, h: px.Height, um: um, two: s.Header.Bits == 1, light: lightness(px.Pix)}, ""
}

// pictureOfPage draws a page, or says why not.
func pictureOfPage(ctx context.Context, s *art.Side) (p *picture, why string) {
	paint, err := s.Paint(ctx)
	if err != nil {
		return nil, "The page cannot be drawn: " + err.Error() + "."
	}
	return &picture{w: paint.W, h: paint.H, um: paint.PxW, light: lightness(paint.Pix)}, ""
}

// lightness of pixels over white paper. RGBA, 4 bytes a pixel.
func lightness(pix []byte) []byte {
	light := make([]byte, len(pix)/4)
	for i := range light {
		q := pix[4*i : 4*i+4]
		// Rec. 601 weights, in 256ths.
		v, a := (77*int(q[0])+150*int(q[1])+29*int(q[2]))>>8, int(q[3])
		light[i] = byte((v*a + 255*(255-a)) / 255)
	}
	return light
}

func (p *picture) size() rules.Size {
	return rules.Size{W: rules.Length(float64(p.w) * p.um), H: rules.Length(float64(p.h) * p.um)}
}

// facePixels finds the short thin lines of a picture.
func facePixels(number int, p *picture) *face {
	f := &face{number: number, size: p.size(), picture: p}
	f.marks = append(p.lines(true), p.lines(false)...)
	return f
}

// What counts as a line in a picture: darker than its surroundings by so much, on white
// as far around as a mark stands alone.
const (
	darker = 64
	alone  = 500 * rules.Micrometre
	white  = 224
)

// lines looks along every column, or row, for runs of a mark's length that are dark with
// white on both sides.
func (p *picture) lines(upright bool) []mark {
	across, along, stepAcross, stepAlong := p.w, p.h, 1, p.w
	if !upright {
		across, along, stepAcross, stepAlong = p.h, p.w, p.w, 1
	}
	clear := max(1, int(float64(alone)/p.um))
	thick := max(1, int(math.Ceil(float64(rules.Points(thickest))/p.um)))
	dark := func(a, l int) bool { return p.light[a*stepAcross+l*stepAlong] < white-darker }
	var found []mark
	for a := clear + thick; a < across-clear-thick && len(found) < mostMarks; a++ {
		for l := 0; l < along; l++ {
			from := l
			wide := 0
			for l < along && dark(a, l) && !dark(a-1, l) {
				n := p.thickness(a, l, stepAcross, stepAlong, thick, clear)
				if n == 0 || wide != 0 && n != wide {
					break
				}
				wide = n
				l++
			}
			long := rules.Length(float64(l-from) * p.um)
			if long >= shortest && long <= longest {
				middle := float64(a) + float64(wide)/2
				found = append(found, mark{upright, rules.Length(middle * p.um), rules.Length(float64(from) * p.um),
					rules.Length(float64(l) * p.um), rules.Length(float64(wide) * p.um).Points()})
			}
		}
	}
	return found
}

// thickness is how many pixels across a line is from its first one, if it is thin and
// stands on white.
func (p *picture) thickness(a, l, stepAcross, stepAlong, thick, clear int) int {
	at := func(i int) byte { return p.light[(a+i)*stepAcross+l*stepAlong] }
	n := 1
	for n <= thick && at(n) < white {
		n++
	}
	if n > thick {
		return 0
	}
	// One pixel on either side may be half covered.
	for i := 1; i < clear; i++ {
		if at(-1-i) < white || at(n+i) < white {
			return 0
		}
	}
	return n
}

// zone is a card with as much of its bleed as is painted: outwards from each edge as
// long as a quarter of the line is not white.
func (p *picture) zone(trim rules.Box, bleed rules.Length) rules.Box {
	px := func(l rules.Length) int { return int(math.Round(float64(l) / p.um)) }
	x0, y0, x1, y1 := px(trim.X), px(trim.Y), px(trim.Right()), px(trim.Bottom())
	most := px(bleed)
	reach := func(inked func(out, i int) bool, n int) rules.Length {
		out := 0
		for ; out < most; out++ {
			count := 0
			for i := range n {
				if inked(out, i) {
					count++
				}
			}
			if 4*count < n {
				break
			}
		}
		if out == most {
			return bleed
		}
		return rules.Length(float64(out) * p.um)
	}
	ink := func(x, y int) bool {
		return x >= 0 && y >= 0 && x < p.w && y < p.h && p.light[y*p.w+x] < bare
	}
	top := reach(func(out, i int) bool { return ink(x0+i, y0-1-out) }, x1-x0)
	low := reach(func(out, i int) bool { return ink(x0+i, y1+out) }, x1-x0)
	left := reach(func(out, i int) bool { return ink(x0-1-out, y0+i) }, y1-y0)
	right := reach(func(out, i int) bool { return ink(x1+out, y0+i) }, y1-y0)
	return rules.Box{X: trim.X - left, Y: trim.Y - top, W: trim.W + left + right, H: trim.H + top + low}
}

// bare paper is this light or lighter, as compression leaves it.
const bare = 250
