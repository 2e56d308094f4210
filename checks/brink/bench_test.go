package brink_test

import (
	"fmt"
	"testing"

	"stoneproof/checks/brink"
)

// The measures of one side: a plain card, a photograph, and a lattice cut
// short, which has the most to look at; at 300 ppi, and the last at 600 too.
func BenchmarkBleed(b *testing.B) { bench(b, func(c brink.Canvas) { brink.Bleed(c, wantedBleed) }) }

func BenchmarkSafe(b *testing.B) {
	bench(b, func(c brink.Canvas) { brink.ReadGround(c).Intruders(wantedBleed) })
}

func BenchmarkBorder(b *testing.B) { bench(b, func(c brink.Canvas) { brink.ReadMargins(c).Border() }) }

func BenchmarkCutMarks(b *testing.B) {
	bench(b, func(c brink.Canvas) { brink.FindCutMarks(c, wantedBleed) })
}

func bench(b *testing.B, run func(c brink.Canvas)) {
	short := picture{"lattice cut short", business, func(s *sheet) {
		s.lattice()
		cuts()[0].make(s)
	}}
	for _, at := range []struct {
		picture
		ppi float64
	}{{flatGrounds()[1], 300}, {photographs()[0], 300}, {photographs()[6], 300}, {short, 300}, {short, 600}} {
		s := at.sheet(at.ppi, 1)
		for _, how := range []form{rendered, q90} {
			c := s.canvas(how)
			b.Run(fmt.Sprintf("%s/%g/%s", at.name, at.ppi, how.name), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					run(c)
				}
			})
		}
	}
}
