package proof

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"stoneproof/rules"
)

// Eyes and papers that a proof is looked at with.
var seenAs = map[string]func(color.RGBA) color.RGBA{
	"colour": func(c color.RGBA) color.RGBA { return c },
	// Luma of ITU-R BT.601, by which printers' drivers turn colours grey.
	"grey print": func(c color.RGBA) color.RGBA {
		y := byte(math.Round(0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B)))
		return color.RGBA{y, y, y, 255}
	},
	// Machado, Oliveira, Fernandes, A Physiologically-based Model for Simulation of
	// Color Vision Deficiency, IEEE TVCG 15(6), 2009: deuteranomaly of severity 1, on
	// linear RGB (values from memory).
	"deuteranope": func(c color.RGBA) color.RGBA {
		r, g, b := linear(c.R), linear(c.G), linear(c.B)
		return color.RGBA{
			companded(0.367322*r + 0.860646*g - 0.227968*b),
			companded(0.280085*r + 0.672501*g + 0.047413*b),
			companded(-0.011820*r + 0.042940*g + 0.968881*b), 255,
		}
	},
}

// linear and companded are the curve of IEC 61966-2-1 and back.
func linear(v byte) float64 {
	if c := float64(v) / 255; c > 0.04045 {
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return float64(v) / 255 / 12.92
}

func companded(v float64) byte {
	v = max(0, min(1, v))
	if v <= 0.0031308 {
		return byte(math.Round(255 * 12.92 * v))
	}
	return byte(math.Round(255 * (1.055*math.Pow(v, 1/2.4) - 0.055)))
}

// contrast is the contrast ratio of WCAG 2.2, section 8.
func contrast(a, b color.RGBA) float64 {
	l := func(c color.RGBA) float64 { return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B) + 0.05 }
	return max(l(a), l(b)) / min(l(a), l(b))
}

func TestContrastOfColours(t *testing.T) {
	if got := contrast(color.RGBA{A: 255}, paper); math.Abs(got-21) > 0.001 {
		t.Fatalf("black on white has %v", got)
	}
	for eyes, see := range seenAs {
		for name, c := range map[string]color.RGBA{"ink": ink, "failed": failed, "warned": warned} {
			if got := contrast(see(c), see(paper)); got < 9 {
				t.Errorf("%s on its casing has %.2f to 1 in %s", name, got, eyes)
			}
		}
	}
}

// Every mark stands out from the art beneath it, measured in pixels: its core from its
// casing, and one of the two from the ground, at 3 to 1 and more, along all of it, on
// any ground, in grey print and to deuteranopes.
func TestMarksStandOut(t *testing.T) {
	for name, art := range grounds() {
		t.Run(name, func(t *testing.T) {
			j := cardOf(t, "us-business", 300, art)
			bare := j.with().draw()
			j = j.with(
				rules.Finding{Rule: "safe-zone", Verdict: rules.Fail, Where: mm(20, 15, 18, 6)},
				rules.Finding{Rule: "edge-border", Verdict: rules.Warn, Where: mm(50, 25, 18, 8)},
				rules.Finding{Rule: "code-scan", Verdict: rules.Skip, Where: mm(20, 32, 12, 8)},
			)
			d, img := j.layout(), j.draw().Image
			off := d.view.rect(d.view.box)
			was := bareLayout(j).view.rect(d.view.box)
			ground := func(x, y float64) color.RGBA { // of the same place without marks
				return bare.Image.RGBAAt(int(x-off.x0+was.x0), int(y-off.y0+was.y0))
			}
			m := measure{t, img, ground, d.spots}
			for _, s := range d.spots {
				m.rectangle(fmt.Sprintf("frame of %s", s.verdict), frameMark(s.verdict), s.frame)
				toward := s.leader[1].less(s.leader[0]).times(1 / s.leader[1].distance(s.leader[0]))
				m.line(fmt.Sprintf("leader of %s", s.verdict), leaderMark(s.verdict),
					s.leader[0].add(toward.times(30)), s.leader[1].less(toward.times(12)))
			}
			m.ground = func(x, y float64) color.RGBA { // lines stand on the art itself
				at := d.artRect()
				return color.RGBAModel.Convert(j.picture.Image.At(int(x)-at.Min.X, int(y)-at.Min.Y)).(color.RGBA)
			}
			card := d.view.rect(d.card()).snapped()
			m.rectangle("trim", trimMark(), card)
			m.rectangle("safe line", safeMark(), d.view.rect(d.card().Inset(j.ticket.Safe)).snapped())
		})
	}
}

