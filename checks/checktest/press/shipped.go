package press

import (
	"fmt"

	"stoneproof/rules"
)

// Shipped lists the art that lies in the module's testdata folder, by its path
// there.
func Shipped() []File {
	return append(shippedGood(), shippedBroken()...)
}

func shippedGood() []File {
	file := func(c Card, way, process string, make func() []byte) File {
		folder := "good"
		if c.Size != rules.DefaultSize {
			folder = "sizes"
		}
		return File{fmt.Sprintf("%s/%v%s", folder, c, way), c.Size, process, make}
	}
	var (
		potter  = Card{"potter", TwoSided, "us-business"}
		binder  = Card{"bookbinder", Dark, "eu-business"}
		bees    = Card{"beekeeper", Engraved, "us-business"}
		candles = Card{"candle-maker", Vignette, "us-business"}
		seeds   = Card{"seed-merchant", Lattice, "poker"}
		ferry   = Card{"ferryman", Gradient, "us-business"}
		baker   = Card{"baker", Photographic, "us-business"}
		marbler = Card{"paper-marbler", Striped, "us-business"}
		joiner  = Card{"joiner", Framed, "us-business"}
		weaver  = Card{"weaver", White, "us-business"}
		clocks  = Card{"clock-mender", Broadside, "us-business"}
		wheels  = Card{"bicycle-mender", Patterned, "us-business"}
	)
	return []File{
		file(potter, ".pdf", "digital", func() []byte { return potter.PDF(Quality(85)) }),
		file(binder, ".pdf", "digital", func() []byte { return binder.PDF(Slug(8)) }),
		file(bees, ".pdf", "digital", func() []byte { return bees.PDF(NamedIntent()) }),
		file(candles, ".pdf", "digital", func() []byte { return candles.PDF(Quality(85)) }),
		file(seeds, ".pdf", "digital", func() []byte { return seeds.PDF() }),
		file(ferry, ".jpg", "digital", func() []byte { return ferry.JPEG(300, In(CMYK), Quality(90)) }),
		file(baker, ".jpg", "desktop", func() []byte { return baker.JPEG(300, Quality(88)) }),
		file(marbler, ".tif", "digital", func() []byte { return marbler.TIFF(300) }),
		file(joiner, ".png", "desktop", func() []byte { return joiner.PNG(300) }),
		file(weaver, ".tif", "desktop", func() []byte { return weaver.TIFF(300, In(RGB)) }),
		file(clocks, "-code.pdf", "digital", func() []byte { return clocks.PDF(NamedIntent(), Code(10)) }),
		file(clocks, ".png", "digital", func() []byte { return clocks.PNG(300, In(Grey)) }),
		file(wheels, ".pdf", "digital", func() []byte { return wheels.PDF(Rotated(90), NamedIntent()) }),
	}
}

