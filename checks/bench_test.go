package checks_test

import (
	"context"
	"os/exec"
	"path/filepath"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// benchCards are the two files that people check most: a page, and a picture of
// a US business card with its bleed at 300 ppi, 1125 × 675 px.
func benchCards(b *testing.B) map[string]string {
	drawn := press.Card{Maker: "potter", Style: press.Gradient, Size: "us-business"} // its brink has to be drawn
	return map[string]string{
		"page":       kept(b, "page.pdf", drawn.PDF()),
		"plain page": kept(b, "plain.pdf", darkCard().PDF()),
		"picture":    kept(b, "picture.jpg", drawn.JPEG(300, press.In(press.CMYK))),
	}
}

// BenchmarkWarm judges a file where everything has been started already.
func BenchmarkWarm(b *testing.B) {
	for name, path := range benchCards(b) {
		b.Run(name, func(b *testing.B) {
			j := checktest.NewJudge(b, rules.Order{}, checks.All()...)
			j.File(context.Background(), path)
			for b.Loop() {
				j.File(context.Background(), path)
			}
		})
	}
}

// BenchmarkRules compares the ten rules of size, bleed, resolution and colour with all
// rules, on pictures of 1125 × 675 px: all should cost less than twice the ten.
func BenchmarkRules(b *testing.B) {
	ten := checks.All()[:0:0]
	for _, c := range checks.All() {
		switch c.Rule {
		case "file-opens", "side-count", "page-boxes", "trim-size", "bleed-extent", "bleed-fill",
			"safe-zone", "effective-resolution", "colour-space", "colour-tags":
			ten = append(ten, c)
		}
	}
	for kind, file := range map[string]string{
		"JPEG": "ferryman-gradient-us-business.jpg",
		"PNG":  "clock-mender-broadside-us-business.png",
		"TIFF": "paper-marbler-striped-us-business.tif",
	} {
		path := filepath.Join("..", "testdata", "good", file)
		for name, list := range map[string][]*checks.Check{"ten": ten, "all": checks.All()} {
			b.Run(kind+" "+name, func(b *testing.B) {
				j := checktest.NewJudge(b, rules.Order{}, list...)
				for b.Loop() {
					j.File(context.Background(), path)
				}
			})
		}
	}
}

// BenchmarkColdProcess runs the program itself, from start to verdict. The
// renderer's machine code is in the cache folder.
func BenchmarkColdProcess(b *testing.B) {
	program := filepath.Join(b.TempDir(), "stoneproof")
	if out, err := exec.Command("go", "build", "-o", program, "../cmd/stoneproof").CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	for name, path := range benchCards(b) {
		b.Run(name, func(b *testing.B) {
			run := func() {
				if out, err := exec.Command(program, "check", path).CombinedOutput(); err != nil {
					b.Fatalf("%v: %s", err, out)
				}
			}
			run()
			for b.Loop() {
				run()
			}
		})
	}
}
