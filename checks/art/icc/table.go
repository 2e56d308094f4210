package icc

import "encoding/binary"

// readTable makes stages of a table from in to out, each of up to four
// components, and tells whether its numbers for L*, a*, b* are those of
// version 2.
func readTable(tag []byte, in, out Space) (stages []stage, legacy bool, err error) {
	if len(tag) < 32 {
		return nil, false, formatError("a table is cut off")
	}
	if n, m := in.Components(), out.Components(); int(tag[8]) != n || int(tag[9]) != m {
		return nil, false, formatError("a table goes from %d to %d components, not from %d to %d", tag[8], tag[9], n, m)
	}
	switch kind := string(tag[:4]); kind {
	case "mft1", "mft2":
		stages, err = oldTable(tag, in, out)
		return stages, kind == "mft2", err
	case "mAB ":
		stages, err = newTable(tag, in, out, [...]part{curvesA, gridABC, curvesM, matrixM, curvesB})
		return stages, false, err
	case "mBA ":
		stages, err = newTable(tag, in, out, [...]part{curvesB, matrixM, curvesM, gridABC, curvesA})
		return stages, false, err
	}
	return nil, false, formatError("a table is of the type %q", tag[:4])
}

// oldTable reads lut8Type and lut16Type (10.11, 10.10): a matrix, which is for
// X, Y, Z alone, then a curve for each input, a grid with as many points along
// each, and a curve for each output.
func oldTable(tag []byte, in, out Space) (stages []stage, err error) {
	entries, results := 256, 256
	body := samples{wide: string(tag[:4]) == "mft2"}
	head := 48
	if body.wide {
		head = 52
	}
	if len(tag) < head {
		return nil, formatError("a table is cut off")
	}
	if body.wide {
		entries, results = int(binary.BigEndian.Uint16(tag[48:])), int(binary.BigEndian.Uint16(tag[50:]))
	}
	body.data = tag[head:]
	if in == XYZ {
		stages = append(stages, readMatrix(tag[12:], nil))
	}
	first, body, err := tableCurves(body, in.Components(), entries)
	if err != nil {
		return nil, err
	}
	points := make([]int, in.Components())
	for i := range points {
		points[i] = int(tag[10])
	}
	g, body, err := newGrid(points, out.Components(), body)
	if err != nil {
		return nil, err
	}
	g.lab = in == Lab
	last, _, err := tableCurves(body, out.Components(), results)
	return append(stages, first, g, last), err
}

// tableCurves takes n curves of so many samples each off the front of body.
func tableCurves(body samples, n, entries int) (curves, samples, error) {
	if entries < 2 || n*entries > body.len() {
		return nil, body, formatError("a table has curves of %d samples, and %d numbers for them", entries, body.len())
	}
	cs := make(curves, n)
	for i := range cs {
		var own samples
		own, body = body.split(entries)
		cs[i] = own.curve()
	}
	return cs, body, nil
}

// A part of a lutAToBType or lutBToAType, by the place of its offset in the
// head of the tag (10.12, 10.13).
type part int

const (
	curvesB part = 12
	matrixM part = 16
	curvesM part = 20
	gridABC part = 24
	curvesA part = 28
)

// newTable reads the parts that there are, in their order. The curves before
// the grid are one for each input, those behind it one for each output.
func newTable(tag []byte, in, out Space, order [5]part) (stages []stage, err error) {
	channels := in.Components()
	for _, p := range order {
		at := int64(binary.BigEndian.Uint32(tag[p:]))
		if at == 0 {
			continue
		}
		if at > int64(len(tag)) {
			return nil, formatError("a part of a table lies at %d, beyond its %d bytes", at, len(tag))
		}
		s, err := readPart(p, tag[at:], channels, out.Components())
		if err != nil {
			return nil, err
		}
		if g, ok := s.(*grid); ok {
			channels, g.lab = g.out, in == Lab
		}
		stages = append(stages, s)
	}
	if channels != out.Components() {
		return nil, formatError("a table from %s to %s has no grid", in, out)
	}
	return stages, nil
}

func readPart(p part, b []byte, channels, out int) (stage, error) {
	switch p {
	case gridABC:
		return partGrid(b, channels, out)
	case matrixM:
		if channels != 3 || len(b) < 48 {
			return nil, formatError("a table's matrix for %d channels has %d bytes", channels, len(b))
		}
		return readMatrix(b, b[36:]), nil
	}
	cs := make(curves, channels)
	for i := range cs {
		c, size, err := readCurve(b)
		if err != nil {
			return nil, err
		}
		cs[i], b = c, b[min((size+3)&^3, len(b)):]
	}
	return cs, nil
}

// partGrid reads the CLUT of 10.12.3: a count of points for each of up to 16
// inputs, the bytes of a number (1 or 2), and the numbers.
func partGrid(b []byte, in, out int) (stage, error) {
	if len(b) < 20 || b[16] != 1 && b[16] != 2 {
		return nil, formatError("a table's grid is cut off, or has no width of 1 or 2 bytes")
	}
	points := make([]int, in)
	for i := range points {
		points[i] = int(b[i])
	}
	g, _, err := newGrid(points, out, samples{b[20:], b[16] == 2})
	if err != nil {
		return nil, err
	}
	return g, nil
}
