package proof

import (
	"image"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/rules"
)

// Each place that is told is one finding's, lies in the picture, and is where the
// finding is drawn.
func TestPlacesAreThoseOfTheFindings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		p := j.draw()
		numbered := map[int]bool{}
		for _, n := range rules.Numbers(j.file.Findings) {
			numbered[n] = n > 0
		}
		d := j.layout()
		for _, at := range p.Places {
			if !numbered[at.Number] {
				t.Fatalf("the place of %d is told twice, or is nobody's", at.Number)
			}
			numbered[at.Number] = false
			if !at.Tag.In(p.Image.Bounds()) || at.Tag.Empty() {
				t.Fatalf("the tag of %d, %v, is not in the picture, %v", at.Number, at.Tag, p.Image.Bounds())
			}
			for _, s := range d.spots {
				if s.number == at.Number && !s.further && (at.Tag != s.tag.pixels() || !covers(at.Frame, s.frame)) {
					t.Fatalf("%d is told at %v and %v, and drawn at %v and %v", s.number, at.Tag, at.Frame, s.tag, s.frame)
				}
			}
		}
	})
}

// covers allows for the half pixel by which a frame may lie between pixels.
func covers(r image.Rectangle, f rect) bool {
	return rect{float64(r.Min.X) - 1, float64(r.Min.Y) - 1, float64(r.Max.X) + 1, float64(r.Max.Y) + 1}.within(f) == f
}
