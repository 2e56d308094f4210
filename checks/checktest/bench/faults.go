package main

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// fault is a way to break a rule. It draws a card and says how it was broken.
type fault struct {
	rule   string        // empty for a near-miss: what comes close to a fault and is none
	hard   string        // where only pixels tell, and the art hides it: counted by itself
	styles []press.Style // in which the fault can be seen
	sizes  []string      // in which it is one; nil for all
	maker  string        // whose card can show it; empty for anybody's
	files  []string      // kinds of file, one picked at random
	coarse bool          // the file has too few pixels
	is     string        // kind of file that it is in truth; empty for what its name says
	tells  int           // levels by which it must stand out in pixels; 0 where it is in the file alone
	make   func(r *rand.Rand) (press.Option, string)
	order  func(*rules.Order)              // what the ticket needs for the fault to be one
	spoil  func(*rand.Rand, []byte) []byte // what happens to the file afterwards
}

// Kinds of file that a fault is put into.
var (
	pages    = []string{"pdf"}
	pictures = []string{"tif", "jpg"}
	files    = []string{"pdf", "pdf", "tif", "jpg"}
)

// Levels by which a fault must stand out to be one: anybody sees print and lines that
// differ by a quarter of all light; a pale code must show to be looked for; bleed shows
// if it shows at all.
const (
	barely  = 4
	faintly = 16
	clearly = 64
)

// faults lists the ways to break the rules of the catalogue.
func faults() []fault {
	return slices.Concat(fileFaults(), brinkFaults(), lineFaults(), inkFaults(), codeFaults(), pictureFaults())
}

func between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

func anEdge(r *rand.Rand) rules.Edge { return rules.AllEdges[r.IntN(4)] }

// maker makes a fault's option, and tells how the card was broken.
type maker = func(*rand.Rand) (press.Option, string)

// always is a fault that has no measure.
func always(what string, option press.Option) maker {
	return func(*rand.Rand) (press.Option, string) { return option, what }
}

// sound leaves the drawing as it is.
func sound() maker { return always("sound art", press.Slug(0)) }

// number is a fault of a measure between two.
func number(format string, low, high float64, option func(float64) press.Option) maker {
	return func(r *rand.Rand) (press.Option, string) {
		v := between(r, low, high)
		return option(v), fmt.Sprintf(format, v)
	}
}

// atEdge is the same at one of the edges.
func atEdge(format string, low, high float64, option func(rules.Edge, float64) press.Option) maker {
	return func(r *rand.Rand) (press.Option, string) {
		e, v := anEdge(r), between(r, low, high)
		return option(e, v), fmt.Sprintf(format, e, v)
	}
}

// fileFaults are in the file and its boxes.
func fileFaults() []fault {
	cutOff := func(r *rand.Rand, b []byte) []byte { return b[:int(float64(len(b))*between(r, 0.1, 0.95))] }
	another := func(o *rules.Order) {
		sizes := press.Sizes()
		o.Size = sizes[(slices.Index(sizes, o.Size)+3)%len(sizes)]
	}
	inner := func(v float64) press.Option { return press.Box("BleedBox", rules.Even(rules.MM(-v))) }
	headless := func(r *rand.Rand, b []byte) []byte { return b[200+r.IntN(2000):] }
	box := func(name string) func(float64) press.Option {
		return func(v float64) press.Option { return press.Box(name, rules.Even(rules.MM(v))) }
	}
	return []fault{
		{rule: "file-opens", styles: plain, files: files, make: sound(), spoil: cutOff},
		{rule: "file-opens", styles: plain, files: files, make: always("without its head", press.Slug(0)), spoil: headless},
		{rule: "file-opens", styles: plain, files: []string{"pdf", "tif"}, is: "jpg", make: always("a JPEG by another name", press.Slug(0))},
		{rule: "trim-size", styles: plain, files: files, make: sound(), order: another},
		{rule: "trim-size", styles: plain, files: pages, make: number("TrimBox %.1f mm outside", 0.6, 2.4, box("TrimBox"))},
		{rule: "side-count", styles: plain, files: pages, make: manyPages},
		{rule: "side-count", styles: plain, files: files, make: sound(), order: twoSides},
		{rule: "page-boxes", styles: plain, files: pages, make: number("BleedBox %.1f mm inside", 0.5, 3, inner)},
		{rule: "page-boxes", styles: plain, files: pages, make: atEdge("BleedBox inside at the %s by %.1f mm", 0.5, 3, innerAt)},
		{rule: "page-boxes", styles: plain, files: pages, make: number("CropBox %.1f mm outside the trim", -2, 2, box("CropBox"))},
		{rule: "bleed-extent", styles: grounded, files: files, make: always("no bleed", press.TrimOnly())},
		{rule: "bleed-extent", styles: grounded, files: pages, make: atEdge("room ends at the %s %.1f mm out", 0, 2, press.RoomEnds)},
		{rule: "fonts-embedded", styles: everyWord, files: pages, make: always("loose fonts", press.LooseFonts())},
		{rule: "fonts-embedded", styles: fancy, files: pages, order: desktop,
			make: always("loose fonts in RGB", press.Together(press.LooseFonts(), press.In(press.RGB)))},
		{rule: "live-extras", styles: plain, files: pages, make: always("a stamp", press.Stamped())},
		{rule: "live-extras", styles: plain, files: pages, make: always("a layer that does not print", press.Guides())},
		{rule: "pair-size", styles: twoSided, files: pages, make: number("a back %.3f times as large", 0.9, 0.99, press.BackScaled)},
		{rule: "pair-size", styles: twoSided, files: pages, make: number("a back %.3f times as large", 1.01, 1.1, press.BackScaled)},
		{rule: "pair-turn", styles: twoSided, files: pages, make: always("the back upside down", press.BackTurned(180))},
		{rule: "pair-turn", styles: twoSided, files: pages, make: quarterTurned},
		{rule: "pair-turn", styles: twoSided, files: pages, make: always("to be turned over its head", press.Slug(0)), order: overHead},
	}
}

