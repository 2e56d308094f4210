package plates

import (
	"fmt"

	"stoneproof/checks/art/pdf"
)

// colour is a colour as the content sets it.
type colour struct {
	space   *space
	v       []float64
	pattern *filling // of a pattern space
}

// state is the graphics state (8.4) as far as it decides what ink lands.
type state struct {
	ctm                    pdf.Matrix
	fill, stroke           colour
	fillAlpha, strokeAlpha float64
	blend                  string
	masked                 bool // a soft mask is set
	fillOver, strokeOver   bool
	overMode               int
	textMode               int
	font                   typeface // set if it is of Type 3

	shown look
}

// look is what the output's own graphics state holds at this point, as far as it
// is only brought up to date when something is painted. An empty colour or font
// is not known.
type look struct {
	fill, stroke, font     string
	fillAlpha, strokeAlpha float64
	blend                  string
}

const normal = "Normal"

// startState is the state at the start of a page, tile or mask (Table 52).
func startState(ctm pdf.Matrix) state {
	ink := colour{space: &space{family: gray, n: 1, device: true}, v: []float64{0}}
	return state{
		ctm: ctm, fill: ink, stroke: ink, fillAlpha: 1, strokeAlpha: 1, blend: normal,
		shown: look{fillAlpha: 1, strokeAlpha: 1, blend: normal},
	}
}

// key tells apart states that content inherits.
func (g *state) key() string {
	return fmt.Sprint(g.fill.key(), g.stroke.key(), g.fillAlpha, g.strokeAlpha, g.blend, g.masked,
		g.fillOver, g.strokeOver, g.overMode, g.textMode, g.font.key())
}

func (c colour) key() string {
	if c.pattern != nil {
		return fmt.Sprintf("%p%v%v%v", c.space, c.v, c.pattern.object, c.pattern.base)
	}
	return fmt.Sprintf("%s%v", c.space.key(), c.v)
}

func (g *state) overprint(fill bool) overprint {
	if fill {
		return overprint{g.fillOver, g.overMode}
	}
	return overprint{g.strokeOver, g.overMode}
}

// transparent tells whether paint blends with what is below.
func (g *state) transparent() bool {
	return g.masked || g.blend != normal || g.fillAlpha < 1 || g.strokeAlpha < 1
}
