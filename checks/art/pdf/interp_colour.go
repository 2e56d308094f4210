package pdf

import "stoneproof/checks/art/pdf/syntax"

func colourOperators(t map[string]func(*interp)) {
	t["g"] = func(in *interp) { in.setDevice(&in.gs.Fill, DeviceGray, 1) }
	t["G"] = func(in *interp) { in.setDevice(&in.gs.Stroke, DeviceGray, 1) }
	t["rg"] = func(in *interp) { in.setDevice(&in.gs.Fill, DeviceRGB, 3) }
	t["RG"] = func(in *interp) { in.setDevice(&in.gs.Stroke, DeviceRGB, 3) }
	t["k"] = func(in *interp) { in.setDevice(&in.gs.Fill, DeviceCMYK, 4) }
	t["K"] = func(in *interp) { in.setDevice(&in.gs.Stroke, DeviceCMYK, 4) }
	t["cs"] = func(in *interp) { in.setSpace(&in.gs.Fill) }
	t["CS"] = func(in *interp) { in.setSpace(&in.gs.Stroke) }
	t["sc"] = func(in *interp) { in.setColour(&in.gs.Fill) }
	t["SC"] = func(in *interp) { in.setColour(&in.gs.Stroke) }
	t["scn"], t["SCN"] = t["sc"], t["SC"]
}

func (in *interp) setDevice(c *Colour, f Family, n int) {
	if in.uncoloured {
		return // 8.7.3.3: colour operators are ignored there
	}
	v, ok := in.want(n, string(f))
	if !ok {
		return
	}
	values := make([]float64, n)
	for i := range values {
		values[i] = unit(v[i])
	}
	*c = Colour{Space: in.w.deviceIn(in.sc, f, 0), Values: values}
}

func (in *interp) setSpace(c *Colour) {
	name, ok := in.args.Name()
	if !ok || in.uncoloured {
		return
	}
	s := in.w.namedSpace(in.sc, name, 0)
	*c = Colour{Space: s, Values: s.initial()}
}

// setColour takes as many numbers as the space has components, and a pattern name
// after them where the space is a Pattern.
func (in *interp) setColour(c *Colour) {
	if in.uncoloured || c.Space == nil {
		return
	}
	var values []float64
	for _, t := range in.args.List {
		if t.Kind == syntax.Number && len(values) < syntax.MaxColorants {
			values = append(values, t.Num)
		}
	}
	next := Colour{Space: c.Space, Values: values}
	if name, ok := in.args.Name(); ok {
		if c.Space.Family != PatternCS {
			in.w.note("a pattern is set where the colour space is %s", c.Space)
			return
		}
		next.Pattern = in.pattern(name)
	} else if len(values) != c.Space.N {
		in.w.note("a colour has %d components where %s takes %d", len(values), c.Space, c.Space.N)
		next.Values = append(values, make([]float64, max(0, c.Space.N-len(values)))...)[:c.Space.N]
	}
	*c = next
}