func overHead(o *rules.Order) { o.TurnOver = rules.OverHead }
func twoSides(o *rules.Order) { o.Sides = []int{2} }

func manyPages(r *rand.Rand) (press.Option, string) {
	n := 3 + r.IntN(3)
	return press.Pages(n), fmt.Sprintf("%d pages", n)
}

func quarterTurned(r *rand.Rand) (press.Option, string) {
	turn := 90 + 180*r.IntN(2)
	return press.BackTurned(turn), fmt.Sprintf("the back turned by %d°", turn)
}

// innerAt is a BleedBox that lies inside the trim at one edge.
func innerAt(e rules.Edge, v float64) press.Option {
	out := rules.Even(rules.MM(3))
	switch in := rules.MM(-v); e {
	case rules.Top:
		out.Top = in
	case rules.Right:
		out.Right = in
	case rules.Bottom:
		out.Bottom = in
	case rules.Left:
		out.Left = in
	}
	return press.Box("BleedBox", out)
}

// brinkFaults are near the trim.
func brinkFaults() []fault {
	stops := atEdge("paint ends at the %s %.1f mm out", 0, 2, press.PaintStops)
	phone := atEdge("phone at the %s, %.1f mm in", 0.3, 2, press.PhoneAt)
	marks := number("cutting marks from %.1f mm out", 0, 2, press.CutMarks)
	return []fault{
		{rule: "bleed-fill", styles: painted, files: files, tells: barely, make: stops},
		{rule: "bleed-fill", styles: painted, files: pictures, tells: barely, make: stops},
		{rule: "safe-zone", styles: worded, files: pages, tells: clearly, make: phone},
		{rule: "safe-zone", styles: calm, files: pictures, tells: clearly, make: phone},
		{rule: "safe-zone", hard: "on busy art", styles: busy, files: pictures, tells: clearly, make: phone},
		{rule: "edge-border", styles: framed, files: files, tells: barely, make: number("a frame %.1f mm inside", 0.8, 2.7, press.FrameAt)},
		{rule: "edge-border", styles: darkEdged, files: pages, tells: clearly, make: frame(true)},
		{rule: "edge-border", styles: lightEdged, files: files, tells: clearly, make: frame(false)},
		{rule: "edge-border", styles: darkEdged, files: pictures, tells: clearly, make: frame(true)},
		{rule: "edge-border", hard: "on busy art", styles: busy, files: pictures, tells: clearly, make: frame(false)},
		{rule: "marks-in-art", styles: every, files: pages, tells: barely, make: marks},
		{rule: "marks-in-art", styles: calm, files: pictures, tells: clearly, make: marks},
		{rule: "marks-in-art", hard: "on busy art", styles: busy, files: pictures, tells: clearly, make: marks},
		{rule: "marks-in-art", styles: lightEdged, files: files, tells: clearly, make: always("register crosses in the bleed", press.Crosses())},
		{rule: "marks-in-art", styles: calm, files: files, tells: clearly, make: always("a colour bar in the bleed", press.ColourBar())},
	}
}

// frame is a frame near the trim on two sides that meet, three or all, evenly or not.
func frame(white bool) maker {
	return func(r *rand.Rand) (press.Option, string) {
		at, least, weight := map[rules.Edge]float64{}, between(r, 0.6, 2.6), between(r, 0.3, 1.5)
		first, sides := r.IntN(4), 2+r.IntN(3)
		for k := range sides {
			at[rules.AllEdges[(first+k)%4]] = least + float64(k)*between(r, 0, 0.3)
		}
		return press.Bordered(at, weight, white), fmt.Sprintf("a frame on %d sides from %.1f mm in", sides, least)
	}
}

