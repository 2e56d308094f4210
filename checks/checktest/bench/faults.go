package main

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// sample is one file with its truth.
type sample struct {
	name  string
	order rules.Order
	fault string // the rule that it breaks; empty for a sound side
	bytes func() []byte
	by    *producer // makes the file anew; nil for none
}

// fault is a way to break a rule. It draws a card and says how it was broken.
type fault struct {
	rule   string
	styles []press.Style // in which the fault can be seen
	sizes  []string      // in which it is one; nil for all
	maker  string        // whose card can show it; empty for anybody's
	raster bool          // it can be put into a picture, too
	pixels bool          // it is one of pictures alone: too few pixels
	flat   bool          // it is one of picture files alone
	make   func(r *rand.Rand) (press.Option, string)
	order  func(*rules.Order)              // what the ticket needs for the fault to be one
	spoil  func(*rand.Rand, []byte) []byte // what happens to the file afterwards
}

// Styles by what they show.
var (
	grounded  = []press.Style{press.Dark, press.Light, press.Textured, press.Gradient, press.Striped, press.Rays, press.Portrait}
	pictured  = []press.Style{press.Photographic, press.Textured, press.Vignette, press.TwoSided}
	darkType  = []press.Style{press.White, press.Broadside, press.Framed, press.Textured, press.Patterned, press.Striped, press.Engraved, press.Vignette}
	whiteType = []press.Style{press.Dark, press.Gradient, press.Portrait, press.Rays, press.Photographic, press.Broadside}
	deep      = []press.Style{press.Dark, press.Portrait, press.Photographic, press.TwoSided, press.Rays, press.Lattice}
	branded   = []press.Style{press.Framed, press.Light, press.Striped, press.Dark, press.White, press.Patterned}
	plain     = []press.Style{press.Dark, press.Light, press.White, press.Gradient, press.Photographic}
	ruled     = []press.Style{press.White, press.Broadside}
	twoSided  = []press.Style{press.TwoSided}
	everyWord = []press.Style{press.Dark, press.Light, press.White, press.Broadside, press.Framed, press.Photographic}
)

// wide are the sizes on which a broadside has room for its second mark.
var wide = []string{"us-business", "eu-business", "jp-business", "cn-business", "id-1", "us-postcard"}

// small are the sizes on which all black type is so small that four plates show when
// one of them lies amiss; on a postcard it grows large enough to hide it.
var small = []string{"us-business", "eu-business", "jp-business", "cn-business", "id-1", "a7", "poker", "poker-us", "bridge"}

// smallBlack sets that black type small on any card: as small as the press sets type at
// all, for larger type would run out of its column on some.
func smallBlack(r *rand.Rand) (press.Option, string) {
	pt := between(r, 5.2, 6.4)
	return press.Together(press.RichBlack(), press.SmallType(pt)), fmt.Sprintf("black type of %.1f pt in four inks", pt)
}

func between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

func anEdge(r *rand.Rand) rules.Edge { return rules.AllEdges[r.IntN(4)] }

