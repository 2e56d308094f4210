package main

import (
	"fmt"
	"math/rand/v2"

	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// nearMisses come close to a fault and are none: every rule must be silent.
func nearMisses() []fault {
	return []fault{
		{styles: worded, files: files, make: atEdge("phone at the %s, %.1f mm in", 3.4, 6, press.PhoneAt)},
		{styles: lightEdged, files: files, make: farFrame(false)},
		{styles: darkEdged, files: files, make: farFrame(true)},
		{styles: every, files: pages, make: number("cutting marks from %.2f mm out", 3.3, 5, func(v float64) press.Option {
			return press.Together(press.CutMarks(v), press.Slug(12))
		})},
		{styles: coded, sizes: wide, maker: "clock-mender", files: files, make: number("a code of %.1f mm", 10, 12, press.Code)},
		{styles: coded, sizes: wide, maker: "clock-mender", files: files, make: number("a code boxed %.1f modules off", 4.6, 6, func(v float64) press.Option {
			return press.Together(press.Code(10), press.CodeBoxed(v))
		})},
		{styles: ruled, files: pages, make: number("rules of %.2f pt", 0.3, 0.6, press.RulePoints)},
		{styles: ruled, files: pages, make: number("type of %.1f pt", 5.2, 6.2, press.SmallType)},
		{styles: branded, files: pages, make: always("the ink that was ordered, in capitals", press.Spot("GOLD")), order: gold},
		{styles: plain, files: pages, make: number("TrimBox %.2f mm outside", 0.05, 0.2, func(v float64) press.Option {
			return press.Box("TrimBox", rules.Even(rules.MM(v/2))) // which makes the card larger by v
		})},
		{styles: plain, files: pages, make: number("CropBox %.1f mm outside the trim", 3.2, 6, func(v float64) press.Option {
			return press.Together(press.Slug(8), press.Box("CropBox", rules.Even(rules.MM(v))))
		})},
		{styles: twoSided, files: pages, make: number("a back %.4f times as large", 0.9993, 1.0007, press.BackScaled)},
		{styles: twoSided, files: pages, make: always("the back for turning over the head", press.BackTurned(180)), order: overHead},
		{styles: twoSided, files: pages, make: always("two sides, as ordered", press.Slug(0)), order: twoSides},
		{styles: ruled, files: pages, make: number("type of %.1f pt for uncoated paper", 6.2, 6.6, press.SmallType), order: uncoated},
		{styles: lightType, files: pages, make: number("light type of %.1f pt", 6.1, 6.6, press.SmallType)},
		{styles: deep, files: files, make: always("for coated paper", press.Slug(0)), order: coated},
		{styles: pictured, files: pages, make: number("pictures of %.0f ppi", 302, 340, press.PicturePPI)},
		{styles: pictured, files: pictures, make: number("pictures of %.0f ppi below sharp type", 240, 290, press.PicturePPI)},
	}
}

// farFrame is a frame as far inside as the ticket asks, or further, evenly.
func farFrame(white bool) maker {
	return func(r *rand.Rand) (press.Option, string) {
		v, at := between(r, 3.4, 6), map[rules.Edge]float64{}
		for _, e := range rules.AllEdges {
			at[e] = v
		}
		return press.Bordered(at, between(r, 0.3, 1.5), white), fmt.Sprintf("a frame %.1f mm inside", v)
	}
}
