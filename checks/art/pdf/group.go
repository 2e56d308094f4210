package pdf

// group is what a transparency group as a whole adds to the paint inside it.
type group struct {
	alpha  float64
	blend  string
	masked bool
}

func noGroup() group { return group{alpha: 1, blend: "Normal"} }

// around is the group that paint of the present state makes of what is inside it.
func (in *interp) around() group {
	l := in.gs.Look
	in.group.onto(&l)
	return group{l.FillAlpha, l.Blend, l.SoftMask}
}

func (g group) onto(l *Look) {
	l.FillAlpha *= g.alpha
	l.StrokeAlpha *= g.alpha
	l.SoftMask = l.SoftMask || g.masked
	if l.Blend == "Normal" {
		l.Blend = g.blend
	}
}

// enterGroup starts a transparency group: inside, the state begins anew, and what
// was set outside goes for the group as a whole (11.6.6).
func (in *interp) enterGroup() {
	in.group = in.around()
	l := &in.gs.Look
	l.FillAlpha, l.StrokeAlpha, l.Blend, l.SoftMask = 1, 1, "Normal", false
}
