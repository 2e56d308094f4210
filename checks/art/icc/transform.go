package icc

import "sync"

// A Transform takes colours from one profile's space to another's. It may be
// used by many goroutines at once. It keeps views of both profiles' bytes, and
// of its own no more than a table of fixed size.
//
// A colour of 8 bits a component is a byte each: 255 is full light or full ink,
// and in Lab L* is 100/255 of the byte, a* and b* the byte less 128. A colour in
// floats has 0 to 1 for light or ink, and L*, a*, b* as they are.
type Transform struct {
	from, to Space
	stages   []stage
	lattice  func() *lattice // made when first asked for
}

// NewTransform links two profiles. Spaces are grey, RGB, CMYK and Lab; for Lab
// without a file there is [ConnectionLab].
//
// The error is a [FormatError] when a table or curve is damaged, or an
// [UnsupportedError] when there is none for the way or a profile is of a class
// or space that is not transformed.
func NewTransform(from, to *Profile, intent Intent) (*Transform, error) {
	if intent > AbsoluteColorimetric {
		return nil, UnsupportedError("no transform for " + intent.String())
	}
	if intent != AbsoluteColorimetric {
		return link(from, to, intent, nil)
	}
	w, err := from.white()
	if err != nil {
		return nil, err
	}
	v, err := to.white()
	if err != nil {
		return nil, err
	}
	return link(from, to, intent, &affine{m: [3][3]float64{{w[0] / v[0]}, {0, w[1] / v[1]}, {0, 0, w[2] / v[2]}}}) // 6.3.2
}

// NewCompensated links two profiles by the relative colorimetric intent with
// black point compensation: X, Y, Z are stretched so that white stays and the
// darkest grey of one medium becomes the darkest of the other (ISO 18619).
func NewCompensated(from, to *Profile) (*Transform, error) {
	a, err := from.black()
	if err != nil {
		return nil, err
	}
	b, err := to.black()
	if err != nil {
		return nil, err
	}
	s := (1 - b) / (1 - a)
	return link(from, to, RelativeColorimetric, &affine{
		m:     [3][3]float64{{s}, {0, s}, {0, 0, s}},
		shift: [3]float64{(1 - s) * d50[0], (1 - s) * d50[1], (1 - s) * d50[2]},
	})
}

// link joins both sides' stages, with one between them where it is needed.
func link(from, to *Profile, intent Intent, between *affine) (*Transform, error) {
	stages, err := from.toXYZ(intent)
	if err != nil {
		return nil, err
	}
	if between != nil {
		stages = append(stages, between)
	}
	back, err := to.fromXYZ(intent)
	if err != nil {
		return nil, err
	}
	t := &Transform{from: from.Space, to: to.Space, stages: append(stages, back...)}
	t.lattice = sync.OnceValue(func() *lattice { return newLattice(t, latticePoints[t.from.Components()]) })
	return t, nil
}

// Floats transforms the pixels of src one by one, without a table between; dst
// must have room for as many. Light and ink beyond 0 and 1 are taken for the
// nearest, and never given.
func (t *Transform) Floats(dst, src []float64) {
	n, m := t.from.Components(), t.to.Components()
	for ; len(src) >= n; src, dst = src[n:], dst[m:] {
		var c colour
		copy(c[:], src[:n])
		if t.from == Lab {
			packLab(&c)
		}
		run(t.stages, &c)
		if t.to == Lab {
			unpackLab(&c)
		}
		copy(dst[:m], c[:m])
	}
}

func run(stages []stage, c *colour) {
	for _, s := range stages {
		s.apply(c)
	}
}

// black is the luminance of the darkest neutral that the medium gives (white is
// 1). A press's is where its own perceptual table goes with black, since no
// press can lay down all inks; of other media it is that of no light or all
// ink. ISO 18619 also fits a curve to the shadows of tables that bend them;
// that is left out: tables for the relative intent are straight there.
func (p *Profile) black() (float64, error) {
	if p.Space == Lab {
		return 0, nil
	}
	forth, err := p.toXYZ(RelativeColorimetric)
	if err != nil {
		return 0, err
	}
	var c colour
	if p.Space == CMYK {
		c = colour{1, 1, 1, 1}
	}
	if p.Space == CMYK && p.Class == Output {
		back, err := p.fromXYZ(Perceptual)
		if err != nil {
			return 0, err
		}
		c = colour{}
		run(back, &c)
	}
	run(forth, &c)
	const halfway = 0.1842 // of L* 50: nothing lighter is a black
	return min(max(c[1], 0), halfway), nil
}
