package brink

import (
	"math"
	"slices"
)

// faults are the stretches at this depth that were cut off there.
func (l *level) faults() []stop {
	var found []stop
	for _, group := range l.joined() {
		from, to := group[0].from, group[len(group)-1].to
		if l.taken[from] {
			continue // a neighbour has grown over it
		}
		b := l.look(group)
		if !b.cutOff(group) {
			continue
		}
		if l.s.ink.loose {
			from, to = b.grow(from, to)
		}
		extent := length(l.s.beyond(l.median(group)))
		l.take(from, to)
		st := stop{Stretch: Stretch{From: l.s.position(l.s.first + from), To: l.s.position(l.s.first + to), Extent: extent},
			whiteOver: b.whiteBeyond()}
		if k := len(found) - 1; k >= 0 && found[k].To >= st.From {
			found[k].To = max(found[k].To, st.To)
			continue
		}
		found = append(found, st)
	}
	return found
}

// median is the depth at which the middle one of the group's positions ends.
func (l *level) median(group []run) float64 {
	var depths []float32
	for _, r := range group {
		for i := r.from; i < r.to; i++ {
			if l.on(i) {
				depths = append(depths, l.ends[i])
			}
		}
	}
	slices.Sort(depths)
	return float64(depths[len(depths)/2])
}

// straight reports whether the group's ends lie on one line parallel to the
// trim: they scatter little, and a lone run does not slant.
func (l *level) straight(group []run, lone, long bool) bool {
	widest := group[0]
	var all line
	for _, r := range group {
		if r.width() > widest.width() {
			widest = r
		}
		all.add(l, r)
	}
	var one line
	one.add(l, widest)
	most := slant
	if l.s.ink.loose {
		most = looseSlant
	}
	return all.scatter() <= ruled && (long || math.Abs(l.bow(widest)) <= most) &&
		(!lone || math.Abs(one.slope())*float64(widest.width()) <= most)
}

// bow is how far the middle third of the run reaches beyond its outer thirds,
// pixels: nothing for a cut, most of a pixel for the flat of a curve.
func (l *level) bow(r run) float64 {
	third := r.width() / 3
	if third < 2 {
		return 0
	}
	var sides, middle line
	sides.add(l, run{from: r.from, to: r.from + third})
	sides.add(l, run{from: r.to - third, to: r.to})
	middle.add(l, run{from: r.from + third, to: r.to - third})
	if sides.n == 0 || middle.n == 0 {
		return 0
	}
	return middle.y/middle.n - sides.y/sides.n
}

// line sums up positions and their ends for a straight fit.
type line struct{ n, x, y, xx, xy, yy float64 }

func (f *line) add(l *level, r run) {
	for i := r.from; i < r.to; i++ {
		if l.on(i) {
			x, y := float64(i-r.from), float64(l.ends[i]-l.depth)
			f.n, f.x, f.y = f.n+1, f.x+x, f.y+y
			f.xx, f.xy, f.yy = f.xx+x*x, f.xy+x*y, f.yy+y*y
		}
	}
}

// scatter is the standard deviation of the ends, pixels.
func (f *line) scatter() float64 {
	mean := f.y / f.n
	return math.Sqrt(max(0, f.yy/f.n-mean*mean))
}

// slope is how much the ends rise for each position.
func (f *line) slope() float64 {
	return (f.n*f.xy - f.x*f.y) / max(1, f.n*f.xx-f.x*f.x)
}

// joined puts runs together that have little between them, and nothing that
// goes further out.
func (l *level) joined() [][]run {
	var groups [][]run
	for k, r := range l.runs {
		if k == 0 || !l.bridged(l.runs[k-1].to, r.from) {
			groups = append(groups, nil)
		}
		last := len(groups) - 1
		groups[last] = append(groups[last], r)
	}
	return groups
}

func (l *level) bridged(from, to int) bool {
	if to-from > l.s.alongPx(joinGap) {
		return false
	}
	further := 0
	for i := from; i < to; i++ {
		if l.ends[i] > l.depth+2 {
			further++
		}
	}
	return further <= l.s.alongPx(0.3)
}

// cutOff decides whether the paint of a group of runs was cut off.
func (b *band) cutOff(group []run) bool {
	swept := b.l.swept(group) && b.unbroken()
	square, widest, alone := b.l.widths(group)
	lone := alone >= b.l.s.alongPx(loneRun)
	if !swept && !b.ruled(group, lone, square, widest) {
		return false
	}
	// The dearest question comes last.
	return b.fromTrim(swept) && b.sharp() && b.blankBeyond() && !b.compact(lone) &&
		!b.answered(group) && !b.repeats()
}

// widths sums up a group's square runs: all of them, the widest, and the widest
// that can stand for a cut alone.
func (l *level) widths(group []run) (square, widest, alone int) {
	for _, r := range group {
		if !r.square {
			continue
		}
		square += r.width()
		widest = max(widest, r.width())
		if r.clean || r.width() >= l.s.alongPx(messyRun) {
			alone = max(alone, r.width())
		}
	}
	return square, widest, alone
}

// ruled reports whether the group's ends are as straight, as wide and as close
// together as a cut leaves them.
func (b *band) ruled(group []run, lone bool, square, widest int) bool {
	l := b.l
	if !lone && square < l.s.alongPx(manyRuns) || len(group) > 1 && !l.dense(group) {
		return false
	}
	return l.straight(group, lone, widest >= l.s.alongPx(longRun)) &&
		(b.strength >= 2*visible || widest >= l.s.alongPx(faintRun))
}

// swept reports whether a large part of the edge ends at this depth and next to
// nothing along it goes further. No natural art does so, however its own shapes
// end there: a lattice, an engraving and a grainy texture all show a cut only
// by this.
func (l *level) swept(group []run) bool {
	const least = 20 // mm
	from, to := group[0].from, group[len(group)-1].to
	if to-from < l.s.alongPx(least) || 10*(to-from) < 3*len(l.ends) {
		return false
	}
	on, further := 0, 0
	for i := from; i < to; i++ {
		if l.on(i) {
			on++
		} else if l.ends[i] > l.depth {
			further++
		}
	}
	return 10*on >= 4*(to-from) && 100*further <= to-from
}

// dense reports whether runs at this depth are the rule along their span: three
// positions of four that end near this depth end on it.
func (l *level) dense(group []run) bool {
	on, near, partial := 0, 0, 0
	for i := group[0].from; i < group[len(group)-1].to; i++ {
		if l.on(i) {
			on++
		} else if l.partial(i) {
			partial++
			if l.near(i) {
				near++
			}
		}
	}
	return on >= 3*near && on >= partial
}

// answered reports whether beside the stop, where there was no paint, paint
// starts at this very depth: the next row of a checkerboard.
func (b *band) answered(group []run) bool {
	s := b.l.s
	in, out := b.at-2, min(b.at+3, s.depth-1)
	if out <= b.at || in < -s.inner {
		return false
	}
	ink := max(s.ink.floor, b.strength/4)
	starts := 0
	from, to := group[0].from, group[len(group)-1].to
	for i := max(0, from-b.width); i < min(len(b.l.ends), to+b.width); i++ {
		if s.at(s.first+i, out) >= ink && s.at(s.first+i, in) < ink {
			starts++
		}
	}
	return 10*starts >= 3*b.width
}