// faults lists every way to break a rule that the generator has.
func faults() []fault {
	cutOff := func(r *rand.Rand, b []byte) []byte { return b[:int(float64(len(b))*between(r, 0.1, 0.95))] }
	another := func(o *rules.Order) {
		sizes := press.Sizes()
		o.Size = sizes[(slices.Index(sizes, o.Size)+3)%len(sizes)]
	}
	offset := func(o *rules.Order) { o.Process = "offset-coated" }
	number := func(format string, low, high float64, option func(float64) press.Option) func(*rand.Rand) (press.Option, string) {
		return func(r *rand.Rand) (press.Option, string) {
			v := between(r, low, high)
			return option(v), fmt.Sprintf(format, v)
		}
	}
	atEdge := func(format string, low, high float64, option func(rules.Edge, float64) press.Option) func(*rand.Rand) (press.Option, string) {
		return func(r *rand.Rand) (press.Option, string) {
			e, v := anEdge(r), between(r, low, high)
			return option(e, v), fmt.Sprintf(format, e, v)
		}
	}
	always := func(what string, option press.Option) func(*rand.Rand) (press.Option, string) {
		return func(*rand.Rand) (press.Option, string) { return option, what }
	}
	sound := always("sound art", press.Slug(0))
	return []fault{
		{rule: "file-opens", styles: plain, raster: true, make: sound, spoil: cutOff},
		{rule: "trim-size", styles: plain, raster: true, make: sound, order: another},
		{rule: "side-count", styles: plain, make: always("three pages", press.Pages(3))},
		{rule: "page-boxes", styles: plain, make: number("BleedBox %.1f mm inside", 0.5, 3, func(v float64) press.Option {
			return press.Box("BleedBox", rules.Even(rules.MM(-v)))
		})},
		{rule: "bleed-extent", styles: grounded, raster: true, make: always("no bleed", press.TrimOnly())},
		{rule: "bleed-extent", styles: grounded, make: atEdge("room ends at the %s %.1f mm out", 0, 2, press.RoomEnds)},
		{rule: "bleed-fill", styles: grounded, raster: true, make: atEdge("paint ends at the %s %.1f mm out", 0, 2, press.PaintStops)},
		{rule: "safe-zone", styles: plain, raster: true, make: atEdge("phone at the %s, %.1f mm in", 0.3, 2, press.PhoneAt)},
		{rule: "effective-resolution", styles: pictured, make: number("pictures of %.0f ppi", 70, 190, press.PicturePPI)},
		{rule: "effective-resolution", styles: plain, pixels: true, make: sound},
		{rule: "jpeg-loss", styles: everyWord, flat: true, make: number("once a JPEG of %.0f", 5, 20, func(v float64) press.Option {
			return press.Together(press.In(press.Grey), press.OnceJPEG(int(v)))
		})},
		{rule: "jpeg-loss", styles: pictured, make: number("pictures of JPEG quality %.0f", 5, 15, func(v float64) press.Option {
			return press.Quality(int(v))
		})},
		{rule: "colour-space", styles: plain, make: always("RGB for offset", press.In(press.RGB)), order: offset},
		{rule: "colour-tags", styles: plain, raster: true, make: always("a profile cut short", press.WithProfile(press.Coated()[:9000]))},
		{rule: "spot-colours", styles: branded, make: always("an ink that was not ordered", press.Spot("Gold"))},
		{rule: "ink-total", styles: deep, raster: true, make: always("344 % of ink", press.Wet())},
		{rule: "rich-black", styles: darkType, sizes: small, make: always("black type in four inks", press.RichBlack())},
		{rule: "rich-black", styles: darkType, make: smallBlack},
		{rule: "overprint", styles: whiteType, make: always("white type overprints", press.WhiteOverprints())},
		{rule: "fonts-embedded", styles: everyWord, make: always("loose fonts", press.LooseFonts())},
		{rule: "text-size", styles: everyWord, make: number("type of %.1f pt", 3, 4.9, press.SmallType)},
		{rule: "hairlines", styles: ruled, make: number("rules of %.2f pt", 0.03, 0.23, press.RulePoints)},
		{rule: "live-extras", styles: plain, make: always("a stamp", press.Stamped())},
		{rule: "live-extras", styles: plain, make: always("a layer that does not print", press.Guides())},
		{rule: "edge-border", styles: []press.Style{press.Framed}, raster: true, make: number("a frame %.1f mm inside", 0.8, 2.7, press.FrameAt)},
		{rule: "pair-size", styles: twoSided, make: number("a back %.3f times as large", 0.9, 0.99, press.BackScaled)},
		{rule: "pair-turn", styles: twoSided, make: always("the back upside down", press.BackTurned(180))},
		{rule: "marks-in-art", styles: plain, raster: true, make: number("cutting marks from %.1f mm out", 0, 2, press.CutMarks)},
		{rule: "code-scan", styles: []press.Style{press.Broadside}, sizes: wide, maker: "clock-mender", raster: true,
			make: number("a code of %.1f mm", 4.4, 8.5, press.Code)},
		{rule: "code-scan", styles: []press.Style{press.Broadside}, sizes: wide, maker: "clock-mender", make: number("a code of %.1f mm", 2.5, 4.4, press.Code)},
	}
}
