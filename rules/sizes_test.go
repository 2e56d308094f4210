package rules

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// TestNamedSizes checks every named size against its source. Bleed and safe
// margin are common practice.
func TestNamedSizes(t *testing.T) {
	const practice = "common practice"
	want := []struct {
		name, trim, bleed, source string
	}{
		{"us-business", "3.5x2in", "0.125in", "PWG 5101.1"},
		{"eu-business", "85x55mm", "3mm", "PWG 5101.1"},
		{"jp-business", "91x55mm", "3mm", "PWG 5101.1"},
		{"cn-business", "90x54mm", "3mm", practice},
		{"id-1", "85.60x53.98mm", "3mm", "ISO/IEC 7810"},
		{"a6", "105x148mm", "3mm", "ISO 216"},
		{"a7", "74x105mm", "3mm", "ISO 216"},
		{"jp-postcard", "100x148mm", "3mm", "PWG 5101.1"},
		{"us-postcard", "6x4in", "0.125in", "US mail, DMM 201.1"},
		{"poker", "63x88mm", "3mm", practice},
		{"poker-us", "2.5x3.5in", "0.125in", practice},
		{"bridge", "2.25x3.5in", "0.125in", practice},
	}
	var names []string
	for _, w := range want {
		names = append(names, w.name)
		got, err := SizeNamed(w.name)
		if err != nil {
			t.Error(err)
			continue
		}
		trim, errTrim := ParseSize(w.trim)
		bleed, errBleed := ParseLength(w.bleed)
		if errTrim != nil || errBleed != nil {
			t.Fatal(errTrim, errBleed)
		}
		if got.Trim != trim || got.Bleed != bleed || got.Safe != bleed || got.Source != w.source || got.Title == "" {
			t.Errorf("%s: %+v, want trim %s, bleed and safe margin %s, from %s", w.name, got, trim, bleed, w.source)
		}
	}
	var have []string
	for _, s := range Sizes() {
		have = append(have, s.Name)
	}
	if diff := cmp.Diff(names, have); diff != "" {
		t.Errorf("named sizes (-want +got):\n%s", diff)
	}
}

// TestNamedSizesInMillimetres checks those in inches a second time: 3.5 × 2 in
// is 88.9 × 50.8 mm, poker 63.5 × 88.9 mm, bridge 57.15 × 88.9 mm.
func TestNamedSizesInMillimetres(t *testing.T) {
	for name, want := range map[string]Size{
		"us-business": {88900, 50800}, "us-postcard": {152400, 101600}, "poker-us": {63500, 88900}, "bridge": {57150, 88900},
	} {
		if got, err := SizeNamed(name); err != nil || got.Trim != want || got.Unit != UnitIn || got.Bleed != 3175 {
			t.Errorf("%s: %+v, %v; want %s", name, got, err, want)
		}
	}
}

// TestSizeLikeTellsCardsApart guards the pair that a tolerance of a millimetre
// confuses: ID-1 (85.60 × 53.98 mm, ISO/IEC 7810) and 85 × 55 mm.
func TestSizeLikeTellsCardsApart(t *testing.T) {
	for _, tolerance := range []Length{MM(0.25), MM(0.5)} {
		for _, name := range []string{"id-1", "eu-business"} {
			s, err := SizeNamed(name)
			if err != nil {
				t.Fatal(err)
			}
			for _, off := range []Length{-tolerance, 0, tolerance} {
				trim := Size{s.Trim.W + off, s.Trim.H - off}
				for _, lying := range []Size{trim, trim.Turned()} {
					if got, ok := SizeLike(lying, tolerance); !ok || got.Name != name {
						t.Errorf("%s within %s is %q, want %s", lying, tolerance, got.Name, name)
					}
				}
			}
		}
	}
}

func TestSizeLikeFindsItsOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(Sizes()).Draw(t, "size")
		tolerance := MM(0.25)
		off := func(label string) Length { return Length(rapid.Int64Range(-250, 250).Draw(t, label)) }
		trim := Size{s.Trim.W + off("w"), s.Trim.H + off("h")}
		if got, ok := SizeLike(trim, tolerance); !ok || got.Name != s.Name {
			t.Fatalf("%s is %q, want %s", trim, got.Name, s.Name)
		}
	})
	for _, trim := range []Size{{}, {MM(85.251), MM(55)}, {MM(60), MM(60)}} {
		if got, ok := SizeLike(trim, MM(0.25)); ok {
			t.Errorf("%s is taken for %s", trim, got.Name)
		}
	}
}

func TestUnknownNamesTellTheNearest(t *testing.T) {
	for _, c := range []struct {
		find func(string) error
		name string
		near string
	}{
		{sizeError, "us-busines", "us-business"}, {sizeError, "business", "us-business"}, {sizeError, "A6", "a6"},
		{sizeError, "eu_business", "eu-business"}, {sizeError, "poker-uk", "poker-us"}, {sizeError, "brige", "bridge"},
		{ruleError, "bleed-fil", "bleed-fill"}, {ruleError, "safezone", "safe-zone"}, {ruleError, "resolution", "effective-resolution"},
		{processError, "offset", "offset-coated"}, {processError, "digitl", "digital"},
	} {
		err := c.find(c.name)
		unknown, ok := err.(*UnknownError)
		if !ok || unknown.Name != c.name || !slices.Contains(unknown.Near, c.near) || len(unknown.Near) > 3 {
			t.Errorf("%q: %v, want %s among the nearest", c.name, err, c.near)
		}
	}
	if got := sizeError("zzzzzzzzzzzz").Error(); got != `unknown card size "zzzzzzzzzzzz"` {
		t.Errorf("got %s", got)
	}
}

func sizeError(name string) error    { _, err := SizeNamed(name); return err }
func ruleError(name string) error    { _, err := RuleNamed(name); return err }
func processError(name string) error { _, err := Order{Process: name}.Ticket(); return err }

func TestNearestIsBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.String().Draw(t, "name")
		near := Nearest(name, RuleIDs())
		if len(near) > 3 {
			t.Fatalf("%d names are near %q", len(near), name)
		}
		for _, n := range near {
			if !slices.Contains(RuleIDs(), n) {
				t.Fatalf("%q is no rule", n)
			}
		}
	})
	for _, id := range RuleIDs() {
		if near := Nearest(id, RuleIDs()); len(near) == 0 || near[0] != id {
			t.Errorf("nearest to %s is %v", id, near)
		}
	}
}
