package report

import (
	"pgregory.net/rapid"

	"stoneproof/rules"
)

// Generators of reports as checks could make them, with whatever text and
// numbers a file could put into them.

var (
	verdicts = rapid.SampledFrom([]rules.Verdict{rules.Pass, rules.Warn, rules.Fail, rules.Skip})
	judged   = rapid.SampledFrom([]rules.Verdict{rules.Pass, rules.Warn, rules.Fail})
	bases    = rapid.SampledFrom([]rules.Basis{rules.Read, rules.Measured, rules.Inferred})
	edges    = rapid.SampledFrom([]rules.Edge{"", rules.Top, rules.Right, rules.Bottom, rules.Left})
	lengths  = rapid.Map(rapid.Int64Range(-2_000_000, 2_000_000), func(v int64) rules.Length { return rules.Length(v) })
	texts    = rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) }),
		rapid.SampledFrom([]string{"\x1b[31mred\x1b[0m", "a\u202eb\u2066c", "陶芸 2 mm", "e\u0301\u0301\u0301\u0301\u0301",
			"\u1160\u1160", "👩\u200d🔧🇬🇧", "Paint stops 1.2 mm past the trim of 88.9 × 50.8 mm."}))
)

var sizes = rapid.Custom(func(t *rapid.T) rules.Size {
	return rules.Size{W: lengths.Draw(t, "w"), H: lengths.Draw(t, "h")}
})

var boxes = rapid.Custom(func(t *rapid.T) rules.Box {
	return rules.Box{X: lengths.Draw(t, "x"), Y: lengths.Draw(t, "y"), W: lengths.Draw(t, "w"), H: lengths.Draw(t, "h")}
})

var quantities = rapid.Custom(func(t *rapid.T) rules.Quantity {
	return rules.Quantity{
		Value:  rapid.Ptr(rapid.Float64(), true).Draw(t, "value"),
		Values: rapid.SliceOfN(rapid.Float64(), 0, 2).Draw(t, "values"),
		Min:    rapid.Ptr(rapid.Float64(), true).Draw(t, "min"),
		Max:    rapid.Ptr(rapid.Float64(), true).Draw(t, "max"),
		Text:   texts.Draw(t, "text"), Unit: texts.Draw(t, "unit"),
	}
})

var places = rapid.Custom(func(t *rapid.T) rules.Place {
	return rules.Place{What: texts.Draw(t, "what"), Where: rapid.Ptr(boxes, true).Draw(t, "where"),
		Measured: rapid.Ptr(quantities, true).Draw(t, "measured")}
})

var findings = rapid.Custom(func(t *rapid.T) rules.Finding {
	return rules.Finding{
		Rule: rapid.SampledFrom(rules.RuleIDs()).Draw(t, "rule"), Verdict: verdicts.Draw(t, "verdict"),
		Side: rapid.IntRange(0, 12).Draw(t, "side"), Edge: edges.Draw(t, "edge"), Basis: bases.Draw(t, "basis"),
		Where:    rapid.Ptr(boxes, true).Draw(t, "where"),
		Measured: rapid.Ptr(quantities, true).Draw(t, "measured"), Wanted: rapid.Ptr(quantities, true).Draw(t, "wanted"),
		Message: texts.Draw(t, "message"), Fix: texts.Draw(t, "fix"),
		Also: rapid.SliceOfN(places, 0, 5).Draw(t, "also"),
	}
})

var sides = rapid.Custom(func(t *rapid.T) rules.SideFacts {
	return rules.SideFacts{
		Number: rapid.IntRange(1, 12).Draw(t, "number"), Trim: sizes.Draw(t, "trim"),
		Bleed: rules.Edges{Top: lengths.Draw(t, "top"), Right: lengths.Draw(t, "right"), Bottom: lengths.Draw(t, "bottom"), Left: lengths.Draw(t, "left")},
		Basis: bases.Draw(t, "basis"), Placing: texts.Draw(t, "placing"),
	}
})

var files = rapid.Custom(func(t *rapid.T) rules.FileReport {
	return rules.FileReport{
		Path: texts.Draw(t, "path"), Kind: rapid.SampledFrom([]string{"pdf", "jpeg", "webp", "unknown"}).Draw(t, "kind"),
		SHA256:   rapid.SampledFrom([]string{"", "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"}).Draw(t, "sha256"),
		Verdict:  judged.Draw(t, "verdict"),
		Sides:    rapid.SliceOfN(sides, 0, 7).Draw(t, "sides"),
		Findings: rapid.SliceOfN(findings, 0, 6).Draw(t, "findings"),
	}
})

func reports(tickets ...rules.Ticket) *rapid.Generator[rules.Report] {
	return rapid.Custom(func(t *rapid.T) rules.Report {
		return rules.Report{
			Version: texts.Draw(t, "version"), Ticket: rapid.SampledFrom(tickets).Draw(t, "ticket"),
			Files: rapid.SliceOfN(files, 0, 3).Draw(t, "files"),
		}
	})
}
