package detail

// Kind is what was found out about a picture's detail.
type Kind int

// Kinds.
const (
	Soft     Kind = iota // nothing in it is sharp: it cannot be told whether it was enlarged
	Fine                 // it has detail as fine as its pixels
	Enlarged             // it was enlarged: its detail is coarser than its pixels
)

// Result is what a picture says about its own detail.
type Result struct {
	Kind     Kind
	Factor   float64 // of Enlarged: how many times, over 1; else 1
	Repeated bool    // of Enlarged: pixels were repeated, not interpolated
	Sure     bool    // of Enlarged: beyond doubt
}

// fewestTiles is how many tiles of an axis must have something to say: with less, a few
// edges that happen to lie a period apart would speak for a picture.
const fewestTiles = 12

// fine is the frequency from which on detail counts as being as fine as the pixels: of
// 0.5 cycles a pixel a sharp photograph seldom has more than 0.4.
const fine = 0.25

// Measure tells how fine a picture's detail is.
func Measure(p Plane) Result {
	x, y := look(p.rows()), look(p.columns())
	if len(x.tiles) >= fewestTiles && len(y.tiles) >= fewestTiles {
		both := axes{x, y}
		for _, find := range []func(axes) (Result, bool){repeated, interpolated} {
			if r, ok := find(both); ok && r.Factor >= leastFactor {
				return r
			}
		}
	}
	if max(x.finest, y.finest) >= fine {
		return Result{Kind: Fine, Factor: 1}
	}
	return Result{Kind: Soft, Factor: 1}
}

// Factors that are looked for.
const (
	leastFactor = 1.3
	mostFactor  = 9.5
)

// looked is what an axis shows.
type looked struct {
	axis
	tiles  []tile
	finest float64
	steps  trace    // of first differences
	bends  [3]trace // of second differences, over lags
	large  float64  // share of steps that are not small
}

// lags are the distances over which second differences are taken: the wider, the
// larger the factors they are good for, and the less JPEG's own blocks show in them.
var lags = [3]int{1, 2, 4}

func look(a axis) looked {
	l := looked{axis: a, tiles: a.roughest()}
	if len(l.tiles) == 0 {
		return l
	}
	l.finest = finest(a.spectrum(l.tiles))
	if len(l.tiles) >= fewestTiles {
		l.steps, l.large = a.stepTrace(l.tiles)
		for i, lag := range lags {
			l.bends[i] = a.bendTrace(l.tiles, lag)
		}
	}
	return l
}

// axes are the two of a picture. What is told of both is told of the lesser: a picture
// is enlarged both ways.
type axes struct{ x, y looked }

func (a axes) finest() float64 { return max(a.x.finest, a.y.finest) }

// steps and bends are the same trace of both.
func (a axes) steps() traces      { return traces{a.x.steps, a.y.steps} }
func (a axes) bends(i int) traces { return traces{a.x.bends[i], a.y.bends[i]} }

// patterned reports whether the picture itself has the period, along either axis.
func (a axes) patterned(f float64) bool { return a.x.patterned(f) || a.y.patterned(f) }
