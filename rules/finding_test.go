package rules

import (
	"testing"

	"pgregory.net/rapid"
)

func TestVerdictsFromBestToWorst(t *testing.T) {
	order := []Verdict{Skip, Pass, Warn, Fail}
	for i, a := range order {
		for j, b := range order {
			if got := a.Worse(b); got != (i > j) {
				t.Errorf("%s is worse than %s: %v", a, b, got)
			}
		}
	}
}

func TestWorst(t *testing.T) {
	for _, c := range []struct {
		verdicts []Verdict
		want     Verdict
	}{
		{nil, Pass}, {[]Verdict{Skip}, Pass}, {[]Verdict{Pass, Skip}, Pass}, {[]Verdict{Warn, Pass, Skip}, Warn},
		{[]Verdict{Warn, Fail, Pass}, Fail}, {[]Verdict{Fail, Warn}, Fail},
	} {
		var findings []Finding
		for _, v := range c.verdicts {
			findings = append(findings, Finding{Verdict: v})
		}
		if got := Worst(findings); got != c.want {
			t.Errorf("the worst of %v is %s, want %s", c.verdicts, got, c.want)
		}
	}
}

func TestCountCountsEveryFileOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var r Report
		want := map[Verdict]int{}
		for _, v := range rapid.SliceOf(rapid.SampledFrom([]Verdict{Pass, Warn, Fail})).Draw(t, "verdicts") {
			r.Files = append(r.Files, FileReport{Verdict: v})
			want[v]++
		}
		if pass, warn, fail := r.Count(); pass != want[Pass] || warn != want[Warn] || fail != want[Fail] {
			t.Fatalf("got %d, %d, %d, want %v", pass, warn, fail, want)
		}
	})
}

// The designs of a sheet are not files of their own.
func TestCountCountsDesignsWithTheirSheet(t *testing.T) {
	r := Report{Files: []FileReport{
		{Path: "one.pdf", Verdict: Pass}, {Verdict: Warn, Within: "one.pdf"}, {Verdict: Fail, Within: "one.pdf"},
		{Path: "two.pdf", Verdict: Pass}, {Verdict: Pass, Within: "two.pdf"},
		{Path: "three.pdf", Verdict: Warn},
	}}
	if pass, warn, fail := r.Count(); pass != 1 || warn != 1 || fail != 1 {
		t.Errorf("got %d, %d, %d, want one each", pass, warn, fail)
	}
}

func TestQuantitiesAreTidy(t *testing.T) {
	if q := Value(11811*0.0254, "ppi"); *q.Value != 299.999 || q.Unit != "ppi" {
		t.Errorf("got %v %s", *q.Value, q.Unit)
	}
	if q := AtLeastMM(Inches(0.125)); *q.Min != 3.175 || q.Max != nil || q.Value != nil || q.Unit != "mm" {
		t.Errorf("got %+v", q)
	}
	if q := AtMost(300.00049, "%"); *q.Max != 300 || q.Min != nil {
		t.Errorf("got %+v", q)
	}
	if q := ValuesMM(Size{85600, 53980}); len(q.Values) != 2 || q.Values[0] != 85.6 || q.Values[1] != 53.98 {
		t.Errorf("got %+v", q)
	}
}
