package compression

import "math"

// teeth is one turn of a cosine in parts fine enough for a comb.
type teeth [256]float32

func newTeeth() (t teeth) {
	for i := range t {
		t[i] = float32(math.Cos(2 * math.Pi * float64(i) / float64(len(t))))
	}
	return t
}

// tally is how well coefficients keep to multiples of steps.
type tally struct {
	sum float32 // 1 for each that lies on a multiple, -1 for one midway
	n   int     // how many there are beside those near nothing
}

func (t *tally) add(o tally) { t.sum, t.n = t.sum+o.sum, t.n+o.n }

// score is 1 where all keep to the multiples, and about nothing or less where none
// does for that reason.
func (t tally) score() float64 { return float64(t.sum) / float64(max(1, t.n)) }

// weight is the score in standard deviations of chance.
func (t tally) weight() float64 { return float64(t.sum) / math.Sqrt(float64(max(1, t.n))/2) }

// comb tallies the coefficients of one kind by a step. Those within a quarter of a
// step of nothing tell nothing. What lies between there and half a step speaks
// against it: rounding leaves nothing there, and the cosine alone would say otherwise.
func (t *teeth) comb(blocks []coefficients, kind int, step uint16) (out tally) {
	q := float32(step)
	parts, nothing := float32(len(t))/q, max(1.5, q/4)
	for i := range blocks {
		v := blocks[i][kind]
		if v < 0 {
			v = -v
		}
		switch {
		case v < nothing:
			continue
		case v < q/2:
			out.sum--
		default:
			out.sum += t[int(v*parts+0.5)%len(t)]
		}
		out.n++
	}
	return out
}

// save is an earlier save that pixels tell of.
type save struct {
	grid    grid
	quality int
	tally   tally
}

// The qualities that are looked for: nobody makes worse, and better ones leave nothing
// to see.
const (
	worst = 4
	best  = 85
)

// nearest is the quality whose table the coefficients keep to best. A coarse look takes
// every second quality, or third, where tables hardly differ from one to the next.
func (t *teeth) nearest(blocks []coefficients, coarse bool) (s save) {
	for q := worst; q <= best; q++ {
		if coarse {
			q += min(2, q/20)
		}
		table := TableAt(q)
		var all tally
		for k, at := range watched {
			all.add(t.comb(blocks, k, table[at]))
		}
		if all.n >= leastVotes && all.weight() > s.tally.weight() {
			s.quality, s.tally = q, all
		}
	}
	return s
}

// What it takes to believe in a save. Over sound art, also full of patterns, and over
// pictures saved well, scores come to 0.1 and a little more; those of damaged pictures
// to 0.2 and more: white grounds, whose light cannot overshoot, blur the multiples.
const (
	leastLean  = 1.15 // of both strengths together
	leastVotes = 50
	leastScore = 0.15
	leastKinds = 9  // of coefficients that agree: art of cells of 4 pixels has 7
	leastForms = 30 // of blocks, told apart by their multiples
)

// How many blocks are looked at: a few tell which grid is likely, many what it is.
const (
	few  = 48
	many = 600
)

// find looks for the save whose grid and steps the pixels show, if any.
func (p Plane) find() (save, bool) {
	x, y := p.phases()
	if x.strength()*y.strength() < leastLean {
		return save{}, false
	}
	t := newTeeth()
	var likely save
	for _, gx := range x.likely(y) {
		for _, gy := range y.likely(x) {
			g := grid{gx, gy}
			if s := t.nearest(p.sample(g, few), true); s.tally.weight() > likely.tally.weight() {
				likely = s
				likely.grid = g
			}
		}
	}
	if likely.quality == 0 {
		return save{}, false
	}
	blocks := p.sample(likely.grid, many)
	s := t.nearest(blocks, false)
	s.grid = likely.grid
	return s, t.believes(s, blocks)
}

// believes reports whether a save is more than chance or a pattern of the art.
func (t *teeth) believes(s save, blocks []coefficients) bool {
	if s.tally.score() < leastScore {
		return false
	}
	table := TableAt(s.quality)
	kinds, forms := 0, map[[len(watched)]int16]bool{}
	for k, at := range watched {
		if c := t.comb(blocks, k, table[at]); c.n >= 8 && c.sum > 0 {
			kinds++
		}
	}
	for i := range blocks {
		var form [len(watched)]int16
		for k, at := range watched {
			form[k] = int16(math.Round(float64(blocks[i][k]) / float64(table[at])))
		}
		forms[form] = true
	}
	return kinds >= leastKinds && len(forms) >= leastForms
}
