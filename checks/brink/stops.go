package brink

// stop is a stretch whose paint was cut off parallel to the trim.
type stop struct {
	Stretch
	whiteOver bool
}

// run is a row of neighbouring positions, from to to-1 counted from the
// strip's first, whose paint ends at one depth.
type run struct {
	from, to int
	square   bool // it ends abruptly at one side at least, as a cut does
	clean    bool // it does so at both
}

func (r run) width() int { return r.to - r.from }

// The shape of a cut, mm along the edge. Anything narrower than a lone run is
// judged only together with others at the same depth.
const (
	loneRun    = 1.5 // a notch or stripe of 2 mm less what softening takes off its ends
	messyRun   = 4.0 // the same if it ends abruptly at one side alone
	manyRuns   = 4.0 // what narrower ones must add up to
	joinGap    = 3.0 // stops at one depth with less between them are one stretch
	longRun    = 8.0 // no natural edge is flat by chance as far as this
	faintRun   = 5.0 // a stop too faint to be seen as an edge must be this long to count
	curveDepth = 0.5 // how far in a curved end is followed, across the edge
)

// How straight a shorter cut is, pixels. Ends strewn evenly within what counts
// as flat scatter by 0.43; cuts through grain and lossy coding stay under 0.22.
// A brush stroke nearly parallel to the edge slants by more than half a pixel.
const (
	ruled      = 0.3
	slant      = 0.5
	looseSlant = 0.9
)

// level is one depth at which paint ends, and the runs that end there.
type level struct {
	s     *strip
	ends  []float32
	taken []bool // positions that an earlier level has dealt with
	depth float32
	runs  []run
}

// stops finds the stretches of the strip where the paint was cut off.
func (s *strip) stops() []stop {
	ends := s.ends(s.outPx(2))
	taken := make([]bool, len(ends))
	var found []stop
	for range s.depth + s.outPx(atTrim) + 1 {
		l := level{s: s, ends: ends, taken: taken}
		if !l.findCommonest() {
			break
		}
		l.collect()
		found = append(found, l.faults()...)
		for _, r := range l.runs {
			l.take(r.from, r.to)
		}
	}
	return found
}

func (l *level) take(from, to int) {
	for i := from; i < to; i++ {
		l.taken[i] = true
	}
}

// findCommonest sets the depth to that, short of full, at which the paint of
// most positions ends that are not taken yet; false when there are too few.
func (l *level) findCommonest() bool {
	s := l.s
	least := s.outPx(atTrim)
	counts := make([]int, least+s.depth+2)
	sums := make([]float32, len(counts))
	best := 0
	for i, e := range l.ends {
		if l.taken[i] || !s.short(e) {
			continue
		}
		k := roundInt(float64(e)) + least
		counts[k]++
		sums[k] += e
		if counts[k] > counts[best] {
			best = k
		}
	}
	if counts[best] < s.alongPx(0.3) {
		return false
	}
	l.depth = sums[best] / float32(counts[best])
	return true
}

// short reports whether an end lies between the trim and full.
func (s *strip) short(end float32) bool {
	return end > -float32(s.outPx(atTrim)) && end < float32(s.depth)
}

// flat is how far ends of one cut may lie apart, pixels each way.
func (l *level) flat() float32 {
	if l.s.ink.loose {
		return 1
	}
	return 0.75
}

func (l *level) on(i int) bool {
	d := l.ends[i] - l.depth
	return d <= l.flat() && d >= -l.flat() && l.ends[i] < float32(l.s.depth)
}

// between reports whether position i ends about the trim or in the bleed.
func (l *level) between(i int) bool {
	return l.ends[i] > nowhere && l.ends[i] < float32(l.s.depth)
}

// partial reports whether it does so at another depth than this.
func (l *level) partial(i int) bool { return l.between(i) && !l.on(i) }

// near reports whether it does so within half a millimetre of this depth.
func (l *level) near(i int) bool {
	reach := float32(max(l.s.outPx(curveDepth), 6))
	d := l.ends[i] - l.depth
	return l.partial(i) && d <= reach && d >= -reach
}

// collect gathers the runs that end at this depth.
func (l *level) collect() {
	const bridge = 2 // positions that noise may take out of a run
	for i := 0; i < len(l.ends); i++ {
		if l.taken[i] || !l.on(i) {
			continue
		}
		r := run{from: i, to: i + 1}
		for k := i + 1; k < len(l.ends) && k <= r.to+bridge; k++ {
			if l.on(k) {
				r.to = k + 1
			}
		}
		l.judge(&r)
		l.runs = append(l.runs, r)
		i = r.to
	}
}

// sides counts on either side of the run the neighbours that end somewhere
// else about the trim or in the bleed, up to the run's own width.
func (l *level) sides(r run) (left, right int) {
	for i := r.from - 1; i >= 0 && l.between(i) && left <= r.width(); i-- {
		left++
	}
	for i := r.to; i < len(l.ends) && l.between(i) && right <= r.width(); i++ {
		right++
	}
	return left, right
}

// judge tells whether the run ends abruptly. A circle curves away on both
// sides, a slanted edge passes on both, a torn one goes on somewhere else; a
// cut does so only over its rounded corners.
func (l *level) judge(r *run) {
	left, right := l.sides(*r)
	r.square = 10*2*min(left, right) <= 3*r.width()
	r.clean = 10*2*max(left, right) <= 3*r.width()
}
