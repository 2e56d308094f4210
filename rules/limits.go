package rules

import "fmt"

// Limits are the numbers that the craft needs, for one process. Their defaults
// stand in the embedded tickets, a page a process; a ticket may change any.
type Limits struct {
	// How far a finished size may be off: page boxes are exact, a raster's
	// edges fall on whole pixels.
	TrimTolerance       Length `toml:"trim-tolerance"`
	RasterTrimTolerance Length `toml:"raster-trim-tolerance"`

	// BleedSlack is what paint or room may be short without a word; a strip of
	// up to BleedSliver left bare along the outermost edge warns.
	BleedSlack  Length `toml:"bleed-slack"`
	BleedSliver Length `toml:"bleed-sliver"`

	// BorderLeast is how far inside the trim a frame must run, so that a cut
	// that is a little off does not show.
	BorderLeast Length `toml:"border-least"`

	// How far a cutting mark of a sheet, a card between its marks, or a back behind
	// its front may be off, and how thick a mark may be, in points.
	MarkPlace      Length  `toml:"mark-place"`
	MarkWeightMost float64 `toml:"mark-weight-most"`

	// Pixels per inch at printed size: under Good warns, under Least fails.
	// PPISlack is the share by which a number may fall short and still count
	// as met, for 300 ppi does not survive whole-number storage (11811 px/m is
	// 299.9994 ppi).
	TonePPIGood  float64 `toml:"tone-ppi-good"`
	TonePPILeast float64 `toml:"tone-ppi-least"`
	LinePPIGood  float64 `toml:"line-ppi-good"`
	LinePPILeast float64 `toml:"line-ppi-least"`
	PPISlack     float64 `toml:"ppi-slack"`

	// What a colour space or tag earns where the process does not want it.
	RGB          Verdict `toml:"rgb"`           // RGB, Lab and calibrated RGB in the art
	RGBUntagged  Verdict `toml:"rgb-untagged"`  // RGB with no profile and no intent that covers it
	CMYKUntagged Verdict `toml:"cmyk-untagged"` // CMYK with no profile and no output intent
	TagBroken    Verdict `toml:"tag-broken"`    // a tag that contradicts its image, or cannot be read

	// Most ink in one place, in per cent of one solid, and what more of it earns.
	// InkArea is the side of the square over which ink is averaged: less than
	// that much of it dries as it should. InkSlack is what rounding may add.
	InkTotal Percent `toml:"ink-total"`
	InkSlack Percent `toml:"ink-slack"`
	InkArea  Length  `toml:"ink-area"`
	InkOver  Verdict `toml:"ink-over"`

	Spot Verdict `toml:"spot"` // an extra ink that the ticket does not name

	// The smallest type that holds, in points of its size as printed: in one ink
	// on a lighter ground, and light on dark or in several inks.
	TypeLeast         float64 `toml:"type-least"`
	TypeReversedLeast float64 `toml:"type-reversed-least"`

	// The thinnest line that holds, in points: in one ink, and light on dark.
	LineLeast         float64 `toml:"line-least"`
	LineReversedLeast float64 `toml:"line-reversed-least"`

	// Black of several inks needs type and lines at least so large, in points,
	// for inks never lie on each other exactly.
	RichTypeLeast float64 `toml:"rich-type-least"`
	RichLineLeast float64 `toml:"rich-line-least"`

	// The module of a QR code, the bare margin around it in modules, and how far its
	// light and dark differ in per cent of all light: under Good warns, under Least
	// fails. The least module is four of the printer's dots.
	CodeModuleGood    Length  `toml:"code-module-good"`
	CodeModuleLeast   Length  `toml:"code-module-least"`
	CodeQuietGood     float64 `toml:"code-quiet-good"`
	CodeQuietLeast    float64 `toml:"code-quiet-least"`
	CodeContrastGood  float64 `toml:"code-contrast-good"`
	CodeContrastLeast float64 `toml:"code-contrast-least"`

	// What compression may leave, in levels of 255: borders of blocks that stand out,
	// and specks beside type and hard edges. Over Good warns, over Most fails. Blocks
	// that print smaller than LossSeen are too fine to see. LossQuality is the JPEG
	// quality to ask for.
	LossBlocksGood float64 `toml:"loss-blocks-good"`
	LossBlocksMost float64 `toml:"loss-blocks-most"`
	LossSpecksGood float64 `toml:"loss-specks-good"`
	LossSpecksMost float64 `toml:"loss-specks-most"`
	LossSeen       Length  `toml:"loss-seen"`
	LossQuality    float64 `toml:"loss-quality"`
}

// Percent is ink in per cent of one solid: four solids are 400.
type Percent float64

