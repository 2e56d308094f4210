package gate

import (
	"context"
	"fmt"
	"runtime"
	"testing"
	"time"
)

// BenchmarkDrain drains an intake with a judge that takes no time: what is left is the
// gate's own cost a file, which must not grow with their number, and its memory.
func BenchmarkDrain(b *testing.B) {
	for _, files := range []int{100, 2000} {
		b.Run(fmt.Sprint(files), func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				s := newSite(b)
				for n := range files {
					s.drop(b, fmt.Sprintf("shop-%d/card-%d.pdf", n%7, n), fmt.Sprint(n, " END"))
				}
				cfg := s.config()
				cfg.Once, cfg.Settle = true, time.Millisecond
				g := newGate(b, cfg)
				b.StartTimer()
				o, err := g.Run(context.Background())
				if err != nil || o.Cleared != files {
					b.Fatal(o, err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*files), "µs/file")
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.HeapSys)/1e6, "MB")
		})
	}
}
