package plates

import (
	"slices"
	"strings"
)

// causes are the reasons why plates are only approximate, each once.
type causes struct {
	list []string
	most int

	partial bool // one of them leaves something out
}

func (c *causes) add(s string) {
	c.partial = c.partial || leavesOut(s)
	if len(c.list) < c.most && !slices.Contains(c.list, s) {
		c.list = append(c.list, s)
	}
}

// leavesOut reports whether something that paints is missing for the cause.
func leavesOut(cause string) bool {
	switch cause {
	case causePicture, causeCut, causeShading, causeTile, causePattern, causeDeep, causeMuch, causeDecode, causeSpots:
		return true
	}
	return strings.HasPrefix(cause, causeCodec)
}

// What the method cannot separate faithfully, in plain words.
const (
	causeRGB        = "RGB colours: their ink is an estimate"
	causeLab        = "Lab colours: their ink is an estimate"
	causeGrayICC    = "grey with a profile: taken as plain black ink"
	causeCMYKICC    = "CMYK with a profile of its own: taken as plain CMYK"
	causeSpace      = "a colour space that cannot be read: taken as grey"
	causeMaskColour = "a soft mask in calibrated or spot colours: its brightness is an estimate"
	causeBlend      = "a blend mode that mixes inks: "
	causeOverBlend  = "overprint together with a blend mode"
	causeRGBGroup   = "transparency blended in RGB"
	causeApart      = "a blend mode within a see-through group: blended with the group alone"
	causeKnockout   = "a knock-out group: blended as an ordinary one"
	causeTransfer   = "a transfer function: not applied"
	causeHalftone   = "a halftone with a transfer function: not applied"
	causeMatte      = "a picture blended with a matte colour beforehand: the matte is not taken out"
	causeCodec      = "a picture that cannot be decoded, left out: "
	causePicture    = "a picture that is damaged or not understood, left out"
	causeCut        = "a picture that lacks data"
	causeShading    = "a shading that cannot be read, left out"
	causeOverShade  = "a shading that overprints within a group"
	causeOverText   = "outlined type that overprints within a group"
	causeOverGlyph  = "overprinting type of a font with coloured glyphs among others"
	causeTile       = "a pattern of too many tiles, left out"
	causePattern    = "a pattern that cannot be read, left out"
	causeDeep       = "content nested too deep or in itself, left out"
	causeMuch       = "more content than is looked at, the rest left out"
	causeDecode     = "content that cannot be decoded to its end"
	causeOperands   = "an operator with too many operands"
	causeFunction   = "a function that cannot be read"
	causeSpots      = "more spot colours than are looked at, the rest left out"
	causePostScript = "a PostScript object, left out"
	causeMissing    = "something the content refers to that is not there"
)
