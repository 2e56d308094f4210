package page_test

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/report/page"
	"stoneproof/rules"
)

// The examples are cards of makers of the market town of Wendlebury Cross.

// hostile is what a file may call itself: a tag, a quote that would end an
// attribute, a turn of the writing, a control, a byte that is no letter, and an
// address that runs.
const hostile = "<script>alert(1)</script>\"'`><img src=x onerror=alert(2)>\u202egnp.\u2066\x1b[31m\x00\xff javascript:alert(3) {{.}} ]]>"

func ticket(t testing.TB) rules.Ticket {
	t.Helper()
	made, err := rules.Order{}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return made
}

func box(x, y, w, h float64) *rules.Box {
	return &rules.Box{X: rules.MM(x), Y: rules.MM(y), W: rules.MM(w), H: rules.MM(h)}
}

// potter is a card of two sides with one finding on the first, two on the second,
// one of the file as a whole and one rule that was not judged.
func potter(tk rules.Ticket) rules.FileReport {
	f := rules.FileReport{Path: "cards/potter.pdf", Kind: "pdf", SHA256: strings.Repeat("0a", 32), Verdict: rules.Fail}
	for side := 1; side <= 2; side++ {
		f.Sides = append(f.Sides, rules.SideFacts{Number: side, Trim: tk.Trim, Bleed: rules.Even(tk.Bleed), Basis: rules.Read, Placing: "by its TrimBox"})
	}
	f.Findings = []rules.Finding{
		{Rule: "page-boxes", Verdict: rules.Warn, Message: "The file says it is PDF/X-4, but its output intent is missing.", Fix: "Export it again with that standard chosen."},
		{Rule: "bleed-fill", Verdict: rules.Fail, Side: 1, Edge: rules.Left, Where: box(-3.175, 10, 3.175, 8), Message: "Paint stops 1.2 mm past the trim at the left edge; 3.18 mm is wanted.", Fix: "Extend the background to 3.18 mm past the trim at the left edge: 1.98 mm more."},
		{Rule: "text-size", Verdict: rules.Skip, Side: 1, Message: "In a picture, type is pixels."},
		{Rule: "hairlines", Verdict: rules.Skip, Side: 1, Message: "In a picture, type is pixels."},
		{Rule: "trim-size", Verdict: rules.Pass, Side: 1, Message: "The trim is right."},
		{Rule: "safe-zone", Verdict: rules.Warn, Side: 2, Where: box(2, 44, 12, 3), Message: "Something lies 2 mm from the trim.", Fix: "Move it inwards."},
		{Rule: "bleed-fill", Verdict: rules.Fail, Side: 2, Edge: rules.Top, Where: box(30, -3.175, 9, 3.175), Message: "Paint stops at the trim at the top edge.", Fix: "Extend the background.", Also: []rules.Place{{What: "right of it"}}},
		{Rule: "code-scan", Verdict: rules.Skip, Side: 2, Where: box(60, 30, 12, 12), Message: "The code is of a kind that is not read."},
		{Rule: "trim-size", Verdict: rules.Pass, Side: 2, Message: "The trim is right."},
	}
	return f
}

// hedger is a card on which everything that can be named is hostile.
func hedger(tk rules.Ticket) rules.FileReport {
	f := potter(tk)
	f.Path = hostile + strings.Repeat("hedge", 2000) + ".pdf"
	f.Kind, f.SHA256 = hostile, hostile
	for i := range f.Findings {
		f.Findings[i].Message += hostile
		f.Findings[i].Fix += hostile
		f.Findings[i].Also = append(f.Findings[i].Also, rules.Place{What: hostile})
	}
	f.Findings = append(f.Findings, rules.Finding{Rule: hostile, Verdict: rules.Fail, Side: 1, Edge: rules.Edge(hostile), Message: hostile})
	f.Sides[0].Placing = hostile
	return f
}

func report(tk rules.Ticket, files ...rules.FileReport) rules.Report {
	return rules.Report{Version: "devel", Ticket: tk, Files: files}
}

// proofs draws no proof but a sheet of grey: what counts here is where its places
// lie.
func proofs(t testing.TB) func(file, side int) *page.Proof {
	t.Helper()
	size := image.Pt(1180, 720)
	sheet := image.NewRGBA(image.Rectangle{Max: size})
	draw.Draw(sheet, sheet.Bounds(), image.NewUniform(color.Gray{0xb0}), image.Point{}, draw.Src)
	var b bytes.Buffer
	if err := png.Encode(&b, sheet); err != nil {
		t.Fatal(err)
	}
	return func(_, side int) *page.Proof {
		return &page.Proof{PNG: b.Bytes(), Size: size, Places: []page.Place{
			{Number: 1, Tag: image.Rect(10, 200, 70, 260), Frame: image.Rect(100, 200, 200, 260)},
			{Number: 2, Tag: image.Rect(500, 10, 560, 70)},
			{Number: 3, Tag: image.Rect(40, 600, 100, 660)},
			{Number: 4, Tag: image.Rect(1100, 400, 1160, 460), Frame: image.Rect(800, 400, 960, 560)},
		}}
	}
}

// failer is what tests and properties have in common.
type failer interface {
	Helper()
	Fatal(args ...any)
}

func written(t failer, r rules.Report, o page.Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := page.Write(&b, r, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// onDisk is the address of a page as a customer opens it: from a folder.
func onDisk(t testing.TB, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "report.html")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return "file://" + file
}