// mostPPI bounds what a ticket may ask for: a pixel of a quarter micrometre.
const mostPPI = 100_000

// mostNumber bounds ink in per cent and type in points: more is a slip.
const mostNumber = 10_000

func (l Limits) validate() error {
	lengths := map[string]Length{
		"trim-tolerance": l.TrimTolerance, "raster-trim-tolerance": l.RasterTrimTolerance,
		"bleed-slack": l.BleedSlack, "bleed-sliver": l.BleedSliver, "border-least": l.BorderLeast, "mark-place": l.MarkPlace,
	}
	for _, key := range []string{"trim-tolerance", "raster-trim-tolerance", "bleed-slack", "bleed-sliver", "border-least", "mark-place"} {
		if lengths[key] < 0 {
			return fmt.Errorf("limit %s is less than 0", key)
		}
	}
	for _, ppi := range []struct {
		key         string
		least, good float64
	}{{"tone-ppi", l.TonePPILeast, l.TonePPIGood}, {"line-ppi", l.LinePPILeast, l.LinePPIGood}} {
		// Told by what is right: TOML knows nan, of which every comparison is false.
		if !(0 <= ppi.good && ppi.good <= mostPPI) {
			return fmt.Errorf("limit %s-good is out of range: 0 to %d", ppi.key, mostPPI)
		}
		if !(0 <= ppi.least && ppi.least <= mostPPI) {
			return fmt.Errorf("limit %s-least is out of range: 0 to %d", ppi.key, mostPPI)
		}
		if ppi.least > ppi.good {
			return fmt.Errorf("limit %s-least is over %[1]s-good: under the least fails, from the good on passes", ppi.key)
		}
	}
	for key, v := range map[string]float64{
		"ink-total": float64(l.InkTotal), "ink-slack": float64(l.InkSlack),
		"type-least": l.TypeLeast, "type-reversed-least": l.TypeReversedLeast,
		"line-least": l.LineLeast, "line-reversed-least": l.LineReversedLeast,
		"rich-type-least": l.RichTypeLeast, "rich-line-least": l.RichLineLeast,
		"mark-weight-most": l.MarkWeightMost,
	} {
		if !(0 <= v && v <= mostNumber) {
			return fmt.Errorf("limit %s is out of range: 0 to %d", key, mostNumber)
		}
	}
	if l.InkArea <= 0 || l.InkArea > maxCard {
		return fmt.Errorf("limit ink-area is out of range: it is the side of a square on the card")
	}
	if err := l.validateCodes(); err != nil {
		return err
	}
	if err := l.validateLoss(); err != nil {
		return err
	}
	if !(0 <= l.PPISlack && l.PPISlack < 1) {
		return fmt.Errorf("limit ppi-slack is out of range: it is a share, from 0 to under 1")
	}
	return nil
}

func (l Limits) validateCodes() error {
	if l.CodeModuleLeast < Micrometre || l.CodeModuleGood > maxCard {
		return fmt.Errorf("a limit of code-module is out of range: it is the size of a module on the card")
	}
	for key, v := range map[string]float64{
		"code-quiet-good": l.CodeQuietGood, "code-quiet-least": l.CodeQuietLeast,
		"code-contrast-good": l.CodeContrastGood, "code-contrast-least": l.CodeContrastLeast,
	} {
		if !(0 <= v && v <= 100) {
			return fmt.Errorf("limit %s is out of range: 0 to 100", key)
		}
	}
	if l.CodeModuleLeast > l.CodeModuleGood || l.CodeQuietLeast > l.CodeQuietGood || l.CodeContrastLeast > l.CodeContrastGood {
		return fmt.Errorf("a least limit of a code is over the good one: least fails, good passes")
	}
	return nil
}

func (l Limits) validateLoss() error {
	for key, v := range map[string]float64{
		"loss-blocks-good": l.LossBlocksGood, "loss-blocks-most": l.LossBlocksMost,
		"loss-specks-good": l.LossSpecksGood, "loss-specks-most": l.LossSpecksMost,
	} {
		if !(0 < v && v <= 255) {
			return fmt.Errorf("limit %s is out of range: it is light, over 0 to 255", key)
		}
	}
	if l.LossBlocksGood > l.LossBlocksMost || l.LossSpecksGood > l.LossSpecksMost {
		return fmt.Errorf("a good limit of loss is over the most: over good warns, over most fails")
	}
	if !(1 <= l.LossQuality && l.LossQuality <= 100) {
		return fmt.Errorf("limit loss-quality is out of range: 1 to 100")
	}
	if l.LossSeen < 0 || l.LossSeen > maxCard {
		return fmt.Errorf("limit loss-seen is out of range: it is the size of a block on the card")
	}
	return nil
}