func bareLayout(j job) *drawing { return j.with().layout() }

// measure compares marks with what they lie on.
type measure struct {
	t      *testing.T
	img    *image.RGBA
	ground func(x, y float64) color.RGBA
	spots  []spot
}

// busyAt reports whether a leader or its knob runs over the place, other than along it.
func (m measure) busyAt(name string, p pt) bool {
	for _, s := range m.spots {
		if !strings.HasPrefix(name, "leader") && runsOver(s.leader, square(p, 9)) {
			return true
		}
	}
	return false
}

func (m measure) rectangle(name string, k mark, r rect) {
	o := corners(r)
	for i := range o {
		a, b := o[i], o[(i+1)%4]
		in := b.less(a).times(8 / a.distance(b)) // clear of the corners
		m.line(name, k, a.add(in), b.less(in))
	}
}

// line walks along an upright or level line. Of a broken one, what lies in the gaps is
// passed over, but a third of it at least must be there.
func (m measure) line(name string, k mark, a, b pt) {
	m.t.Helper()
	along := b.less(a).times(1 / a.distance(b))
	across := pt{-along.y, along.x}
	seen, steps := 0, 0
	for s := 0.0; s < a.distance(b); s++ {
		p := a.add(along.times(s))
		if m.busyAt(name, p) {
			continue
		}
		steps++
		core := m.img.RGBAAt(int(math.Floor(p.x-0.5*math.Abs(across.x))), int(math.Floor(p.y-0.5*math.Abs(across.y))))
		if core != k.colour {
			continue
		}
		edge := p.add(across.times(k.core/2 + k.casing/2))
		casing, ground := m.img.RGBAAt(int(math.Floor(edge.x)), int(math.Floor(edge.y))), m.ground(p.x, p.y)
		if k.dash > 0 && contrast(casing, paper) > 1.1 {
			continue // art of the mark's own colour in a gap
		}
		seen++
		for eyes, see := range seenAs {
			best := max(contrast(see(core), see(ground)), contrast(see(casing), see(ground)))
			if best < 3 || contrast(see(core), see(casing)) < 3 {
				m.t.Fatalf("%s at %.0f, %.0f: core %v, casing %v on %v, in %s", name, p.x, p.y, core, casing, ground, eyes)
			}
		}
	}
	least := 0.95
	if k.dash > 0 {
		least = 0.6 * k.dash / (k.dash + k.gap)
	}
	if float64(seen) < least*float64(steps) {
		m.t.Errorf("%s: %d of %d steps show it", name, seen, steps)
	}
}

// Verdicts are told apart without colour: a failing tag is dark and has corners, a
// warning one is light and has none, what was not judged is light and has corners.
func TestTagsDifferWithoutColour(t *testing.T) {
	look := func(v rules.Verdict) (middle, corner color.RGBA) {
		d := cardOf(t, "us-business", 300, busy).with().layout()
		d.on = newCanvas(80, 80)
		d.drawTag("", v, rect{20, 20, 56, 56})
		return d.on.img.RGBAAt(38, 38), d.on.img.RGBAAt(21, 21)
	}
	failMid, failCorner := look(rules.Fail)
	warnMid, warnCorner := look(rules.Warn)
	skipMid, skipCorner := look(rules.Skip)
	for eyes, see := range seenAs {
		if contrast(see(failMid), see(warnMid)) < 9 || contrast(see(failMid), see(skipMid)) < 9 {
			t.Errorf("fail is filled like others in %s", eyes)
		}
		if contrast(see(failCorner), see(desk)) < 3 || contrast(see(skipCorner), see(desk)) < 3 || contrast(see(warnCorner), see(desk)) > 1.5 {
			t.Errorf("tags have corners %v, %v, %v in %s", failCorner, warnCorner, skipCorner, eyes)
		}
	}
}

func square(c pt, half float64) rect { return rect{c.x, c.y, c.x, c.y}.outset(half) }
