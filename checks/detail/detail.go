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

// Factors that are looked for.
const (
	leastFactor = 1.3
	mostFactor  = 9.5
)

// LeastLength is how long and wide a picture must be for a period to stand out.
const LeastLength = 96

// Measure tells how fine a picture's detail is.
func Measure(p Plane) Result {
	if min(p.W, p.H) < LeastLength {
		return Result{Kind: Soft, Factor: 1}
	}
	s := see(p)
	for _, find := range []func() (Result, bool){s.repeated, s.interpolated} {
		if r, ok := find(); ok {
			return r
		}
	}
	if s.edges.fine() {
		return Result{Kind: Fine, Factor: 1}
	}
	return Result{Kind: Soft, Factor: 1}
}
