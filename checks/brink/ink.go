package brink

// inkReader tells ink from paper.
type inkReader struct {
	transparent bool
	paper       [3]int // what unpainted paper looks like
	floor       int    // ink less than this is the paper's noise
	// loose: ink is judged beside its neighbours, for pictures whose lossy
	// coding rings around every hard edge.
	loose bool
}

// exact reads a transparent canvas: what was not painted has no alpha, so any
// visible tint is paint. One level of 255 is no visible tint.
func exact() inkReader {
	return inkReader{transparent: true, paper: [3]int{255, 255, 255}, floor: 2}
}

// of is the ink of one pixel as it prints, 0 for paper to 255: the largest
// amount by which a channel is darker. Lossy coding keeps colour at half the
// resolution or less, so a loose reader trusts lightness and takes colour at a
// quarter.
func (r *inkReader) of(p []byte) int {
	red, green, blue := r.paper[0]-int(p[0]), r.paper[1]-int(p[1]), r.paper[2]-int(p[2])
	v := max(red, green, blue, 0)
	if r.loose {
		v = max(v/4, (2*red+5*green+blue)/8)
	}
	if r.transparent && p[3] != 255 {
		// Straight alpha over white paper darkens by its share.
		v = (v*int(p[3]) + 127) / 255
	}
	return v
}

// The look of paper in an opaque picture: full white but for the rounding of
// lossy coding and colour conversion. Cream or light grey is paint.
const (
	darkestPaper = 250
	nearWhite    = 24 // ink up to here may be noise on paper
	leastFloor   = 3
	mostFloor    = 12
)

// measured reads paper white and its noise from the outermost row of a strip,
// for pictures that do not tell paper by alpha.
func measured(s *strip) inkReader {
	r := inkReader{transparent: s.c.Transparent, loose: true, floor: leastFloor}
	var white int
	r.paper, white = s.paper()
	var levels [nearWhite]int
	total := 0
	s.outermost(func(p []byte) {
		if v := r.of(p); v < nearWhite {
			levels[v]++
			total++
		}
	})
	// Where most of what is pale is not white, a tint is painted there, and its
	// strength is no noise.
	if 2*white >= total {
		// Nine pixels of ten are quieter than the noise; half as much again is safe.
		noise := percentile(levels[:], total, 0.9)
		r.floor = min(mostFloor, max(leastFloor, noise*3/2))
	}
	return r
}

// outermost calls visit with each pixel of the outermost row: of a sliver there
// may be no more.
func (s *strip) outermost(visit func(p []byte)) {
	if s.depth == 0 {
		return
	}
	for i := s.first; i < s.last; i++ {
		p := s.base + i*s.along + (s.depth-1)*s.out
		visit(s.c.Pix[p : p+4 : p+4])
	}
}

// paper is the commonest near-white of each channel in the outermost row, and
// how many of its pixels are near white.
func (s *strip) paper() (paper [3]int, white int) {
	var counts [3][256 - darkestPaper]int
	s.outermost(func(p []byte) {
		if p[0] < darkestPaper || p[1] < darkestPaper || p[2] < darkestPaper {
			return
		}
		white++
		for ch := range counts {
			counts[ch][p[ch]-darkestPaper]++
		}
	})
	for ch := range counts {
		best := len(counts[ch]) - 1
		for v := best; v >= 0; v-- {
			if counts[ch][v] > counts[ch][best] {
				best = v
			}
		}
		paper[ch] = darkestPaper + best
	}
	return paper, white
}

// percentile is the least level that share of the total lies at or below.
func percentile(levels []int, total int, share float64) int {
	need := int(float64(total) * share)
	for v, n := range levels {
		if need -= n; need <= 0 {
			return v
		}
	}
	return 0
}

// whiteOver reports whether white paint, not nothing, lies in the outermost
// pixels: the case of a picture placed with its own white around it.
func (s *strip) whiteOver() bool {
	if !s.c.Transparent || s.depth == 0 {
		return false
	}
	white := 0
	for i := s.first; i < s.last; i++ {
		p := s.base + i*s.along + (s.depth-1)*s.out
		q := s.c.Pix[p : p+4 : p+4]
		if q[3] > 127 && min(q[0], q[1], q[2]) >= darkestPaper {
			white++
		}
	}
	return white > (s.last-s.first)/20
}
