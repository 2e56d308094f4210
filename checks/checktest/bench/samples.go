package main

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math/rand/v2"
	"sync"

	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// sample is one file with its truth.
type sample struct {
	name  string
	order rules.Order
	fault string // the rule that it breaks; empty for a sound side
	hard  string // why it is counted by itself
	bytes func() []byte
	by    *producer   // makes the file anew; nil for none
	shows func() bool // whether the fault is there to be seen; nil where it always is
}

// untouched lists the cards of a seed with nothing wrong.
func untouched(seed int) []sample {
	var list []sample
	for _, f := range press.Clean(seed) {
		list = append(list, sample{
			name:  fmt.Sprintf("%d/%s", seed, f.Name),
			order: rules.Order{Size: f.Size, Process: f.Process}, bytes: f.Bytes,
		})
	}
	return list
}

// each is how many times a seed draws each fault, so that two seeds make fifteen or more of
// each rule, files made anew by other programs counted.
const each = 4

// drawn lists cards of a seed with one fault, or one near-miss, each: in styles that
// take turns, in a size, by a maker and in a container that the seed picks.
func drawn(seed int, list []fault) []sample {
	r := rand.New(rand.NewPCG(uint64(seed), 0x57_0e)) // any second word will do
	var out []sample
	for n, f := range list {
		for k := range each {
			out = append(out, f.sample(r, seed, f.styles[(seed*each+n+k)%len(f.styles)]))
		}
	}
	return out
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
	return f.in(r, seed, c, f.files[r.IntN(len(f.files))])
}

// in puts the fault into a card in a container.
func (f fault) in(r *rand.Rand, seed int, c press.Card, container string) (s sample) {
	option, how := f.make(r)
	ppi := 300.0
	if f.coarse {
		ppi = between(r, 110, 195)
		how = fmt.Sprintf("pixels of %.0f ppi", ppi)
	}
	s = sample{
		name:  fmt.Sprintf("%d/%v, %s.%s", seed, c, how, container),
		order: rules.Order{Size: c.Size, Process: rules.DefaultProcess}, fault: f.rule, hard: f.hard,
	}
	if f.order != nil {
		f.order(&s.order)
	}
	s.bytes = func() []byte { return f.file(c, container, ppi, option) }
	if f.spoil != nil {
		cut := r.Uint64()
		s.bytes = func() []byte {
			return f.spoil(rand.New(rand.NewPCG(cut, 0)), f.file(c, container, ppi, option))
		}
	}
	if f.drawn() {
		s.shows = sync.OnceValue(func() bool { return f.shows(c, option) })
	}
	return s
}

// file draws the card.
func (f fault) file(c press.Card, container string, ppi float64, options ...press.Option) []byte {
	if f.is != "" {
		container = f.is
	}
	switch {
	case container == "tif":
		return c.TIFF(ppi, options...)
	case container != "pdf":
		return c.JPEG(ppi, append(options, press.In(press.CMYK))...)
	case f.rule == "colour-tags": // a profile stands in the intent
		return c.PDF(options...)
	}
	return c.PDF(append(options, press.NamedIntent())...)
}

// drawn reports whether the fault is in the drawing: not in the ticket, in damage to
// the file or in the number of its pixels.
func (f fault) drawn() bool {
	return f.rule != "" && f.order == nil && f.spoil == nil && f.is == "" && !f.coarse
}

// shows reports whether a fault is there at all. There is no code on a card that has
// no room for one, and black type over black is nothing to lose: what prints must
// stand out in pixels from the card without it.
func (f fault) shows(c press.Card, option press.Option) bool {
	if f.tells == 0 {
		return !bytes.Equal(c.PDF(), c.PDF(option))
	}
	const (
		coarse = 120 // ppi
		few    = 12  // pixels
	)
	without := []press.Option{}
	if f.rule == "safe-zone" { // the number is gone from its place either way
		without = append(without, press.PhoneAt(rules.Left, -1000))
	}
	return changed(c.PNG(coarse, without...), c.PNG(coarse, option), f.tells) >= few
}

// changed counts the pixels that differ between two pictures by some levels.
func changed(a, b []byte, levels int) (n int) {
	one, other := decoded(a), decoded(b)
	box := one.Bounds()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r, g, b, _ := one.At(x, y).RGBA()
			rr, gg, bb, _ := other.At(x, y).RGBA()
			if max(apart(r, rr), apart(g, gg), apart(b, bb)) >= levels {
				n++
			}
		}
	}
	return n
}

func apart(a, b uint32) int { return int(max(a, b)-min(a, b)) >> 8 }

func decoded(b []byte) image.Image {
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		panic(err) // our own
	}
	return img
}
