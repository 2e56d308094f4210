package rules

import "math"

// Verdict is what a finding says of the side.
type Verdict string

// Verdicts. Skip means that a rule could not be judged; its finding's message
// says why.
const (
	Pass Verdict = "pass"
	Warn Verdict = "warn"
	Fail Verdict = "fail"
	Skip Verdict = "skip"
)

// rank orders verdicts from best to worst; a skip weighs nothing.
func (v Verdict) rank() int {
	switch v {
	case Fail:
		return 3
	case Warn:
		return 2
	case Pass:
		return 1
	}
	return 0
}

// Worse reports whether v is worse than w: fail, warn, pass, skip.
func (v Verdict) Worse(w Verdict) bool { return v.rank() > w.rank() }

// Basis tells how we know.
type Basis string

// Bases.
const (
	Read     Basis = "read"     // a tag or a number in the file
	Measured Basis = "measured" // from geometry or pixels
	Inferred Basis = "inferred" // our best reading where the file is silent
)

// Quantity is a number with its unit, or the limits that a number must keep.
// Value (or Values, where one number does not tell it: width and height) is
// what was measured; Min and Max are what was wanted.
type Quantity struct {
	Value  *float64  `json:"value,omitempty"`
	Values []float64 `json:"values,omitempty"`
	Min    *float64  `json:"min,omitempty"`
	Max    *float64  `json:"max,omitempty"`
	Text   string    `json:"text,omitempty"` // where the thing measured is not a number: "RGB"
	Unit   string    `json:"unit,omitempty"`
}

// Value is a measured number.
func Value(v float64, unit string) *Quantity { v = tidy(v); return &Quantity{Value: &v, Unit: unit} }

// ValueMM is a measured length, told in millimetres.
func ValueMM(l Length) *Quantity { return Value(l.MM(), "mm") }

// ValuesMM is a measured size, told in millimetres.
func ValuesMM(s Size) *Quantity {
	return &Quantity{Values: []float64{s.W.MM(), s.H.MM()}, Unit: "mm"}
}

// AtLeast is a lower limit.
func AtLeast(v float64, unit string) *Quantity { v = tidy(v); return &Quantity{Min: &v, Unit: unit} }

// AtLeastMM is a lower limit of length, told in millimetres.
func AtLeastMM(l Length) *Quantity { return AtLeast(l.MM(), "mm") }

// AtMost is an upper limit.
func AtMost(v float64, unit string) *Quantity { v = tidy(v); return &Quantity{Max: &v, Unit: unit} }

// Named is a measured or wanted thing that is not a number.
func Named(text string) *Quantity { return &Quantity{Text: text} }

// tidy keeps a number readable: a thousandth is finer than anything we measure.
func tidy(v float64) float64 { return math.Round(v*1000) / 1000 }

// Finding is what a check saw. Side counts from 1; 0 means the file as a whole.
type Finding struct {
	Rule     string
	Verdict  Verdict
	Side     int
	Edge     Edge
	Where    *Box
	Measured *Quantity
	Wanted   *Quantity
	Basis    Basis
	Message  string // what is so, in plain words
	Fix      string // what to do about it, as an instruction; empty for a pass
	Also     []Place
}

// Place is one more place where a finding's rule was measured: each image of a
// page, each stretch of an edge.
type Place struct {
	What     string
	Where    *Box
	Measured *Quantity
}

// SideFacts is what is known of a side before anything is judged.
type SideFacts struct {
	Number  int
	Trim    Size
	Bleed   Edges  // room beyond the trim
	Basis   Basis  // how the trim was placed
	Placing string // the same in words: "by its TrimBox"
	Face    *Face  // nil where no rule of pairs was judged
}

// FileReport is the judgement of one file: plain data, whoever judged it.
type FileReport struct {
	Path     string
	Kind     string // pdf, jpeg, png, tiff, webp, gif, bmp; "unknown" where it could not be told
	SHA256   string // lower-case hex; empty if the file could not be read
	Verdict  Verdict
	Sides    []SideFacts
	Findings []Finding
	Within   string // of a design that was cut out of a gang sheet: the sheet's path
}

// Report is the judgement of a run.
type Report struct {
	Version string
	Ticket  Ticket
	Files   []FileReport
}

// Count tells how many files passed, warn and fail. A sheet's designs count with it.
func (r Report) Count() (pass, warn, fail int) {
	for i := 0; i < len(r.Files); {
		worst, path := r.Files[i].Verdict, r.Files[i].Path
		for i++; i < len(r.Files) && r.Files[i].Within == path && path != ""; i++ {
			if v := r.Files[i].Verdict; v.Worse(worst) {
				worst = v
			}
		}
		switch worst {
		case Fail:
			fail++
		case Warn:
			warn++
		default:
			pass++
		}
	}
	return pass, warn, fail
}

// Worst is the worst verdict among findings: pass if there is none worse.
func Worst(findings []Finding) Verdict {
	worst := Pass
	for _, f := range findings {
		if f.Verdict.Worse(worst) {
			worst = f.Verdict
		}
	}
	return worst
}
