package detail

import (
	"cmp"
	"slices"
)

// A tile is a short piece of a few neighbouring lines: long enough to tell fine detail
// from coarse, and so small that the sharp parts of a picture can be picked out.
const (
	tileLength = 64
	tileLines  = 8
	mostTiles  = 160
)

type tile struct{ line, at, rough int }

// roughest picks the tiles along an axis where lightness bends most: what is sharp in a
// picture with a soft ground, and what is busy.
func (a axis) roughest() []tile {
	var list []tile
	for line := 0; line+tileLines <= a.lines; line += tileLines {
		for at := 1; at+tileLength < a.length; at += tileLength {
			if r := a.rough(line, at); r > 0 {
				list = append(list, tile{line, at, r})
			}
		}
	}
	slices.SortFunc(list, func(x, y tile) int {
		return cmp.Or(cmp.Compare(y.rough, x.rough), cmp.Compare(x.line, y.line), cmp.Compare(x.at, y.at))
	})
	return list[:min(len(list), mostTiles)]
}

// rough is the sum of second differences on two lines of a tile.
func (a axis) rough(line, at int) int {
	sum := 0
	for _, n := range [...]int{line + 2, line + 5} {
		i := n*a.across + at*a.along
		p, q := int(a.pix[i-a.along]), int(a.pix[i])
		for range tileLength {
			i += a.along
			r := int(a.pix[i])
			d := p + r - 2*q
			if d < 0 {
				d = -d
			}
			sum += d
			p, q = q, r
		}
	}
	return sum
}
