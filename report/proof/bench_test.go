package proof

import (
	"io"
	"testing"

	"stoneproof/rules"
)

// many is a job with as many faults as are pointed at.
func many(t testing.TB) job {
	j := cardOf(t, "us-business", 300, busy)
	var findings []rules.Finding
	for i := range mostSpots {
		findings = append(findings, rules.Finding{
			Rule: "text-size", Verdict: rules.Fail, Where: mm(float64(i%8)*10+4, float64(i/8)*9+3, 6, 2),
		})
	}
	return j.with(findings...)
}

func few(t testing.TB) job {
	j := many(t)
	j.file.Findings = j.file.Findings[:5]
	return j
}

func BenchmarkDraw(b *testing.B) {
	for name, j := range map[string]job{"none": cardOf(b, "us-business", 300, busy), "few": few(b), "many": many(b), "a6": cardOf(b, "a6", 300, busy)} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				j.draw()
			}
		})
	}
}

func BenchmarkPlaceTags(b *testing.B) {
	j := many(b)
	for b.Loop() {
		j.layout()
	}
}

func BenchmarkWritePNG(b *testing.B) {
	p := few(b).draw()
	for b.Loop() {
		if err := p.WritePNG(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
