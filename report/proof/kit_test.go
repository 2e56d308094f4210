package proof

import (
	"image"
	"image/color"
	"math"
	"testing"

	"golang.org/x/image/draw"
	"pgregory.net/rapid"

	"stoneproof/rules"
)

// job is what a proof is drawn from.
type job struct {
	file    rules.FileReport
	ticket  rules.Ticket
	picture rules.Picture
}

func (j job) draw() Proof      { return Draw(j.file, j.ticket, j.picture) }
func (j job) layout() *drawing { return newDrawing(j.file, j.ticket, j.picture) }
func (j job) with(findings ...rules.Finding) job {
	for i := range findings {
		findings[i].Side = 1
	}
	j.file.Findings = findings
	return j
}

// cardOf is a job of one side with its full bleed, shown at ppi by art.
func cardOf(t testing.TB, size string, ppi float64, art func(image.Rectangle) image.Image) job {
	t.Helper()
	ticket, err := rules.Order{Size: size}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return jobOf(ticket, ppi, art)
}

func jobOf(ticket rules.Ticket, ppi float64, art func(image.Rectangle) image.Image) job {
	box := rules.Box{W: ticket.Trim.W, H: ticket.Trim.H}.Inset(-ticket.Bleed)
	size := image.Rect(0, 0, int(math.Round(box.W.Pixels(ppi))), int(math.Round(box.H.Pixels(ppi))))
	return job{
		file: rules.FileReport{Path: "cards/potter.pdf", Kind: "pdf", Sides: []rules.SideFacts{{
			Number: 1, Trim: ticket.Trim, Bleed: rules.Even(ticket.Bleed), Basis: rules.Read, Placing: "by its TrimBox",
		}}},
		ticket: ticket, picture: rules.Picture{Side: 1, Box: box, Image: art(size)},
	}
}

func flat(c color.RGBA) func(image.Rectangle) image.Image {
	return func(r image.Rectangle) image.Image {
		img := image.NewRGBA(r)
		draw.Draw(img, r, image.NewUniform(c), image.Point{}, draw.Src)
		return img
	}
}

// busy is art in which no two neighbours are alike, as colourful as can be.
func busy(r image.Rectangle) image.Image {
	img := image.NewRGBA(r)
	for y := range r.Dy() {
		for x := range r.Dx() {
			n := uint32(x/3)*2654435761 ^ uint32(y/3)*2246822519
			img.SetRGBA(x, y, color.RGBA{byte(n >> 8), byte(n >> 16), byte(n >> 24), 255})
		}
	}
	return img
}

// grounds are the arts that marks must be seen on.
func grounds() map[string]func(image.Rectangle) image.Image {
	return map[string]func(image.Rectangle) image.Image{
		"white": flat(color.RGBA{255, 255, 255, 255}), "black": flat(color.RGBA{0, 0, 0, 255}),
		"grey": flat(color.RGBA{119, 119, 119, 255}), "red": flat(color.RGBA{200, 30, 30, 255}),
		"raspberry": flat(failed), "petrol": flat(warned), "ink": flat(ink), "busy": busy,
	}
}

// mm is a box in millimetres.
func mm(x, y, w, h float64) *rules.Box {
	return &rules.Box{X: rules.MM(x), Y: rules.MM(y), W: rules.MM(w), H: rules.MM(h)}
}

// anyJob draws a job of any size, bleed, resolution and findings.
func anyJob(t *rapid.T) job {
	um := func(name string, lo, hi float64) rules.Length {
		return rules.MM(rapid.Float64Range(lo, hi).Draw(t, name))
	}
	ticket := rules.Ticket{
		Trim:  rules.Size{W: um("width", 20, 210), H: um("height", 20, 210)},
		Bleed: um("bleed", 0, 6), Safe: um("safe", 0, 6),
		Unit: rapid.SampledFrom([]rules.Unit{rules.UnitMM, rules.UnitIn, rules.UnitPt}).Draw(t, "unit"),
	}
	j := jobOf(ticket, rapid.Float64Range(40, 330).Draw(t, "ppi"), flat(paper))
	j.file.Sides[0].Bleed.Left = min(ticket.Bleed, um("room", 0, 6))
	return j.with(rapid.SliceOfN(anyFinding(ticket.Trim), 0, 14).Draw(t, "findings")...)
}

func anyFinding(trim rules.Size) *rapid.Generator[rules.Finding] {
	box := func(t *rapid.T) *rules.Box {
		x, y := rapid.Float64Range(-0.1, 1.1).Draw(t, "x"), rapid.Float64Range(-0.1, 1.1).Draw(t, "y")
		w, h := rapid.Float64Range(0, 0.4).Draw(t, "w"), rapid.Float64Range(0, 0.4).Draw(t, "h")
		return mm(x*trim.W.MM(), y*trim.H.MM(), w*trim.W.MM(), h*trim.H.MM())
	}
	return rapid.Custom(func(t *rapid.T) rules.Finding {
		f := rules.Finding{
			Rule:    rapid.SampledFrom(rules.RuleIDs()).Draw(t, "rule"),
			Verdict: rapid.SampledFrom([]rules.Verdict{rules.Fail, rules.Warn, rules.Skip, rules.Pass}).Draw(t, "verdict"),
			Edge:    rapid.SampledFrom([]rules.Edge{"", rules.Top, rules.Right, rules.Bottom, rules.Left}).Draw(t, "edge"),
		}
		if rapid.IntRange(0, 3).Draw(t, "placed") > 0 {
			f.Where = box(t)
			for range rapid.IntRange(0, 2).Draw(t, "also") {
				f.Also = append(f.Also, rules.Place{Where: box(t)})
			}
		}
		return f
	})
}
