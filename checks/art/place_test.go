package art

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/checks/art/raster"
	"stoneproof/rules"
)

func ticketFor(t testing.TB, size string) rules.Ticket {
	t.Helper()
	ticket, err := rules.Order{Size: size}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return ticket
}

func TestFitSize(t *testing.T) {
	const none = Unplaced
	for _, c := range []struct {
		ticket, outer, trim string
		placing             Placing
	}{
		// 3.5 × 2 in with 1/8 in an edge is 3.75 × 2.25 in; read as a total it
		// would be 3.625 × 2.125 in (facts of the trade: always say per edge).
		{"us-business", "3.5x2in", "3.5x2in", ByPageSize},
		{"us-business", "3.75x2.25in", "3.5x2in", ByPageWithBleed},
		{"us-business", "3.625x2.125in", "3.5x2in", ByPageWithBleed},
		{"us-business", "2.25x3.75in", "2x3.5in", ByPageWithBleed},
		{"us-business", "92.9x54.8mm", "3.5x2in", ByPageWithBleed}, // 2 mm an edge
		{"us-business", "85x55mm", "85x55mm", ByOtherSize},
		{"us-business", "91x61mm", "85x55mm", ByOtherSize},
		{"us-business", "100x60mm", "", none},
		{"us-business", "3.5x3.5in", "", none},
		// ISO/IEC 7810 ID-1 differs from the 85 × 55 mm card by +0.60, −1.02 mm.
		{"eu-business", "85.6x53.98mm", "85.6x53.98mm", ByOtherSize},
		{"eu-business", "91.6x59.98mm", "85.6x53.98mm", ByOtherSize},
		{"id-1", "85x55mm", "85x55mm", ByOtherSize},
		{"eu-business", "91x61mm", "85x55mm", ByPageWithBleed},
		{"jp-business", "91x55mm", "91x55mm", ByPageSize},
		{"poker", "69.5x94.9mm", "63.5x88.9mm", ByOtherSize},
	} {
		outer, err := rules.ParseSize(c.outer)
		if err != nil {
			t.Fatal(err)
		}
		ticket := ticketFor(t, c.ticket)
		got, ok := fitSize(outer, ticket, ticket.Limits.TrimTolerance)
		if c.placing == none {
			if ok {
				t.Errorf("%s in %s: want no fit, got %v %s", c.ticket, c.outer, got.trim, got.placing)
			}
			continue
		}
		want, err := rules.ParseSize(c.trim)
		if err != nil {
			t.Fatal(err)
		}
		if got.placing != c.placing || got.trim != want {
			t.Errorf("%s in %s: got %v %s, want %v %s", c.ticket, c.outer, got.trim, got.placing, want, c.placing)
		}
	}
}

// A picture without a density is known by its shape at any resolution.
func TestFitShapeFindsEveryCard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom(rules.Sizes()).Draw(t, "size")
		bleed := rapid.SampledFrom([]rules.Length{0, n.Bleed}).Draw(t, "bleed")
		ppi := rapid.Float64Range(150, 1200).Draw(t, "ppi")
		trim := n.Trim
		if rapid.Bool().Draw(t, "turned") {
			trim = trim.Turned()
		}
		round := rapid.SampledFrom([]func(float64) float64{math.Round, math.Ceil, math.Floor}).Draw(t, "round")
		outer := trim.Grow(bleed)
		px := func(l rules.Length) int { return int(round(l.Pixels(ppi))) }
		ticket, err := rules.Order{Size: n.Name}.Ticket()
		if err != nil {
			t.Fatal(err)
		}
		s := &Side{Header: &raster.Header{Width: px(outer.W), Height: px(outer.H)}, bleed: ticket.Bleed}
		s.placeImage(ticket)
		if s.Placing != ByShape || s.Trim != trim {
			t.Fatalf("%d × %d px: got %v %s, want %v", s.Header.Width, s.Header.Height, s.Trim, s.Placing, trim)
		}
		if off := (s.Room.Least() - bleed).Abs(); off > rules.MM(0.25) {
			t.Fatalf("%d × %d px: room %v, want %v", s.Header.Width, s.Header.Height, s.Room.Least(), bleed)
		}
		x, y := s.PPI()
		if math.Abs(x-ppi) > 0.01*ppi || math.Abs(y-ppi) > 0.01*ppi {
			t.Fatalf("read %.1f × %.1f ppi, drawn at %.1f", x, y, ppi)
		}
	})
}

// Worked examples: pixels of cards at 300 ppi, and pictures that are no card.
func TestFitShapeExamples(t *testing.T) {
	for _, c := range []struct {
		ticket string
		w, h   int
		room   float64 // mm; -1: no card
	}{
		{"us-business", 1125, 675, 3.175}, // 3.75 × 2.25 in
		{"us-business", 1050, 600, 0},     // 3.5 × 2 in, the trim alone
		{"us-business", 675, 1125, 3.175},
		{"us-business", 1121, 671, 3}, // 94.9 × 56.8 mm: a bleed of 3 mm
		{"eu-business", 1075, 720, 3}, // 91 × 61 mm: 1074.8 × 720.5 px
		{"us-business", 1600, 1200, -1},
		{"us-business", 1080, 1080, -1},
		{"us-business", 50, 30, -1}, // the shape, at 13 ppi
	} {
		s := &Side{Header: &raster.Header{Width: c.w, Height: c.h}}
		s.placeImage(ticketFor(t, c.ticket))
		if c.room < 0 {
			if s.Placed() {
				t.Errorf("%d × %d px: want no card, got %v", c.w, c.h, s.Trim)
			}
			continue
		}
		if !s.Placed() || math.Abs(s.Room.Least().MM()-c.room) > 0.1 {
			t.Errorf("%d × %d px: %s with room %v, want %v mm", c.w, c.h, s.Placing, s.Room, c.room)
		}
	}
}

// 300 ppi does not survive whole numbers: 11811 px/m is 299.9994 ppi, 118 px/cm
// 299.72. Neither may cost a card its place or its verdict.
func TestDensityRounding(t *testing.T) {
	for _, ppi := range []float64{300, 11811 * 0.0254, 118 * 2.54} {
		s := &Side{Header: &raster.Header{Width: 1125, Height: 675, Density: raster.Density{X: ppi, Y: ppi}}}
		s.placeImage(ticketFor(t, "us-business"))
		if s.Placing != ByPageWithBleed || s.Basis != rules.Measured {
			t.Errorf("%.4f ppi: %s, %s", ppi, s.Placing, s.Basis)
		}
	}
}
