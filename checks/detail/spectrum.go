package detail

import (
	"math"
	"slices"
)

// bins are the frequencies of a spectrum: bin i is i/tileLength cycles a pixel.
const bins = tileLength / 2

// spectrumTiles are enough for a smooth spectrum.
const spectrumTiles = 40

// spectrum tells how strong the detail of each fineness is in the roughest tiles: the
// power of the slope of lightness, which of a sharp edge is the same at all
// frequencies. Only what neighbouring lines have in common counts: so grain and dither,
// which know nothing of their neighbours, are told from detail.
func (a axis) spectrum(tiles []tile) (power [bins]float64) {
	var lines [tileLines][]complex128
	for k := range lines {
		lines[k] = make([]complex128, tileLength)
	}
	window := hann()
	line := make([]float64, tileLength+1)
	for _, t := range tiles[:min(len(tiles), spectrumTiles)] {
		for k := range lines {
			a.read(line, t.line+k, t.at)
			for i := range lines[k] {
				lines[k][i] = complex((line[i+1]-line[i])*window[i], 0)
			}
			transform(lines[k])
		}
		for f := range power {
			power[f] += common(&lines, f)
		}
	}
	return power
}

// common is the power at a frequency that neighbouring lines share. A slanting edge
// moves on from line to line by the same step, which turns the product of neighbours
// by the same angle: their sum keeps its length. Of noise it shrinks to the root of
// their number, which is taken off.
func common(lines *[tileLines][]complex128, f int) float64 {
	var sum complex128
	own := 0.0
	for k, line := range lines {
		v := line[f]
		own += real(v)*real(v) + imag(v)*imag(v)
		if k > 0 {
			u := lines[k-1][f]
			sum += v * complex(real(u), -imag(u))
		}
	}
	const pairs = tileLines - 1
	sum /= pairs
	own /= tileLines
	return math.Sqrt(max(0, real(sum)*real(sum)+imag(sum)*imag(sum)-own*own/pairs))
}

func hann() (w [tileLength]float64) {
	for i := range w {
		w[i] = 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/tileLength)
	}
	return w
}

// finest is the frequency up to which a spectrum holds detail, in cycles a pixel, 0.5
// at most. It ends ten decibels below the strongest, or halfway down to what noise is
// left at the finest.
func finest(power [bins]float64) float64 {
	var smooth [bins]float64
	for f := range smooth {
		lo, hi := max(1, f-1), min(bins, f+2)
		for _, v := range power[lo:hi] {
			smooth[f] += v / float64(hi-lo)
		}
	}
	most := slices.Max(smooth[1:])
	floor := 0.0
	for _, v := range smooth[bins-6:] {
		floor += v / 6
	}
	ends := max(most/10, math.Sqrt(most*floor))
	for f := bins - 1; f > 0; f-- {
		if smooth[f] >= ends {
			if f == bins-1 {
				return 0.5
			}
			part := math.Log(smooth[f]/ends) / math.Log(smooth[f]/max(smooth[f+1], most*1e-9))
			return (float64(f) + part) / tileLength
		}
	}
	return 0
}