// shippedBroken has one fault a file, under the rule that it breaks.
func shippedBroken() []File {
	var (
		weaver = Card{"weaver", White, "us-business"}
		seeds  = Card{"seed-merchant", Light, "us-business"}
		binder = Card{"bookbinder", Dark, "us-business"}
		bees   = Card{"beekeeper", Rays, "us-business"}
		clocks = Card{"clock-mender", Broadside, "us-business"}
		ferry  = Card{"ferryman", Photographic, "us-business"}
		joiner = Card{"joiner", Framed, "eu-business"}
		potter = Card{"potter", Dark, "us-business"}
	)
	file := func(name string, make func() []byte) File {
		return File{"broken/" + name, "us-business", "digital", make}
	}
	forOffset := file("colour-space/rgb.pdf", func() []byte { return bees.PDF(In(RGB)) })
	forOffset.Process = "offset-coated"
	goldOffset := file("spot-colours/gold.pdf", func() []byte {
		return Card{"joiner", Framed, "us-business"}.PDF(NamedIntent(), Spot("Gold"))
	})
	goldOffset.Process = "offset-coated"
	right := rules.MM(6)
	return []File{
		file("file-opens/cut-off.pdf", func() []byte { b := weaver.PDF(); return b[:len(b)/2] }),
		file("file-opens/letter.pdf", func() []byte { return []byte(letterToPrinter) }),
		file("side-count/three-pages.pdf", func() []byte {
			return Card{"ferryman", TwoSided, "us-business"}.PDF(NamedIntent(), Pages(3), Quality(85))
		}),
		file("trim-size/eu-business-art.pdf", func() []byte { return joiner.PDF(NamedIntent(), Bleed(3.175)) }),
		file("page-boxes/trim-off-the-page.pdf", func() []byte {
			return potter.PDF(NamedIntent(), Box("TrimBox", rules.Edges{Left: -right, Right: right}))
		}),
		file("page-boxes/bleed-inside-trim.pdf", func() []byte { return potter.PDF(NamedIntent(), Box("BleedBox", rules.Even(rules.MM(-2)))) }),
		file("bleed-extent/trim-only.tif", func() []byte { return binder.TIFF(300, In(Grey), TrimOnly()) }),
		file("bleed-extent/ends-at-trim-right.pdf", func() []byte { return binder.PDF(NamedIntent(), RoomEnds(rules.Right, 0)) }),
		file("bleed-fill/stops-short-left.pdf", func() []byte { return bees.PDF(NamedIntent(), PaintStops(rules.Left, 1.2)) }),
		file("safe-zone/phone-near-knife.pdf", func() []byte { return seeds.PDF(NamedIntent(), PhoneAt(rules.Left, 1.3)) }),
		file("effective-resolution/photo-96-ppi.pdf", func() []byte { return ferry.PDF(NamedIntent(), PicturePPI(96)) }),
		file("true-detail/from-the-web.png", func() []byte { return binder.PNG(300, In(Grey), Enlarged(4)) }),
		file("jpeg-loss/quality-8.jpg", func() []byte { return clocks.JPEG(300, In(Grey), Quality(8)) }),
		file("jpeg-loss/once-quality-20.png", func() []byte { return bees.PNG(300, In(Grey), OnceJPEG(20)) }),
		file("jpeg-loss/photo-quality-15.pdf", func() []byte { return ferry.PDF(NamedIntent(), Quality(15)) }),
		forOffset,
		file("colour-tags/cut-short.tif", func() []byte { return potter.TIFF(300, WithProfile(Coated()[:9000])) }),
		file("colour-tags/rgb-profile-on-grey.png", func() []byte { return clocks.PNG(300, In(Grey), WithProfile(SRGB())) }),
		file("colour-tags/cmyk-profile-on-rgb.jpg", func() []byte { return seeds.JPEG(300, WithProfile(Coated())) }),
		goldOffset,
		file("spot-colours/registration.pdf", func() []byte { return weaver.PDF(NamedIntent(), Registration()) }),
		file("rich-black/small-type.pdf", func() []byte { return weaver.PDF(NamedIntent(), RichBlack()) }),
		file("overprint/white-type.pdf", func() []byte { return potter.PDF(NamedIntent(), WhiteOverprints()) }),
		file("fonts-embedded/loose.pdf", func() []byte { return weaver.PDF(NamedIntent(), LooseFonts()) }),
		file("text-size/fine-print.pdf", func() []byte { return weaver.PDF(NamedIntent(), SmallType(4.2)) }),
		file("text-size/light-on-dark.pdf", func() []byte { return binder.PDF(NamedIntent(), SmallType(5.5)) }),
		file("live-extras/stamped.pdf", func() []byte { return seeds.PDF(NamedIntent(), Stamped()) }),
		file("live-extras/guides.pdf", func() []byte { return binder.PDF(NamedIntent(), Guides()) }),
		file("page-boxes/claims-x-4.pdf", func() []byte { return weaver.PDF(NamedIntent(), Claiming("PDF/X-4")) }),
		file("hairlines/thin-rule.pdf", func() []byte { return weaver.PDF(NamedIntent(), RulePoints(0.1)) }),
		file("code-scan/too-small.pdf", func() []byte { return clocks.PDF(NamedIntent(), Code(4.4)) }),
		file("edge-border/frame-near-trim.pdf", func() []byte {
			return Card{"joiner", Framed, "us-business"}.PDF(NamedIntent(), FrameAt(2))
		}),
		file("edge-border/frame-near-trim.png", func() []byte {
			return Card{"joiner", Framed, "us-business"}.PNG(300, FrameAt(2))
		}),
		file("marks-in-art/marks-in-bleed.pdf", func() []byte { return seeds.PDF(NamedIntent(), Slug(6), CutMarks(1)) }),
		file("pair-size/back-at-97-percent.pdf", func() []byte {
			return Card{"potter", TwoSided, "us-business"}.PDF(NamedIntent(), Quality(85), BackScaled(0.97))
		}),
		file("pair-turn/back-upside-down.pdf", func() []byte {
			return Card{"potter", TwoSided, "us-business"}.PDF(NamedIntent(), Quality(85), BackTurned(180))
		}),
		file("ink-total/wet-ground.pdf", func() []byte { return potter.PDF(NamedIntent(), Wet()) }),
	}
}

// letterToPrinter is what a customer saved under the wrong name.
const letterToPrinter = `Dear printer,

please find our new card. The artwork follows tomorrow, with the second side.

Lisbet Thorne
Madder House, Mill Leat, Wendlebury Cross
01632 960224
`
