package codes_test

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/checks/checktest/outside"
	"stoneproof/checks/codes"
)

// byZbar is what an independent reader reads in a picture.
func byZbar(t *testing.T, p codes.Plane) string {
	t.Helper()
	tool := outside.Tool(t, "zbarimg")
	path := filepath.Join(t.TempDir(), "code.png")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, &image.Gray{Pix: p.Pix, Stride: p.W, Rect: image.Rect(0, 0, p.W, p.H)}); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	// It ends with an error where it finds none.
	out, _ := exec.Command(tool, "-q", "--raw", "-Sdisable", "-Sqrcode.enable", path).Output()
	return strings.TrimSpace(string(out))
}

// TestAgreesWithZbar: what the independent reader reads we read too, and as it does.
// It gives up below some two pixels a module, and does not take light on dark.
func TestAgreesWithZbar(t *testing.T) {
	for _, look := range []struct {
		name string
		set  func(*symbol)
	}{
		{"black on white", func(*symbol) {}},
		{"grey, 40 %", func(s *symbol) { s.dark = 153 }},
		{"grey, 20 %", func(s *symbol) { s.dark = 204 }},
		{"on dark, label of 4 modules", func(s *symbol) { s.quiet, s.ground = 4, 30 }},
		{"on dark, label of 1 module", func(s *symbol) { s.quiet, s.ground = 1, 30 }},
		{"light on dark", func(s *symbol) { s.dark, s.light, s.ground = 255, 20, 20 }},
		{"on waves and grain", func(s *symbol) {
			w := busy()
			s.light, s.ground, s.dark = 185, 185, 30
			s.texture = func(x, y float64) float64 { return 0.4 * w.texture(x, y) }
		}},
	} {
		for _, module := range []float64{0.15, 0.25, 0.5} {
			t.Run(look.name, func(t *testing.T) {
				ours, theirs := 0, 0
				for k := range 6 {
					s := plain(long(1+(3*k)%10), module)
					s.turned = float64(k) * 37
					look.set(&s)
					p := s.alone(t, 300)
					found := codes.Read(p, dot)
					read := len(found) == 1 && found[0].Readable && found[0].Text == s.text
					other := byZbar(t, p)
					if other != "" {
						theirs++
					}
					if read {
						ours++
					}
					if other != "" && (!read || other != found[0].Text) {
						t.Errorf("%g mm turned by %g: it reads %q, we %+v", module, s.turned, other, found)
					}
				}
				t.Logf("%g mm: of 6 we read %d, zbarimg %d", module, ours, theirs)
				if ours < 5 {
					t.Errorf("%g mm: we read %d of 6", module, ours)
				}
			})
		}
	}
}

// TestReadersBySize compares us with the independent reader on codes of every size of
// module, from one rendering each: versions 1 to 10, turned. Its table, told with -v,
// stands in DEVELOPERS.md.
func TestReadersBySize(t *testing.T) {
	if testing.Short() {
		t.Skip("draws many codes")
	}
	const each = 8
	var table strings.Builder
	table.WriteString("| module, mm | px at 300 ppi | we read | zbarimg reads | px at 600 ppi | we read | zbarimg reads |\n|---|---|---|---|---|---|---|\n")
	for _, module := range []float64{0.15, 0.17, 0.2, 0.25, 0.33, 0.5, 0.7, 1} {
		fmt.Fprintf(&table, "| %.2f |", module)
		for _, ppi := range []float64{300, 600} {
			if ppi > 300 && module > 0.33 {
				table.WriteString(" | | |")
				continue
			}
			ours, theirs := 0, 0
			for k := range each {
				s := plain(long(1+(3*k)%10), module)
				s.turned = float64(k) * 37
				p := s.alone(t, ppi)
				found := codes.Read(p, dot)
				read := len(found) == 1 && found[0].Readable && found[0].Text == s.text
				other := byZbar(t, p) == s.text
				if read {
					ours++
				}
				if other {
					theirs++
				}
				if other && !read {
					t.Errorf("%g mm at %g ppi, turned by %g: read by zbarimg alone", module, ppi, s.turned)
				}
			}
			fmt.Fprintf(&table, " %.1f | %d of %d | %d of %d |", module/25.4*ppi, ours, each, theirs, each)
		}
		table.WriteString("\n")
	}
	t.Log("\n" + table.String())
}
