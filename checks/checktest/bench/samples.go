package main

import (
	"fmt"
	"math/rand/v2"

	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// sound lists the cards of a seed with nothing wrong.
func sound(seed int) []sample {
	var list []sample
	for _, f := range press.Clean(seed) {
		list = append(list, sample{
			name:  fmt.Sprintf("%d/%s", seed, f.Name),
			order: rules.Order{Size: f.Size, Process: f.Process}, bytes: f.Bytes,
		})
	}
	return list
}

// fewest is how many times a seed breaks each rule at the least, so that three seeds
// make thirty.
const fewest = 10

// broken lists cards of a seed with one fault each: every fault in each of its
// styles, in a size, by a maker and in a container that the seed picks.
func broken(seed int) []sample {
	r := rand.New(rand.NewPCG(uint64(seed), 0x57_0e)) // any second word will do
	var list []sample
	for _, f := range faults() {
		for k := range max(fewest, len(f.styles)) {
			list = append(list, f.sample(r, seed, f.styles[k%len(f.styles)]))
		}
	}
	return list
}

func (f fault) sample(r *rand.Rand, seed int, style press.Style) sample {
	makers, sizes := press.Makers(), f.sizes
	if sizes == nil {
		sizes = press.Sizes()
	}
	c := press.Card{Maker: makers[r.IntN(len(makers))], Style: style, Size: sizes[r.IntN(len(sizes))]}
	if f.maker != "" {
		c.Maker = f.maker
	}
	if f.pixels || f.flat || f.raster && r.IntN(2) == 1 {
		return f.in(r, seed, c, []string{"tif", "jpg"}[r.IntN(2)])
	}
	return f.in(r, seed, c, "pdf")
}

// in puts the fault into a card in a container.
func (f fault) in(r *rand.Rand, seed int, c press.Card, container string) (s sample) {
	option, how := f.make(r)
	ppi := 300.0
	if f.pixels {
		ppi = between(r, 110, 195)
		how = fmt.Sprintf("pixels of %.0f ppi", ppi)
	}
	s = sample{
		name:  fmt.Sprintf("%d/%v, %s.%s", seed, c, how, container),
		order: rules.Order{Size: c.Size, Process: rules.DefaultProcess}, fault: f.rule,
	}
	if f.order != nil {
		f.order(&s.order)
	}
	defer func() {
		if f.spoil != nil {
			whole := s.bytes
			cut := rand.New(rand.NewPCG(r.Uint64(), 0))
			s.bytes = func() []byte { return f.spoil(cut, whole()) }
		}
	}()
	switch container {
	case "pdf":
		s.bytes = func() []byte { return c.PDF(press.NamedIntent(), option) }
		if f.rule == "colour-tags" { // a profile stands in the intent
			s.bytes = func() []byte { return c.PDF(option) }
		}
	case "tif":
		s.bytes = func() []byte { return c.TIFF(ppi, option) }
	default:
		s.bytes = func() []byte { return c.JPEG(ppi, press.In(press.CMYK), option) }
	}
	return s
}
