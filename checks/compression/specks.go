package compression

import "math"

// A block has a hard edge if its light differs by hard; a block beside it shows the
// ground if its light differs by no more than flat.
const (
	hard = 64
	flat = 8
)

// specks is how far the ground in blocks with hard edges strays from the same ground in
// the block next to it, root mean square, and where most.
func (p Plane) specks(g grid, t *Table) Mark {
	across, down := (p.W-g.x)/8, (p.H-g.y)/8
	spans := p.spans(g, across, down)
	var all stray
	quiet := stray{}
	tiles := map[Place]stray{}
	for i, s := range spans {
		if s.high-s.low < hard {
			continue
		}
		k, ok := groundOf(spans, i, across)
		if !ok {
			continue
		}
		x, y := g.x+8*(i%across), g.y+8*(i/across)
		level := p.level(g.x+8*(k%across), g.y+8*(k/across), &quiet)
		far := max(int(s.high)-level, level-int(s.low)) / 2
		one := p.stray(x, y, level, far)
		all.add(one)
		at := p.tile(x, y)
		sum := tiles[at]
		sum.add(one)
		tiles[at] = sum
	}
	if all.n < leastGround {
		return Mark{}
	}
	levels := math.Sqrt(max(0, all.mean()-quiet.mean()))
	return Mark{Levels: min(levels, rounding(t)), Place: dirtiest(tiles)}
}

// leastGround is the number of pixels of ground that it takes to judge.
const leastGround = 128

// stray sums squares of what pixels differ by.
type stray struct{ squares, n int }

func (s *stray) add(o stray)  { s.squares, s.n = s.squares+o.squares, s.n+o.n }
func (s stray) mean() float64 { return float64(s.squares) / float64(max(1, s.n)) }

// span is the least and the most light of a block.
type span struct{ low, high byte }

func (p Plane) spans(g grid, across, down int) []span {
	out := make([]span, 0, across*down)
	for by := range down {
		for bx := range across {
			s := span{low: 255}
			for j := range 8 {
				for _, v := range p.Pix[(g.y+8*by+j)*p.W+g.x+8*bx:][:8] {
					s.low, s.high = min(s.low, v), max(s.high, v)
				}
			}
			out = append(out, s)
		}
	}
	return out
}

// groundOf is a block beside block i that is ground and nothing else.
func groundOf(spans []span, i, across int) (int, bool) {
	for _, k := range [4]int{i - 1, i + 1, i - across, i + across} {
		sameRow := k/across == i/across || k == i-across || k == i+across
		if k >= 0 && k < len(spans) && sameRow && spans[k].high-spans[k].low <= flat {
			return k, true
		}
	}
	return 0, false
}

// level is the light of a ground block; how it strays by itself is added to quiet.
func (p Plane) level(x, y int, quiet *stray) int {
	sum, squares := 0, 0
	for j := range 8 {
		for _, v := range p.Pix[(y+j)*p.W+x:][:8] {
			sum += int(v)
			squares += int(v) * int(v)
		}
	}
	quiet.add(stray{squares - sum*sum/64, 64})
	return (sum + 32) / 64
}

// stray is how the ground of a block strays from its level. Ground is what lies more
// than two pixels from all that differs by far: edges are drawn soft.
func (p Plane) stray(x, y, level, far int) (out stray) {
	var art uint64 // a bit for each pixel of the block
	for j := max(-2, -y); j < min(10, p.H-y); j++ {
		line := p.Pix[(y+j)*p.W:]
		for i := max(-2, -x); i < min(10, p.W-x); i++ {
			if abs(int(line[x+i])-level) < far {
				continue
			}
			left, right := max(0, i-2), min(7, i+2)
			row := uint64(1)<<(right+1) - uint64(1)<<left
			for b := max(0, j-2); b <= min(7, j+2); b++ {
				art |= row << (8 * b)
			}
		}
	}
	for k := range 64 {
		if art>>k&1 == 0 {
			d := int(p.Pix[(y+k/8)*p.W+x+k%8]) - level
			out.squares += d * d
			out.n++
		}
	}
	return out
}

// rounding is what a table can do to a pixel, root mean square: if every coefficient is
// off by up to half its step.
func rounding(t *Table) float64 {
	sum := 0.0
	for _, q := range t {
		sum += float64(q) * float64(q) / 12
	}
	return math.Sqrt(sum / 64)
}
