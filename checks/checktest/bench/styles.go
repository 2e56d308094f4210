package main

import "stoneproof/checks/checktest/press"

// Styles by what they show.
var (
	every     = press.Styles()
	plain     = []press.Style{press.Dark, press.Light, press.White, press.Gradient, press.Photographic}
	grounded  = []press.Style{press.Dark, press.Light, press.Textured, press.Gradient, press.Striped, press.Rays, press.Portrait}
	painted   = append([]press.Style{press.Patterned, press.Lattice, press.Engraved, press.Photographic, press.TwoSided}, grounded...)
	pictured  = []press.Style{press.Photographic, press.Textured, press.Vignette, press.TwoSided}
	darkType  = []press.Style{press.White, press.Broadside, press.Framed, press.Textured, press.Patterned, press.Striped, press.Engraved, press.Vignette}
	whiteType = []press.Style{press.Dark, press.Gradient, press.Portrait, press.Rays, press.Photographic, press.Broadside}
	deep      = []press.Style{press.Dark, press.Portrait, press.Photographic, press.TwoSided, press.Rays, press.Lattice}
	branded   = []press.Style{press.Framed, press.Light, press.Striped, press.Dark, press.White, press.Patterned}
	ruled     = []press.Style{press.White, press.Broadside}
	lightType = []press.Style{press.Dark, press.Portrait}
	fancy     = []press.Style{press.TwoSided, press.Textured, press.Gradient, press.Striped, press.Vignette}
	twoSided  = []press.Style{press.TwoSided}
	everyWord = []press.Style{press.Dark, press.Light, press.White, press.Broadside, press.Framed, press.Photographic}
	worded    = []press.Style{press.Dark, press.Light, press.Textured, press.Photographic, press.Gradient, press.Striped, press.Framed, press.White,
		press.Portrait, press.Patterned, press.Engraved, press.Rays, press.Vignette, press.Broadside}
	framed     = []press.Style{press.Framed}
	darkEdged  = []press.Style{press.Dark, press.Portrait, press.TwoSided}
	lightEdged = []press.Style{press.White, press.Framed, press.Vignette, press.Textured}
	coded      = []press.Style{press.Broadside, press.TwoSided, press.Lattice}
)

// calm are the styles on whose brink print stands clear, and busy those whose art may
// swallow it.
var (
	calm = []press.Style{press.Dark, press.Light, press.White, press.Gradient, press.Photographic, press.Textured, press.Framed, press.Portrait,
		press.Vignette, press.Broadside}
	busy = []press.Style{press.Striped, press.Patterned, press.Engraved, press.Rays, press.Lattice}
)

// wide are the sizes on which a broadside has room for its second mark.
var wide = []string{"us-business", "eu-business", "jp-business", "cn-business", "id-1", "us-postcard"}

// small are the sizes on which all black type is so small that four plates show when
// one of them lies amiss; on a postcard it grows large enough to hide it.
var small = []string{"us-business", "eu-business", "jp-business", "cn-business", "id-1", "a7", "poker", "poker-us", "bridge"}
