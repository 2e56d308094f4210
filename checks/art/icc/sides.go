package icc

// usable tells whether the profile's colours are of a kind that a transform
// goes from and to.
func (p *Profile) usable() error {
	switch {
	case p.Class == Link || p.Class == Abstract || p.Class == NamedColor:
		return UnsupportedError("no transform by a profile of class " + p.Class.String())
	case p.Space != Gray && p.Space != RGB && p.Space != CMYK && p.Space != Lab:
		return UnsupportedError("no transform of colours in " + p.Space.String())
	}
	return nil
}

// table is the profile's table for an intent: A2B0 to A2B2 towards the
// connection space, B2A0 to B2A2 back. The absolute intent goes by the relative
// one's; a table that is not there by the first (8.10.2).
func (p *Profile) table(way string, intent Intent) []byte {
	n := map[Intent]string{RelativeColorimetric: "1", Saturation: "2", AbsoluteColorimetric: "1"}[intent]
	if tag := p.tags[way+n]; n != "" && tag != nil {
		return tag
	}
	return p.tags[way+"0"]
}

// toXYZ gives the stages from the device's numbers, 0 to 1, to X, Y, Z relative
// to the medium's white.
func (p *Profile) toXYZ(intent Intent) ([]stage, error) {
	if err := p.usable(); err != nil {
		return nil, err
	}
	if p.tags == nil && p.Space == Lab { // ConnectionLab
		return unpackTo(Lab, false), nil
	}
	if tag := p.table("A2B", intent); tag != nil {
		stages, legacy, err := readTable(tag, p.Space, p.PCS)
		if p.Space == Lab && legacy {
			stages = append([]stage{scale(legacyLab)}, stages...)
		}
		return append(stages, unpackTo(p.PCS, legacy)...), err
	}
	switch {
	case p.Space == Gray:
		c, _, err := readCurve(p.tags["kTRC"])
		return append([]stage{curves{c}}, grayTo(p.PCS)...), err
	case onMatrix(p) && p.Space == RGB:
		cs, err := p.rgbCurves()
		if err != nil {
			return nil, err
		}
		m, err := p.rgbColorants()
		return []stage{cs, m}, err
	}
	return nil, UnsupportedError("no table and no matrix from " + p.Space.String())
}

// fromXYZ gives the stages back.
func (p *Profile) fromXYZ(intent Intent) ([]stage, error) {
	if err := p.usable(); err != nil {
		return nil, err
	}
	if p.tags == nil && p.Space == Lab { // ConnectionLab
		return packFrom(Lab, false), nil
	}
	if tag := p.table("B2A", intent); tag != nil {
		stages, legacy, err := readTable(tag, p.PCS, p.Space)
		if p.Space == Lab && legacy {
			stages = append(stages, scale(1/legacyLab))
		}
		return append(packFrom(p.PCS, legacy), stages...), err
	}
	switch {
	case p.Space == Gray && p.tags["kTRC"] != nil:
		c, _, err := readCurve(p.tags["kTRC"])
		if err != nil {
			return nil, err
		}
		return append(grayFrom(p.PCS), curves{c.inverse()}), nil
	case onMatrix(p) && p.Space == RGB && p.tags["rXYZ"] != nil:
		return p.matrixBack()
	}
	return nil, UnsupportedError("no table and no matrix to " + p.Space.String())
}

func (p *Profile) matrixBack() ([]stage, error) {
	cs, err := p.rgbCurves()
	if err != nil {
		return nil, err
	}
	for i, c := range cs {
		cs[i] = c.inverse()
	}
	m, err := p.rgbColorants()
	if err != nil {
		return nil, err
	}
	inv, ok := m.inverse()
	if !ok {
		return nil, formatError("its three colorants do not span a space")
	}
	return []stage{inv, cs}, nil
}

// white is the medium's white. Before version 4 displays stated the white of
// the tube, though their colours were already relative to it: D50 (ICC.1:2001-04
// 6.4.43 left it open; other engines read it so too).
func (p *Profile) white() ([3]float64, error) {
	w, ok := p.xyz("wtpt")
	if !ok || p.Class == Display && p.Version[0] < '4' {
		return d50, nil
	}
	for _, v := range w {
		if v <= 0 {
			return w, formatError("its medium's white is %v", w)
		}
	}
	return w, nil
}
