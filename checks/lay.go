package checks

import (
	"math"
	"slices"

	"stoneproof/checks/art/pdf"
)

// lay is what a colour lays down on paper: the tint of each ink, 0 to 1.
type lay struct {
	known     bool       // false for patterns and what cannot be told
	cmyk      [4]float64 // process inks
	spots     []tint     // further inks, by name
	all       bool       // the colour is registration: every plate there is
	estimated bool       // the colour is light (RGB, Lab): its inks are a guess
}

type tint struct {
	name  string
	value float64
}

// processInks are the names of the process inks, as people read them and as
// Separation and DeviceN spaces have them (ISO 32000-1, 8.6.6.4).
var processInks = [4]string{"cyan", "magenta", "yellow", "black"}

var colorantInks = map[string]int{"Cyan": 0, "Magenta": 1, "Yellow": 2, "Black": 3}

// layOf tells what a colour as set by the page lays down. A default space stands
// in the place of its device space with the same number of components, so that
// its values are read the same way; of an ICCBased space the number of
// components tells the kind (8.6.5.5).
func layOf(c pdf.Colour) lay {
	if c.Space == nil || c.Pattern != nil {
		return lay{}
	}
	return layIn(c.Space, c.Values)
}

func layIn(s *pdf.Space, v []float64) lay {
	if s == nil || len(v) < s.N {
		return lay{}
	}
	switch s.Family {
	case pdf.PatternCS:
		return lay{}
	case pdf.Indexed:
		return layIndexed(s, v[0])
	case pdf.Separation, pdf.DeviceN:
		return layInks(s, v)
	case pdf.Lab:
		return layLight(v[0]/100, v[1] != 0 || v[2] != 0)
	}
	switch s.N {
	case 1:
		return lay{known: true, cmyk: [4]float64{3: 1 - unit(v[0])}}
	case 3:
		return layRGB(unit(v[0]), unit(v[1]), unit(v[2]))
	case 4:
		return lay{known: true, cmyk: [4]float64{unit(v[0]), unit(v[1]), unit(v[2]), unit(v[3])}}
	}
	return lay{}
}

// layIndexed looks a colour up (8.6.6.3): bytes of the table span the range of
// each component of the base.
func layIndexed(s *pdf.Space, index float64) lay {
	if s.Base == nil {
		return lay{}
	}
	n := s.Base.N
	i := int(255*unit(index/255)) * n
	if n == 0 || i+n > len(s.Table) || s.Base.Family == pdf.Lab || s.Base.Family == pdf.Indexed {
		return lay{}
	}
	v := make([]float64, n)
	for c := range v {
		v[c] = float64(s.Table[i+c]) / 255
	}
	return layIn(s.Base, v)
}

func layInks(s *pdf.Space, v []float64) lay {
	l := lay{known: true}
	for i, name := range s.Names {
		if i >= len(v) {
			break
		}
		t := unit(v[i])
		switch at, process := colorantInks[name]; {
		case process:
			l.cmyk[at] = max(l.cmyk[at], t)
		case name == "None":
		case name == "All":
			return lay{known: true, all: true, cmyk: [4]float64{t, t, t, t}}
		default:
			l.spots = append(l.spots, tint{name, t})
		}
	}
	return l
}

// layRGB guesses the inks of light by the plain formula with all grey taken out
// into black: good enough to tell light from dark and colour from none, and
// marked as a guess.
func layRGB(r, g, b float64) lay {
	k := 1 - max(r, g, b)
	l := lay{known: true, estimated: true, cmyk: [4]float64{3: k}}
	if k < 1 {
		for i, v := range [3]float64{r, g, b} {
			l.cmyk[i] = (1 - v - k) / (1 - k)
		}
	}
	return l
}

// layLight is a colour of which only lightness is told, and whether it has a hue.
func layLight(light float64, hue bool) lay {
	l := lay{known: true, estimated: true, cmyk: [4]float64{3: 1 - unit(light)}}
	if hue {
		l.cmyk[1], l.cmyk[2] = 0.5, 0.5
	}
	return l
}

func unit(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return max(0, min(1, v))
}

