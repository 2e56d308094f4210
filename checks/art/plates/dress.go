package plates

import "fmt"

// landing is how paint lands on a plate.
type landing int

const (
	spared   landing = iota // the plate stays as it is
	inked                   // in the ink of the colour, which may be none
	shielded                // as spared, but the group that it is in gets its shape
)

// lands tells how paint with the fill or the stroke colour lands on the plate, and
// takes note of what it is painted in.
func (r *rewriter) lands(fill bool) landing {
	if r.hiding > 0 {
		return spared
	}
	if r.uncoloured {
		return inked
	}
	c := r.g.colour(fill)
	s, direct := c.space, true
	if s.family == pattern {
		switch {
		case c.pattern == nil:
			return spared
		case c.pattern.shading != nil:
			s, direct = c.pattern.shading.space, false
		case c.pattern.coloured:
			return inked // what is in the tile has overprint settings of its own
		case s.base == nil:
			return spared
		default:
			s, direct = s.base, false // the current space is Pattern, not DeviceCMYK
		}
	}
	return r.landsIn(s, c.v, r.g.overprint(fill), direct)
}

// landsIn is lands for paint in a space. Where overprint spares the plate inside an
// isolated group, the group must not become see-through there: CompatibleOverprint
// (11.7.4.3) gives the backdrop where there is one, and no ink where there is none,
// which is what white under Multiply gives.
func (r *rewriter) landsIn(s *space, v []float64, o overprint, direct bool) landing {
	r.meet(s)
	switch {
	case !r.plate.spares(s, v, o, direct):
		return inked
	case s.paintsNothing():
		return spared
	case r.g.blend != normal:
		r.causes.add(causeOverBlend)
		return spared
	case r.isolated:
		return shielded
	}
	return spared
}

// meet takes note of a space that is painted in.
func (r *rewriter) meet(s *space) {
	if r.plate.mask {
		if s.family == inks || s.family == lab || s.family == rgb && !s.device {
			r.causes.add(causeMaskColour)
		}
		return
	}
	if s.cause != "" {
		r.causes.add(s.cause)
	}
	if r.apart && r.g.blend != normal {
		r.causes.add(causeApart)
	}
	for t := s; t != nil; t = t.base {
		r.meetSpots(t)
		if t.family == inks {
			break // its alternate is not used
		}
	}
	if r.rgbBlend {
		r.blending.transparent = r.blending.transparent || r.g.transparent()
		r.blending.device = r.blending.device || !s.mixesRGB()
		if r.blending.transparent && r.blending.device {
			r.causes.add(causeRGBGroup)
		}
	}
}

// mixesRGB tells whether a group with this space blends in RGB.
func (s *space) mixesRGB() bool {
	switch s.family {
	case rgb, lab:
		return true
	case indexed:
		return s.base.mixesRGB()
	}
	return false
}

// dress brings the output's graphics state to what painting needs: the grey of the
// colours, and an alpha of 0 for what is spared.
func (r *rewriter) dress(fill, stroke landing) {
	g := &r.g
	next := g.shown
	next.fillAlpha, next.strokeAlpha, next.blend = g.fillAlpha, g.strokeAlpha, r.blendMode()
	if fill == shielded || stroke == shielded {
		next.blend = "Multiply"
	}
	if fill != spared && !r.uncoloured {
		next.fill = r.grey(g.fill, fill, true)
	}
	if stroke != spared && !r.uncoloured {
		next.stroke = r.grey(g.stroke, stroke, false)
	}
	r.show(next)
}

// dressType is dress for type, whose place on the line has to go on: what is spared is
// drawn, but clear as glass.
func (r *rewriter) dressType(fill, stroke landing) {
	was := r.g
	if fill == spared {
		r.g.fillAlpha = 0
	}
	if stroke == spared {
		r.g.strokeAlpha = 0
	}
	r.dress(fill, stroke)
	shown := r.g.shown
	r.g = was
	r.g.shown = shown
}

// show writes what differs from what the output shows already.
func (r *rewriter) show(next look) {
	was := &r.g.shown
	if next.fill != was.fill {
		r.out.WriteString(next.fill)
	}
	if next.stroke != was.stroke {
		r.out.WriteString(next.stroke)
	}
	if next.fillAlpha != was.fillAlpha || next.strokeAlpha != was.strokeAlpha || next.blend != was.blend {
		value := fmt.Sprintf("<</ca %.4f/CA %.4f/BM/%s>>", next.fillAlpha, next.strokeAlpha, next.blend)
		r.emit(r.used.name("ExtGState", value), "gs")
	}
	*was = next
}

// grey writes the operators that set a colour.
func (r *rewriter) grey(c colour, l landing, fill bool) string {
	set, space, component := "g", "cs", "scn"
	if !fill {
		set, space, component = "G", "CS", "SCN"
	}
	if l == shielded {
		return "1 " + set + "\n"
	}
	if c.space.family != pattern {
		return fmt.Sprintf("%.5f %s\n", r.lightness(c.space, c.v), set)
	}
	name := r.used.name("Pattern", r.patternFor(c))
	if c.pattern.shading != nil || c.pattern.coloured {
		return fmt.Sprintf("/Pattern %s %s %s\n", space, name, component)
	}
	over := r.used.name("ColorSpace", "[/Pattern/DeviceGray]")
	return fmt.Sprintf("%s %s %.5f %s %s\n", over, space, r.lightness(c.space.base, c.v), name, component)
}

// lightness is the grey for a colour: what the ink leaves of white.
func (r *rewriter) lightness(s *space, v []float64) float64 {
	amount, _ := s.ink(v, r.plate)
	return 1 - amount
}

func (g *state) colour(fill bool) colour {
	if fill {
		return g.fill
	}
	return g.stroke
}
