package brink

import (
	"math"

	"stoneproof/rules"
)

// strip is the band of pixels along one edge, turned so that every edge reads
// the same: i counts along the edge as the reader's x or y does, j counts
// outward from the trim, 0 the first pixel beyond it, negative inside.
type strip struct {
	c     *Canvas
	ink   inkReader
	base  int // offset in Pix of i 0, j 0
	along int // step in Pix for i+1
	out   int // step in Pix for j+1
	// Positions whose pixels lie within the trim's length: first to last-1.
	first, last int
	depth       int // pixels from the trim out to where bleed is judged
	inner       int // pixels on the canvas inside the trim
	lead        float64
	px, pxAlong float64      // size of a pixel outward and along, µm
	origin      float64      // trim coordinate along the edge of i = 0, µm
	long        rules.Length // the trim's length along the edge
	room        float64      // µm
}

// newStrip lays the strip of edge e out to the wanted bleed or the canvas's end.
func newStrip(c *Canvas, e rules.Edge, wanted rules.Length) strip {
	s := strip{c: c}
	rowStep := 4 * c.W
	var across, alongCount int // pixels on the canvas
	var line float64           // the trim in pixels across
	far := e == rules.Right || e == rules.Bottom
	if e == rules.Top || e == rules.Bottom {
		s.px, s.pxAlong, s.origin = c.PxH, c.PxW, float64(c.X)
		s.along, s.out, across, alongCount = 4, rowStep, c.H, c.W
		s.long = c.Trim.W
		line = c.row(0)
		if far {
			line = c.row(float64(c.Trim.H))
		}
		s.first, s.last = within(c.col(0), c.col(float64(c.Trim.W)), alongCount)
	} else {
		s.px, s.pxAlong, s.origin = c.PxW, c.PxH, float64(c.Y)
		s.along, s.out, across, alongCount = rowStep, 4, c.W, c.H
		s.long = c.Trim.H
		line = c.col(0)
		if far {
			line = c.col(float64(c.Trim.W))
		}
		s.first, s.last = within(c.row(0), c.row(float64(c.Trim.H)), alongCount)
	}
	s.place(line, across, far)
	s.room = max(0, min(float64(wanted), s.room))
	s.depth = max(0, min(s.depth, int(math.Floor(s.room/s.px-s.lead+0.5))))
	return s
}

// place sets where the trim's line falls among the pixels across the edge. A
// pixel belongs to the side that its centre is on.
func (s *strip) place(line float64, across int, far bool) {
	split := int(math.Ceil(line - 0.5)) // the first pixel past the line
	split = max(0, min(across, split))
	if far {
		s.base, s.lead = split*s.out, float64(split)-line
		s.depth, s.inner = across-split, split
		s.room = (float64(across) - line) * s.px
		return
	}
	s.base, s.lead = (split-1)*s.out, line-float64(split)
	s.depth, s.inner = split, across-split
	s.room = line * s.px
	s.out = -s.out
}

// within is the range of pixels whose centres lie between from and to.
func within(from, to float64, count int) (first, last int) {
	first = max(0, min(count, int(math.Ceil(from-0.5))))
	last = max(first, min(count, int(math.Ceil(to-0.5))))
	return first, last
}

// at is the ink at i, j, 0 for paper to 255.
func (s *strip) at(i, j int) int {
	p := s.base + i*s.along + j*s.out
	return s.ink.of(s.c.Pix[p : p+4 : p+4])
}

// outPx and alongPx are lengths in mm told in pixels, at least one.
func (s *strip) outPx(mm float64) int   { return max(1, roundInt(mm*1000/s.px)) }
func (s *strip) alongPx(mm float64) int { return max(1, roundInt(mm*1000/s.pxAlong)) }

// beyond is the distance past the trim, µm, of a stop at j pixels.
func (s *strip) beyond(j float64) float64 {
	return max(0, min(s.room, (j+s.lead)*s.px))
}

// position is the trim coordinate along the edge of the near side of pixel i;
// the pixels at the ends stand for the trim's own ends.
func (s *strip) position(i int) rules.Length {
	at := length(s.origin + float64(i)*s.pxAlong)
	if i == s.first && at.Abs() < length(s.pxAlong) {
		return 0
	}
	if i == s.last && (at-s.long).Abs() < length(s.pxAlong) {
		return s.long
	}
	return at
}
