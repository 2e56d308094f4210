package press

import (
	"fmt"
	"slices"

	"stoneproof/rules"
)

// Card is a card to be made: whose, in which look, how big.
type Card struct {
	Maker string // one of Makers
	Style Style
	Size  string // one of Sizes
}

// size is a named card size in millimetres: trim, and bleed on each edge.
type size struct {
	name        string
	w, h, bleed float64
}

// sizes are the trade's usual cards. Inches are kept as they are spoken of.
func sizes() []size {
	const in = 25.4
	return []size{
		{"us-business", 3.5 * in, 2 * in, .125 * in},
		{"eu-business", 85, 55, 3},
		{"jp-business", 91, 55, 3},
		{"cn-business", 90, 54, 3},
		{"id-1", 85.60, 53.98, 3},
		{"a6", 105, 148, 3},
		{"a7", 74, 105, 3},
		{"jp-postcard", 100, 148, 3},
		{"us-postcard", 6 * in, 4 * in, .125 * in},
		{"poker", 63, 88, 3},
		{"poker-us", 2.5 * in, 3.5 * in, .125 * in},
		{"bridge", 2.25 * in, 3.5 * in, .125 * in},
	}
}

// Sizes lists the names that Card takes.
func Sizes() []string {
	var out []string
	for _, s := range sizes() {
		out = append(out, s.name)
	}
	return out
}

func (c Card) size() size {
	all := sizes()
	i := slices.IndexFunc(all, func(s size) bool { return s.name == c.Size })
	if i < 0 {
		panic("press: no size " + c.Size)
	}
	s := all[i]
	if c.Style.look().upright && s.w > s.h {
		s.w, s.h = s.h, s.w
	}
	return s
}

// Trim is the card's finished size, as the style turns it.
func (c Card) Trim() rules.Size {
	s := c.size()
	return rules.Size{W: rules.MM(s.w), H: rules.MM(s.h)}
}

// Sides is how many sides the style draws: 1 or 2.
func (c Card) Sides() int { return len(c.Style.look().sides) }

// settings is how a file is made, and with which fault.
type settings struct {
	space      Space
	profile    []byte
	noProfile  bool
	named      bool
	picturePPI float64
	enlarged   float64
	linePPI    float64
	quality    int
	onceJPEG   int // 0: never
	lossless   bool
	looseFonts bool
	noDensity  bool
	spot       string
	wet        bool

	richBlack, registration, whiteOver bool
	rule                               float64 // points; 0: each as the style has it
	smallType                          float64 // likewise

	code float64 // mm each way; 0: none
	adornments

	frame float64  // mm of the frame inside the trim; 0: as the style has it
	marks *float64 // mm of cutting marks outside the trim; nil: none

	stamped, guides bool
	claim           string

	backTurned int     // degrees clockwise
	backScale  float64 // 1: as large as the front

	pages  int
	reach  rules.Edges // paint beyond the trim
	room   rules.Edges // file beyond the trim
	slug   float64     // mm of page beyond that
	phone  *place
	rotate int
	unit   float64
	origin pt
	boxes  map[string]*rules.Edges // nil: left out
}

// place is where the phone number was dragged to: mm of its ink from an edge.
type place struct {
	edge rules.Edge
	mm   float64
}

func (c Card) settings(space Space, opts []Option) settings {
	bleed := rules.Even(rules.MM(c.size().bleed))
	s := settings{space: space, picturePPI: 304, enlarged: 1, linePPI: 1200, quality: 90, unit: 1, backScale: 1, pages: c.Sides(), reach: bleed, room: bleed, boxes: map[string]*rules.Edges{}}
	for _, o := range opts {
		o(&s)
	}
	return s
}

// grown is the trim grown by e.
func (z size) grown(e rules.Edges) rect {
	return rect{-e.Left.MM(), -e.Top.MM(), z.w + e.Left.MM() + e.Right.MM(), z.h + e.Top.MM() + e.Bottom.MM()}
}

// draw puts side n, counted from 1, on a canvas; past the last side the style
// begins again.
func (c Card) draw(on canvas, s settings, n int) {
	z := c.size()
	sides := c.Style.look().sides
	d := &draft{canvas: on, w: z.w, h: z.h, ground: z.grown(s.reach), who: s.inked(makerNamed(c.Maker)), phone: s.phone, faults: s}
	sides[(n-1)%len(sides)](d)
	if s.marks != nil {
		d.cutMarks(*s.marks)
	}
	d.adorn()
}

// String names the card for tests: potter-framed-us-business.
func (c Card) String() string { return fmt.Sprintf("%s-%s-%s", c.Maker, c.Style, c.Size) }

// inked is the maker with the inks that the settings ask for.
func (s settings) inked(m maker) maker {
	if s.wet {
		m.deep = pc(92, 84, 78, 90)
	}
	return m
}
