package brink

// feel takes the look of a blob from its pixels: what it is made of, what it
// lies on, and whether it is drawn or grown.
func (f *field) feel(b *blob, pixels []int32) {
	b.under = f.groundBeside(b, pixels)
	var levels [256]int
	for _, p := range pixels {
		levels[f.apart(int(p), b.under)]++
	}
	b.contrast = percentile(levels[:], len(pixels), 0.8)
	b.ink = f.strongColour(b, pixels)
	b.rim = b.rim || f.betweenGrounds(b, pixels)
	b.sharp = f.isSharp(b, pixels)
	b.plain = f.isTwoTone(b, pixels) || f.isPlain(b, pixels)
}

// apart is the greatest difference of a channel between a pixel and a colour.
func (f *field) apart(p int, c [3]int) int {
	d := 0
	for ch := range 3 {
		v := int(f.rgb[3*p+ch]) - c[ch]
		d = max(d, v, -v)
	}
	return d
}

// beside calls visit for every step from a blob's pixel p onto the ground that
// it lies on, with the neighbour q.
func (f *field) beside(b *blob, pixels []int32, visit func(p, q int)) {
	for _, p32 := range pixels {
		p := int(p32)
		x, y := p%f.w, p/f.w
		if x > 0 && f.onGround(b, p-1) {
			visit(p, p-1)
		}
		if x+1 < f.w && f.onGround(b, p+1) {
			visit(p, p+1)
		}
		if y > 0 && f.onGround(b, p-f.w) {
			visit(p, p-f.w)
		}
		if y+1 < f.h && f.onGround(b, p+f.w) {
			visit(p, p+f.w)
		}
	}
}

func (f *field) onGround(b *blob, p int) bool {
	return f.state[p] == ground && f.label[p] == b.inside
}

func (f *field) groundBeside(b *blob, pixels []int32) [3]int {
	var sum [3]int
	n := 0
	f.beside(b, pixels, func(_, q int) {
		for ch := range 3 {
			sum[ch] += int(f.ref[3*q+ch])
		}
		n++
	})
	if n == 0 {
		return [3]int{255, 255, 255}
	}
	for ch := range sum {
		sum[ch] /= 16 * n
	}
	return sum
}

// betweenGrounds reports whether the ground beside the blob is of more than one
// colour, and the blob's own lies between them: it is then the smeared border of
// two grounds. A letter that stands across the border is darker or lighter than
// both.
func (f *field) betweenGrounds(b *blob, pixels []int32) bool {
	off, n := 0, 0
	darkest, lightest := 255, 0
	f.beside(b, pixels, func(_, q int) {
		var c [3]int
		for ch := range c {
			c[ch] = int(f.ref[3*q+ch]) / 16
			d := c[ch] - b.under[ch]
			off += max(d, -d)
		}
		darkest, lightest = min(darkest, lightness(c)), max(lightest, lightness(c))
		n++
	})
	own := lightness(b.ink)
	return off > 2*n*f.tol && own > darkest-f.tol && own < lightest+f.tol
}

// lightness weighs the channels about as the eye does.
func lightness(c [3]int) int { return (2*c[0] + 5*c[1] + c[2]) / 8 }

// strongColour is the mean of the pixels that stand out most.
func (f *field) strongColour(b *blob, pixels []int32) [3]int {
	var sum [3]int
	n := 0
	for _, p := range pixels {
		if 10*f.apart(int(p), b.under) >= 8*b.contrast {
			for ch := range 3 {
				sum[ch] += int(f.rgb[3*int(p)+ch])
			}
			n++
		}
	}
	for ch := range sum {
		sum[ch] /= max(1, n)
	}
	return sum
}

// isSharp reports whether a step over the edge, from the pixel within to the
// pixel beyond, makes up most of the contrast. A shadow's or a cloud's does not.
func (f *field) isSharp(b *blob, pixels []int32) bool {
	sum, n := 0, 0
	f.beside(b, pixels, func(p, q int) {
		inner, outer := p-(q-p), q+(q-p)
		if inner < 0 || inner >= len(f.label) || f.label[inner] != b.id {
			inner = p
		}
		if outer < 0 || outer >= len(f.label) || f.state[outer] != ground {
			outer = q
		}
		sum += f.differ(inner, outer)
		n++
	})
	return n > 0 && 100*sum > 60*n*b.contrast
}

// isTwoTone reports whether most pixels are either the blob's ink or the ground
// that shows through it: a code, a cut-out.
func (f *field) isTwoTone(b *blob, pixels []int32) bool {
	n := 0
	for _, p := range pixels {
		if f.apart(int(p), b.ink) <= f.tol || f.apart(int(p), b.under) <= f.tol {
			n++
		}
	}
	return 4*n >= 3*len(pixels)
}

// isPlain reports whether the blob's even pixels are of few colours, as drawn
// shapes are. What has hardly any even pixels is strokes.
func (f *field) isPlain(b *blob, pixels []int32) bool {
	const colours, level, alike, few = 4, 12, 16, 12
	var seen [colours][3]int
	known, even, matched := 0, 0, 0
	for _, p32 := range pixels {
		p := int(p32)
		if !f.isInner(b, p) || f.differ(p, p+1) > level || f.differ(p, p+f.w) > level {
			continue
		}
		even++
		k := 0
		for k < known && f.apart(p, seen[k]) > alike {
			k++
		}
		if k < known {
			matched++
		} else if known < colours {
			seen[known] = [3]int{int(f.rgb[3*p]), int(f.rgb[3*p+1]), int(f.rgb[3*p+2])}
			known++
			matched++
		}
	}
	return even < few || 4*matched >= 3*even
}

func (f *field) isInner(b *blob, p int) bool {
	x, y := p%f.w, p/f.w
	return x > 0 && x+1 < f.w && y > 0 && y+1 < f.h &&
		f.label[p-1] == b.id && f.label[p+1] == b.id && f.label[p-f.w] == b.id && f.label[p+f.w] == b.id
}
