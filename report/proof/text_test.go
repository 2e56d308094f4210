package proof

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"stoneproof/rules"
)

// Whatever a name holds, it is shown in letters that the fonts have, without controls,
// and in the room there is.
func TestNamesAreHarmless(t *testing.T) {
	face := newTypeface()
	for _, c := range []struct{ name, want string }{
		{"potter.pdf", "potter.pdf"}, {"Töpferei.pdf", "Töpferei.pdf"},
		{"a\u202egnp.pdf", `a\u202egnp.pdf`}, {"a\nb\x1b[2Jc", `a\nb\x1b[2Jc`}, {"名刺.pdf", `\u540d\u523a.pdf`}, {"\xff", `\xff`},
	} {
		if got := plainly(c.name); got != c.want {
			t.Errorf("%q is shown as %s", c.name, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		text := plainly(rapid.String().Draw(t, "text"))
		if strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsGraphic(r) }) {
			t.Fatalf("%q holds what is not seen", text)
		}
		for _, line := range append(face.wrapped(text, 300, plain), face.shortened(text, 300, title)) {
			if w := max(face.width(line, plain), 0); w > 301 {
				t.Fatalf("%q takes %.0f of 300 pixels", line, w)
			}
		}
	})
}

func TestLongNames(t *testing.T) {
	face := newTypeface()
	for _, name := range []string{strings.Repeat("x", 10000), strings.Repeat("\u202e", 5000), strings.Repeat("é ", 5000)} {
		got := face.shortened(plainly(name), 600, title)
		if !strings.Contains(got, "…") || face.width(got, title) > 600 {
			t.Errorf("a name of %d bytes is shown as %q", len(name), got)
		}
	}
}

// Whatever a report says, a proof of bounded size comes of it.
func TestHostileReports(t *testing.T) {
	far := rules.Length(1e10)
	ticket := cardOf(t, "us-business", 72, busy).ticket
	for name, j := range map[string]job{
		"nothing at all": {},
		"no ticket":      {picture: rules.Picture{Side: 1, Why: "It is\x1b[31m torn."}},
		"far away": cardOf(t, "us-business", 72, busy).with(rules.Finding{Rule: "safe-zone", Verdict: rules.Fail, Where: &rules.Box{X: -far, Y: -far, W: 3 * far, H: far}},
			rules.Finding{Rule: "\u202e" + strings.Repeat("long", 3000), Verdict: rules.Warn, Where: &rules.Box{X: far, Y: far, W: -far, H: -far}}),
		"a thread": jobOf(rules.Ticket{Trim: rules.Size{W: far / 1000, H: 1}, Bleed: 1}, 0.01, busy),
		"all edges": cardOf(t, "us-business", 72, busy).with(rules.Finding{Rule: "bleed-extent", Verdict: rules.Fail, Edge: "up"},
			rules.Finding{Rule: "bleed-extent", Verdict: rules.Skip, Edge: rules.Top}),
		"no trim": {ticket: ticket, picture: rules.Picture{Side: 1, Box: rules.Box{W: 5000, H: 9000}, Image: busy(image.Rect(0, 0, 50, 90))}},
		"empty":   {ticket: ticket, picture: rules.Picture{Side: 1, Image: image.NewRGBA(image.Rectangle{})}},
		"a crowd": func() job {
			j := many(t)
			for range 5 {
				j.file.Findings = append(j.file.Findings, j.file.Findings...)
			}
			j.file.Path = strings.Repeat("/\u2066", 9000)
			return j
		}(),
	} {
		t.Run(name, func(t *testing.T) {
			p := j.draw()
			size := p.Image.Bounds().Size()
			if size.X < 300 || size.Y < 100 || size.X > 2200 || size.Y > 3000 {
				t.Errorf("the proof has %v pixels", size)
			}
		})
	}
}

// A proof is a PNG that says how large the card is and whose it is.
func TestWritePNG(t *testing.T) {
	p := few(t).draw()
	var b bytes.Buffer
	if err := p.WritePNG(&b); err != nil {
		t.Fatal(err)
	}
	whole := b.Bytes()
	if !Ours(bytes.NewReader(whole)) {
		t.Error("a proof is not known for ours")
	}
	img, err := png.Decode(bytes.NewReader(whole))
	if err != nil || img.Bounds() != p.Image.Bounds() {
		t.Fatalf("it reads as %v, %v", img.Bounds(), err)
	}
	if math.Abs(p.PPI-300) > 1 {
		t.Errorf("a card of 300 ppi is drawn at %.1f", p.PPI)
	}
	var other bytes.Buffer
	if err := png.Encode(&other, img); err != nil {
		t.Fatal(err)
	}
	if Ours(&other) || Ours(strings.NewReader("")) || Ours(bytes.NewReader(whole[:50])) {
		t.Error("another file is taken for ours")
	}
	if err := p.WritePNG(full{}); err == nil {
		t.Error("a full disk is no error")
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, io.ErrShortWrite }
