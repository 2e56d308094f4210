package codes

// A timing pattern runs in row 6 and column 6 between the finder patterns: modules
// that alternate, the first one dark (ISO/IEC 18004, 5.3.5).
const timingAt = 6

// plainness is how plain a timing pattern must be.
type plainness struct {
	swing float64 // from one module to the next, of the symbol's contrast
	share float64 // of the steps that must go the right way
}

// A small symbol has eight steps; one may be wrong. By chance no more than half go
// right. Where a module has few pixels the steps blur into each other: over 1500 codes
// drawn with modules of 1.3 to 3 pixels, half of them in grain, at least 95 of 100 steps
// rise by an eighth all the same, and over 144 cards of busy patterns that hold no code
// never more than 60.
func plain() plainness  { return plainness{1.0 / 4, 0.85} }
func hinted() plainness { return plainness{1.0 / 8, 0.7} }

// timed finds the count of modules for which the timing patterns fit best, near the
// one that the finder patterns tell, and whether they are as plain as asked for.
func (p *Plane) timed(f frame, how plainness) (best frame, ok bool) {
	best = f
	score := -1.0
	for _, d := range []int{0, -1, 1, -2, 2} {
		n := f.modules + d*step
		if n < fewest || n > most {
			continue
		}
		g := f.resized(n)
		if s := p.timing(&g, how.swing); s > score {
			best, score = g, s
		}
	}
	return best, score >= how.share
}

// timing is the share of steps from one module of the timing patterns to the next
// that go the right way, by so much of the symbol's contrast.
func (p *Plane) timing(f *frame, swing float64) float64 {
	dark, light := p.ends(f)
	least := (light - dark) * swing
	right, all := 0, 0
	for _, across := range [2]bool{true, false} {
		before := 0.0
		for k := timingAt + 1; k <= f.modules-timingAt-2; k++ {
			q := f.at(float64(k)+0.5, timingAt+0.5)
			if !across {
				q = f.at(timingAt+0.5, float64(k)+0.5)
			}
			v := p.light(q)
			if k > timingAt+1 {
				rise := v - before // to an odd module, which is light
				if k%2 == 0 {
					rise = -rise
				}
				all++
				if rise*least > 0 && rise/least >= 1 {
					right++
				}
			}
			before = v
		}
	}
	return float64(right) / float64(max(1, all))
}

// ends are the means of the dark and the light of the three finder patterns: their
// middles, and the light rings around those. In a code light on dark the first is
// the lighter one.
func (p *Plane) ends(f *frame) (dark, light float64) {
	n := float64(f.modules)
	for _, c := range [3]Point{{3.5, 3.5}, {n - 3.5, 3.5}, {3.5, n - 3.5}} {
		dark += p.light(f.at(c.X, c.Y)) / 3
		for _, d := range [4]Point{{2, 0}, {-2, 0}, {0, 2}, {0, -2}} {
			light += p.light(f.at(c.X+d.X, c.Y+d.Y)) / 12
		}
	}
	return dark, light
}