// lineFaults are of type and lines.
func lineFaults() []fault {
	return []fault{
		{rule: "rich-black", styles: darkType, sizes: small, files: pages, make: always("black type in four inks", press.RichBlack())},
		{rule: "rich-black", styles: darkType, files: pages, make: smallBlack},
		{rule: "overprint", styles: whiteType, files: pages, make: always("white type overprints", press.WhiteOverprints())},
		{rule: "overprint", styles: whiteType, files: pages, order: gold,
			make: always("white type overprints on gold", press.Together(press.WhiteOverprints(), press.Spot("Gold")))},
		{rule: "text-size", styles: everyWord, files: pages, make: number("type of %.1f pt", 3, 4.9, press.SmallType)},
		{rule: "text-size", styles: ruled, files: pages, order: uncoated, make: number("type of %.1f pt for uncoated paper", 5.1, 5.8, press.SmallType)},
		{rule: "text-size", styles: lightType, files: pages, make: number("light type of %.1f pt", 5.1, 5.8, press.SmallType)},
		{rule: "hairlines", styles: ruled, files: pages, make: number("rules of %.2f pt", 0.03, 0.23, press.RulePoints)},
	}
}

// smallBlack sets black type small on any card: as small as the press sets type at
// all, for larger type would run out of its column on some.
func smallBlack(r *rand.Rand) (press.Option, string) {
	pt := between(r, 5.2, 6.4)
	return press.Together(press.RichBlack(), press.SmallType(pt)), fmt.Sprintf("black type of %.1f pt in four inks", pt)
}

func desktop(o *rules.Order)  { o.Process = "desktop" }
func uncoated(o *rules.Order) { o.Process = "offset-uncoated" }
func coated(o *rules.Order)   { o.Process = "offset-coated" }
func gold(o *rules.Order)     { o.Spots = []string{"Gold"} }

// inkFaults are of colour.
func inkFaults() []fault {
	return []fault{
		{rule: "colour-space", styles: plain, files: pages, make: always("RGB for offset", press.In(press.RGB)), order: coated},
		{rule: "colour-space", styles: plain, files: pages, make: always("RGB", press.In(press.RGB))},
		{rule: "colour-space", styles: plain, files: []string{"tif"}, make: always("RGB for offset", press.In(press.RGB)), order: uncoated},
		{rule: "colour-tags", styles: plain, files: files, make: always("a profile cut short", press.WithProfile(press.Coated()[:9000]))},
		{rule: "colour-tags", styles: plain, files: pictures, make: always("inks tagged as grey", press.WithProfile(press.GreyProfile()))},
		{rule: "spot-colours", styles: branded, files: pages, make: always("an ink that was not ordered", press.Spot("Gold"))},
		{rule: "spot-colours", styles: branded, files: pages, make: always("another ink than was ordered", press.Spot("Kiln Red 2")), order: gold},
		{rule: "spot-colours", styles: ruled, files: pages, make: always("black in registration colour", press.Registration())},
		{rule: "ink-total", styles: deep, files: files, make: always("344 % of ink for uncoated paper", press.Wet()), order: uncoated},
		{rule: "ink-total", styles: deep, files: files, tells: barely, make: always("344 % of ink", press.Wet())},
	}
}

// codeFaults are of QR codes.
func codeFaults() []fault {
	with := func(format string, low, high float64, option func(float64) press.Option) maker {
		return number(format, low, high, func(v float64) press.Option { return press.Together(press.Code(11), option(v)) })
	}
	code := func(of []string, tells int, make maker) fault {
		return fault{rule: "code-scan", styles: coded, sizes: wide, maker: "clock-mender", files: of, tells: tells, make: make}
	}
	return []fault{
		code(files, clearly, number("a code of %.1f mm", 4.4, 8.5, press.Code)),
		code(pages, barely, number("a code of %.1f mm", 2.5, 4.4, press.Code)),
		code(files, faintly, with("a code in %.2f black", 0.1, 0.18, press.CodeInk)),
		code(files, clearly, with("a code boxed %.1f modules off", 0.5, 3.2, press.CodeBoxed)),
	}
}

// pictureFaults are of continuous-tone pictures.
func pictureFaults() []fault {
	return []fault{
		{rule: "effective-resolution", styles: pictured, files: pages, make: number("pictures of %.0f ppi", 70, 190, press.PicturePPI)},
		{rule: "effective-resolution", styles: plain, files: pictures, coarse: true, make: sound()},
		{rule: "true-detail", styles: everyWord, files: pictures, make: number("enlarged %.1f times", 1.6, 6, press.Enlarged)},
		{rule: "true-detail", styles: everyWord, files: pictures, make: number("enlarged %.1f times, once a JPEG of 85", 2, 5, func(v float64) press.Option {
			return press.Together(press.In(press.Grey), press.Enlarged(v), press.OnceJPEG(85))
		})},
		{rule: "jpeg-loss", styles: everyWord, files: pictures, make: number("once a JPEG of %.0f", 5, 20, func(v float64) press.Option {
			return press.Together(press.In(press.Grey), press.OnceJPEG(int(v)))
		})},
		{rule: "jpeg-loss", styles: pictured, files: pages, make: number("pictures of JPEG quality %.0f", 5, 15, func(v float64) press.Option {
			return press.Quality(int(v))
		})},
	}
}
