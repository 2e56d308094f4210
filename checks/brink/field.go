package brink

// field is a side at the resolution that marks are looked for: fine enough for
// small print, coarse enough that grain and screens average out.
type field struct {
	w, h   int
	k      int     // canvas pixels across one of ours
	px, py float64 // size of a pixel, µm
	c      *Canvas
	rgb    []uint8  // as printed on white, 3 a pixel
	ref    []uint16 // the ground's colour where state is ground, in sixteenths, 3 a pixel
	state  []uint8
	label  []int32 // the blob that a pixel is in, from 1
	queue  []int32
	tol    int // how far a pixel may be from the ground's colour
}

// What a pixel of the field is.
const (
	unknown uint8 = iota
	ground
	edging // the softened rim of a shape that is ground itself
)

// fieldPixel is the size aimed at, µm: 150 ppi, at which a 5 pt stem is a pixel.
const fieldPixel = 170

// forget makes the field ready to be searched once more.
func (f *field) forget() {
	clear(f.state)
	clear(f.label)
	f.queue = f.queue[:0]
}

func newField(c *Canvas) *field {
	k := max(1, int(fieldPixel/max(c.PxW, c.PxH)))
	f := &field{k: k, w: c.W / k, h: c.H / k, px: c.PxW * float64(k), py: c.PxH * float64(k), c: c}
	n := f.w * f.h
	f.rgb, f.ref = make([]uint8, 3*n), make([]uint16, 3*n)
	f.state, f.label = make([]uint8, n), make([]int32, n)
	f.queue = make([]int32, 0, n)
	f.reduce()
	f.tol = f.tolerance()
	return f
}

// reduce averages squares of k by k canvas pixels, over white where transparent.
func (f *field) reduce() {
	c, n := f.c, uint32(f.k*f.k)
	sums := make([]uint32, 3*f.w)
	for y := range f.h {
		clear(sums)
		for dy := range f.k {
			row := c.Pix[4*c.W*(y*f.k+dy):]
			addRow(sums, row[:4*f.w*f.k], f.k, c.Transparent)
		}
		out := f.rgb[3*f.w*y : 3*f.w*(y+1)]
		for i, s := range sums {
			out[i] = uint8(s / n)
		}
	}
}

func addRow(sums []uint32, row []byte, k int, transparent bool) {
	at := 0
	for x := 0; x+2 < len(sums); x += 3 {
		for range k {
			p := row[at : at+4 : at+4]
			at += 4
			r, g, b := uint32(p[0]), uint32(p[1]), uint32(p[2])
			if transparent && p[3] != 255 {
				a := uint32(p[3])
				r, g, b = 255-(255-r)*a/255, 255-(255-g)*a/255, 255-(255-b)*a/255
			}
			sums[x] += r
			sums[x+1] += g
			sums[x+2] += b
		}
	}
}

// Tolerances of the ground's colour, in levels of 255.
const (
	leastTolerance = 22 // coding noise, and the lag behind a gradient
	mostTolerance  = 56
)

// tolerance is the least that a mark must stand out: three times the grain
// above the least. Grain is the middle of all small differences between pixels
// two apart, so that text does not raise it.
func (f *field) tolerance() int {
	var counts [256]int
	total := 0
	for y := 0; y < f.h; y += 2 {
		row := f.rgb[3*f.w*y : 3*f.w*(y+1)]
		for x := 0; x+7 < len(row); x += 12 {
			d := int(row[x+1]) - int(row[x+7])
			counts[max(d, -d)]++
			total++
		}
	}
	grain := percentile(counts[:], total, 0.5)
	return min(mostTolerance, leastTolerance+3*grain)
}

// spread floods the ground from the queued pixels. Each new pixel may differ
// from the ground that it is reached from by the tolerance; the ground's
// colour drifts after it by a sixteenth, so that it follows a gradient but
// does not climb the softened edge of a letter. Only pixels of blob are
// entered.
func (f *field) spread(blob int32) {
	for at := 0; at < len(f.queue); at++ {
		p := int(f.queue[at])
		x := p % f.w
		if x > 0 {
			f.reach(p, p-1, blob)
		}
		if x+1 < f.w {
			f.reach(p, p+1, blob)
		}
		if p >= f.w {
			f.reach(p, p-f.w, blob)
		}
		if p+f.w < f.w*f.h {
			f.reach(p, p+f.w, blob)
		}
	}
	f.queue = f.queue[:0]
}

func (f *field) reach(from, to int, blob int32) {
	if f.state[to] != unknown || f.label[to] != blob {
		return
	}
	ref, c := f.ref[3*from:3*from+3:3*from+3], f.rgb[3*to:3*to+3:3*to+3]
	tol := f.tol * 16
	d0, d1, d2 := int(c[0])*16-int(ref[0]), int(c[1])*16-int(ref[1]), int(c[2])*16-int(ref[2])
	// Lossy coding smears colour over lightness: colour alone must differ twice as much.
	light := (2*d0 + 5*d1 + d2) / 8
	if light > tol || light < -tol || max(d0, d1, d2) > 2*tol || min(d0, d1, d2) < -2*tol {
		return
	}
	out := f.ref[3*to : 3*to+3 : 3*to+3]
	out[0], out[1], out[2] = uint16(int(ref[0])+d0/16), uint16(int(ref[1])+d1/16), uint16(int(ref[2])+d2/16)
	f.state[to] = ground
	f.queue = append(f.queue, int32(to))
}

// seed makes a pixel ground of its own colour.
func (f *field) seed(p int) {
	if f.state[p] == ground {
		return
	}
	f.state[p] = ground
	for ch := range 3 {
		f.ref[3*p+ch] = uint16(f.rgb[3*p+ch]) * 16
	}
	f.queue = append(f.queue, int32(p))
}

// floodFromOutside makes ground of all that runs out to the canvas's edge.
func (f *field) floodFromOutside() {
	for x := range f.w {
		f.seed(x)
		f.seed((f.h-1)*f.w + x)
	}
	for y := range f.h {
		f.seed(y * f.w)
		f.seed(y*f.w + f.w - 1)
	}
	f.spread(0)
}

// differ is the greatest difference of a channel between two pixels.
func (f *field) differ(p, q int) int {
	a, b := f.rgb[3*p:3*p+3:3*p+3], f.rgb[3*q:3*q+3:3*q+3]
	d := 0
	for ch := range 3 {
		v := int(a[ch]) - int(b[ch])
		d = max(d, v, -v)
	}
	return d
}
