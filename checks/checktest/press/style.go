package press

// Style is a look that any maker's card can have at any size.
type Style string

// Styles.
const (
	Dark         Style = "dark"         // one deep solid
	Light        Style = "light"        // a pale tint and a coloured foot
	Textured     Style = "textured"     // printed on a picture of laid paper
	Photographic Style = "photographic" // a photograph beside a solid
	Gradient     Style = "gradient"     // an evening sky over drawn hills
	Striped      Style = "striped"      // an awning's stripes behind a label
	Framed       Style = "framed"       // a double frame well inside
	White        Style = "white"        // bare paper, nothing at the edge
	Portrait     Style = "portrait"     // upright, with an arched window
	Patterned    Style = "patterned"    // small marks running off the edge
	TwoSided     Style = "two-sided"    // the mark in front, the words behind
	Engraved     Style = "engraved"     // one-bit line art over type
	Rays         Style = "rays"         // a sunburst behind a medallion
	Lattice      Style = "lattice"      // the back of a playing card
	Vignette     Style = "vignette"     // a photograph that fades into the paper
	Broadside    Style = "broadside"    // black type on white, like a playbill
)

// Styles lists all looks.
func Styles() []Style {
	return []Style{Dark, Light, Textured, Photographic, Gradient, Striped, Framed, White,
		Portrait, Patterned, TwoSided, Engraved, Rays, Lattice, Vignette, Broadside}
}

// look is how a style draws its sides.
type look struct {
	sides   []func(d *draft)
	upright bool
}

func (s Style) look() look {
	one := func(f func(d *draft)) look { return look{sides: []func(*draft){f}} }
	switch s {
	case Dark:
		return one(drawDark)
	case Light:
		return one(drawLight)
	case Textured:
		return one(drawTextured)
	case Photographic:
		return one(drawPhotographic)
	case Gradient:
		return one(drawGradient)
	case Striped:
		return one(drawStriped)
	case Framed:
		return one(drawFramed)
	case White:
		return one(drawWhite)
	case Portrait:
		return look{[]func(*draft){drawPortrait}, true}
	case Patterned:
		return one(drawPatterned)
	case TwoSided:
		return look{sides: []func(*draft){drawFace, drawReverse}}
	case Engraved:
		return one(drawEngraved)
	case Rays:
		return one(drawRays)
	case Lattice:
		return one(drawLattice)
	case Vignette:
		return one(drawVignette)
	case Broadside:
		return one(drawBroadside)
	}
	panic("press: no style " + string(s))
}
