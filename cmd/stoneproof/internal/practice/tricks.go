package practice

import (
	"math/rand/v2"

	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// A card is looked at in three ways, each harder than the one before.
const (
	byEye    = iota // by looking at it
	byRuler         // by measuring what is seen
	byInside        // by asking the editor what the file is made of
	levels
)

// trick is a way to draw a card: with a fault, or so that it only looks like one.
type trick struct {
	rule   string // that it breaks; empty for a sound card
	level  int
	styles []press.Style // in which it shows
	maker  string        // whose card can show it; empty for anybody's
	draw   func(*dice) drawing
}

// drawing is how a card's file is made.
type drawing struct {
	options []press.Option
	plain   bool                // the page's size is the trick's own
	intent  bool                // the output intent must hold its profile
	size    string              // another size than the pack's
	spoil   func([]byte) []byte // what happens to the file afterwards
}

// dice are what chance decides with, and the ticket's lengths.
type dice struct {
	*rand.Rand
	bleed, safe float64 // mm
	sizes       []string
}

func (d *dice) between(low, high float64) float64 { return low + (high-low)*d.Float64() }

func (d *dice) edge() rules.Edge { return rules.AllEdges[d.IntN(len(rules.AllEdges))] }

// as draws with one option.
func as(option func(*dice) press.Option) func(*dice) drawing {
	return func(d *dice) drawing { return drawing{options: []press.Option{option(d)}} }
}

// always draws with the same options.
func always(options ...press.Option) func(*dice) drawing {
	return func(*dice) drawing { return drawing{options: options} }
}

// Styles by what they show.
var (
	grounded = []press.Style{press.Dark, press.Light, press.Portrait}
	worded   = []press.Style{press.Dark, press.Light, press.White, press.Broadside}
	plain    = []press.Style{press.Dark, press.Light, press.White, press.Framed, press.Broadside}
	ruled    = []press.Style{press.White, press.Broadside}
	pictured = []press.Style{press.Photographic}
	twoSided = []press.Style{press.TwoSided}
)

// faults lists the ways to break a rule so that no other is broken with it. A back
// that is too small, for one, is left out: it breaks trim-size as well as pair-size.
func faults() []trick {
	return []trick{
		{rule: "bleed-fill", level: byEye, styles: grounded, draw: as(func(d *dice) press.Option {
			return press.PaintStops(d.edge(), d.between(0.3, 1.6))
		})},
		{rule: "bleed-extent", level: byEye, styles: grounded, draw: func(d *dice) drawing {
			return drawing{plain: true, options: []press.Option{press.RoomEnds(d.edge(), d.between(0, 1.2))}}
		}},
		{rule: "safe-zone", level: byEye, styles: worded, draw: as(func(d *dice) press.Option {
			return press.PhoneAt(d.edge(), d.between(0.4, 1.6))
		})},
		{rule: "marks-in-art", level: byEye, styles: plain, draw: func(d *dice) drawing {
			return drawing{plain: true, options: []press.Option{press.Slug(6), press.CutMarks(d.between(0.5, 1.5))}}
		}},
		{rule: "side-count", level: byEye, styles: plain, draw: always(press.Pages(3))},
		{rule: "pair-turn", level: byEye, styles: twoSided, draw: always(press.BackTurned(180))},
		{rule: "file-opens", level: byEye, styles: plain, draw: func(d *dice) drawing {
			part := d.between(0.4, 0.8)
			return drawing{spoil: func(b []byte) []byte { return b[:int(part*float64(len(b)))] }}
		}},
		{rule: "trim-size", level: byRuler, styles: plain, draw: func(d *dice) drawing {
			return drawing{size: d.sizes[d.IntN(len(d.sizes))], options: []press.Option{press.Bleed(d.bleed)}}
		}},
		{rule: "text-size", level: byRuler, styles: worded, draw: as(func(d *dice) press.Option {
			return press.SmallType(d.between(3.6, 4.6))
		})},
		{rule: "hairlines", level: byRuler, styles: ruled, draw: as(func(d *dice) press.Option {
			return press.RulePoints(d.between(0.05, 0.18))
		})},
		{rule: "effective-resolution", level: byRuler, styles: pictured, draw: as(func(d *dice) press.Option {
			return press.PicturePPI(d.between(70, 150))
		})},
		{rule: "code-scan", level: byRuler, styles: []press.Style{press.Broadside}, maker: "clock-mender", draw: as(func(d *dice) press.Option {
			return press.Code(d.between(3, 4.4))
		})},
		{rule: "colour-space", level: byInside, styles: plain, draw: always(press.In(press.RGB))},
		{rule: "colour-tags", level: byInside, styles: plain, draw: func(*dice) drawing {
			return drawing{intent: true, options: []press.Option{press.WithProfile(press.Coated()[:9000])}}
		}},
		{rule: "spot-colours", level: byInside, styles: []press.Style{press.Framed, press.Light}, draw: always(press.Spot("Gold"))},
		{rule: "spot-colours", level: byInside, styles: []press.Style{press.White}, draw: always(press.Registration())},
		{rule: "ink-total", level: byInside, styles: []press.Style{press.Dark}, draw: always(press.Wet())},
		{rule: "overprint", level: byInside, styles: []press.Style{press.Dark, press.Gradient, press.Portrait}, draw: always(press.WhiteOverprints())},
		{rule: "fonts-embedded", level: byInside, styles: worded, draw: always(press.LooseFonts())},
		{rule: "live-extras", level: byInside, styles: plain, draw: always(press.Guides())},
		{rule: "page-boxes", level: byInside, styles: plain, draw: func(d *dice) drawing {
			return drawing{options: []press.Option{press.Box("BleedBox", rules.Even(rules.MM(-d.between(0.6, 2.5))))}}
		}},
	}
}

// sound lists the ways to draw a card with nothing wrong: first those that look as
// if something were.
func sound() []trick {
	return []trick{
		{level: byEye, styles: []press.Style{press.White, press.Broadside}, draw: always()}, // bare at the trim, and so in the bleed
		{level: byEye, styles: worded, draw: as(func(d *dice) press.Option {
			return press.PhoneAt(d.edge(), d.safe+d.between(0.1, 0.4))
		})},
		{level: byEye, styles: grounded, draw: as(func(d *dice) press.Option {
			return press.PaintStops(d.edge(), d.bleed-d.between(0.02, 0.07))
		})},
		{level: byEye, styles: plain, draw: func(d *dice) drawing {
			return drawing{plain: true, options: []press.Option{press.Slug(6), press.CutMarks(d.bleed + d.between(0.2, 0.8))}}
		}},
		{level: byEye, styles: twoSided, draw: always()},
		{level: byRuler, styles: []press.Style{press.Framed}, draw: as(func(d *dice) press.Option {
			return press.FrameAt(d.between(3.2, 4))
		})},
		{level: byRuler, styles: ruled, draw: as(func(d *dice) press.Option {
			return press.RulePoints(d.between(0.27, 0.35))
		})},
		{level: byRuler, styles: worded, draw: as(func(d *dice) press.Option {
			return press.SmallType(d.between(6.05, 6.4))
		})},
		{level: byRuler, styles: pictured, draw: as(func(d *dice) press.Option {
			return press.PicturePPI(d.between(301, 304))
		})},
		{level: byInside, styles: plain, draw: always()},
		{level: byInside, styles: grounded, draw: always()},
		{level: byInside, styles: plain, draw: always(press.In(press.Grey))},
	}
}
