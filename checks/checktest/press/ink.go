package press

import "math"

// ink is an amount of each printing ink, 0 to 1.
type ink struct{ c, m, y, k float64 }

// Inks that every maker uses.
var (
	paper = ink{}
	black = ink{k: 1}
)

// pc is an ink told in per cent.
func pc(c, m, y, k float64) ink { return ink{c / 100, m / 100, y / 100, k / 100} }

func (a ink) mix(b ink, t float64) ink {
	return ink{lerp(a.c, b.c, t), lerp(a.m, b.m, t), lerp(a.y, b.y, t), lerp(a.k, b.k, t)}
}

// sum is the ink laid in all, 1 being one full ink.
func (a ink) sum() float64 { return a.c + a.m + a.y + a.k }

// isDark tells whether paper-white type reads on it.
func (a ink) isDark() bool { r := a.rgb(); return .3*r[0]+.6*r[1]+.1*r[2] < .55 }

// solids shows each overprint of C (bit 0), M (1) and Y (2) on coated paper as
// linear light: the usual sRGB screen values of ISO 12647-2 coated solids, from
// memory. They only have to look right.
var solids = asLight([8][3]float64{
	{255, 255, 255}, {0, 158, 224}, {230, 0, 126}, {49, 39, 131},
	{255, 237, 0}, {0, 150, 64}, {227, 6, 19}, {56, 50, 46},
})

// underBlack is how much light a full black lets through.
const underBlack = .0116

func asLight(screen [8][3]float64) [8][3]float64 {
	for i := range screen {
		for ch := range screen[i] {
			screen[i][ch] = linear(screen[i][ch] / 255)
		}
	}
	return screen
}

// rgb shows the inks on a screen, 0 to 1 a channel in sRGB, by Neugebauer's
// equations: halftone dots of the eight overprints, averaged by the area that
// each covers, in linear light.
func (a ink) rgb() [3]float64 {
	cover := [3]float64{spread(a.c), spread(a.m), spread(a.y)}
	through := lerp(1, underBlack, spread(a.k))
	var out [3]float64
	for i, solid := range solids {
		area := through
		for bit, v := range cover {
			if i>>bit&1 == 0 {
				v = 1 - v
			}
			area *= v
		}
		for ch := range out {
			out[ch] += area * solid[ch]
		}
	}
	for ch := range out {
		out[ch] = display(out[ch])
	}
	return out
}

// spread is a dot after it has gained on the press: some 14 % at half tone.
func spread(v float64) float64 { v = clamp(v); return v + .56*v*(1-v) }

// linear and display are the sRGB curve (IEC 61966-2-1) and its inverse.
func linear(v float64) float64 {
	if v <= .04045 {
		return v / 12.92
	}
	return math.Pow((v+.055)/1.055, 2.4)
}

func display(v float64) float64 {
	if v <= .0031308 {
		return 12.92 * clamp(v)
	}
	return 1.055*math.Pow(min(v, 1), 1/2.4) - .055
}

// grey is the single black ink that looks as dark.
func (a ink) grey() float64 {
	r := a.rgb()
	light := .2126*linear(r[0]) + .7152*linear(r[1]) + .0722*linear(r[2])
	return clamp(1 - display(light))
}

// seen turns a colour as light shows it (sRGB, 0 to 1) into inks: about the
// inverse of rgb. Black takes most of what all three colours share, and the sum
// of inks stays under 240 %.
func seen(r, g, b float64) ink {
	c, m, y := 1-linear(r), 1-linear(g), 1-linear(b)
	k := .96 * math.Pow(min(c, m, y), 1.25)
	rest := func(v float64) float64 { return unspread(1 - (1-v)/(1-k)) }
	return ink{rest(c), rest(m), rest(y), unspread(k)}.capped(2.4)
}

// unspread is the dot that grows to v on the press.
func unspread(v float64) float64 { return (1.56 - math.Sqrt(1.56*1.56-4*.56*clamp(v))) / (2 * .56) }

// capped keeps the sum of inks under limit by taking from the colours.
func (a ink) capped(limit float64) ink {
	colours := a.c + a.m + a.y
	if a.sum() <= limit || colours == 0 {
		return a
	}
	f := max(0, limit-a.k) / colours
	return ink{a.c * f, a.m * f, a.y * f, a.k}
}