// traceTint is the least tint that counts as an ink: less is a stray of rounding
// and prints as paper.
const traceTint = 0.02

// inks lists the inks that the colour lays, by name.
func (l lay) inks() []string { return l.inksFrom(traceTint) }

// inksFrom lists the inks of which the colour lays at least so much.
func (l lay) inksFrom(least float64) []string {
	var names []string
	for i, v := range l.cmyk {
		if v >= least {
			names = append(names, processInks[i])
		}
	}
	for _, s := range l.spots {
		if s.value >= least {
			names = append(names, s.name)
		}
	}
	return names
}

// paper reports whether the colour lays nothing that can be seen.
func (l lay) paper() bool { return l.known && len(l.inks()) == 0 }

// dark tells how dark the colour looks, 0 for paper and 1 for solid black. The
// weights are near the darkness of solid inks on coated paper: L* of cyan 55,
// magenta 48, yellow 89 and black 16 against 95 of the paper (ISO 12647-2 by the
// FOGRA39L data set). A spot ink is taken for a colour of middle darkness.
func (l lay) dark() float64 {
	light := 1.0
	for i, weight := range [4]float64{0.5, 0.6, 0.08, 1} {
		light *= 1 - weight*l.cmyk[i]
	}
	for _, s := range l.spots {
		light *= 1 - 0.5*s.value
	}
	return 1 - light
}

// near reports whether two colours lay the same inks, each to within slack.
func (l lay) near(m lay, slack float64) bool {
	if !l.known || !m.known {
		return false
	}
	for i := range l.cmyk {
		if math.Abs(l.cmyk[i]-m.cmyk[i]) >= slack {
			return false
		}
	}
	for _, s := range slices.Concat(l.spots, m.spots) {
		if math.Abs(l.spot(s.name)-m.spot(s.name)) >= slack {
			return false
		}
	}
	return true
}

// same reports whether nobody could tell two colours apart.
func (l lay) same(m lay) bool { return l.near(m, traceTint) }

// spot is the tint of a further ink, 0 where it has none.
func (l lay) spot(name string) float64 {
	for _, s := range l.spots {
		if s.name == name {
			return s.value
		}
	}
	return 0
}

// light is how much of red, green and blue comes back from the paper by the plain
// formula, 0 to 1: good enough to tell a grey from a colour. Spot inks are left out.
func (l lay) light() [3]float64 {
	var out [3]float64
	for i := range out {
		out[i] = (1 - l.cmyk[i]) * (1 - l.cmyk[3])
	}
	return out
}

// overprinted is what lies on the paper where a colour is set to overprint a
// ground (ISO 32000-1, 8.6.7, Tables 148 and 149). Inks that the colour's space
// does not address stay. So do, in mode 1, those of which a DeviceCMYK colour has
// none at all, but not where a default space stands in its place. Spot inks stay
// under every colour that does not name them.
func overprinted(c pdf.Colour, mode int, ground lay) lay {
	l := layOf(c)
	if !l.known || !ground.known || l.all {
		return l
	}
	out := ground
	out.spots = slices.Clone(ground.spots)
	switch s := c.Space; {
	case s.Family == pdf.Separation || s.Family == pdf.DeviceN:
		for _, name := range s.Names {
			if at, process := colorantInks[name]; process {
				out.cmyk[at] = l.cmyk[at]
			}
		}
	case s.Family == pdf.DeviceCMYK && s.Default == nil && mode == 1:
		for i, v := range l.cmyk {
			if v > 0 {
				out.cmyk[i] = v
			}
		}
	default:
		out.cmyk, out.estimated = l.cmyk, l.estimated
	}
	for _, s := range l.spots {
		out.spots = slices.DeleteFunc(out.spots, func(t tint) bool { return t.name == s.name })
		out.spots = append(out.spots, s)
	}
	return out
}

// sum is all inks together, in per cent of one solid.
func (l lay) sum() float64 {
	sum := 0.0
	for _, v := range l.cmyk {
		sum += 100 * v
	}
	for _, s := range l.spots {
		sum += 100 * s.value
	}
	return sum
}
