package icc

import (
	"encoding/binary"
	"math"
)

// A mix gives a table's results for its inputs, all from 0 to 1.
type mix func(in []float64) []float64

// crossings are the results at all crossings, the last input going round fastest.
func crossings(points []int, f mix) (list []float64) {
	at := make([]float64, len(points))
	var walk func(int)
	walk = func(dim int) {
		if dim == len(points) {
			list = append(list, f(at)...)
			return
		}
		for i := range points[dim] {
			at[dim] = float64(i) / float64(points[dim]-1)
			walk(dim + 1)
		}
	}
	walk(0)
	return list
}

func put8(b []byte, vs ...float64) []byte {
	for _, v := range vs {
		b = append(b, byte(math.Round(255*v)))
	}
	return b
}

func put16(b []byte, vs ...float64) []byte {
	for _, v := range vs {
		b = binary.BigEndian.AppendUint16(b, uint16(math.Round(65535*v)))
	}
	return b
}

// An oldDraft is a lut8Type or lut16Type.
type oldDraft struct {
	kind    string
	in, out int
	points  int
	matrix  [9]float64 // none: the identity
	bend    float64    // the gamma of the curves before the grid; behind it is 1/bend
	f       mix
}

func (d oldDraft) bytes() []byte {
	b := append(element(d.kind), byte(d.in), byte(d.out), byte(d.points), 0)
	if d.matrix == [9]float64{} {
		d.matrix = [9]float64{0: 1, 4: 1, 8: 1}
	}
	for _, v := range d.matrix {
		b = be32(b, fixed(v))
	}
	put, first, last := put8, 256, 256
	if d.kind == "mft2" {
		put, first, last = put16, 300, 200
		b = binary.BigEndian.AppendUint16(b, uint16(first))
		b = binary.BigEndian.AppendUint16(b, uint16(last))
	}
	for range d.in {
		b = put(b, gammaSamples(first, d.bend)...)
	}
	points := make([]int, d.in)
	for i := range points {
		points[i] = d.points
	}
	b = put(b, crossings(points, d.f)...)
	for range d.out {
		b = put(b, gammaSamples(last, 1/d.bend)...)
	}
	return b
}

func gammaSamples(n int, gamma float64) (list []float64) {
	for i := range n {
		list = append(list, math.Pow(float64(i)/float64(n-1), gamma))
	}
	return list
}

// A newDraft is a lutAToBType or lutBToAType, with the parts that are set.
type newDraft struct {
	kind    string
	in, out int
	a, m, b [][]byte // a curve for each channel
	matrix  []float64
	points  []int
	narrow  bool // the grid has 8 bits
	f       mix
}

func (d newDraft) bytes() []byte {
	b := append(element(d.kind), byte(d.in), byte(d.out), 0, 0)
	b = append(b, make([]byte, 20)...)
	add := func(p part, data []byte) {
		if len(data) == 0 {
			return
		}
		binary.BigEndian.PutUint32(b[p:], uint32(len(b)))
		b = append(b, data...)
		b = append(b, make([]byte, -len(b)&3)...)
	}
	add(curvesB, joined(d.b))
	var matrix []byte
	for _, v := range d.matrix {
		matrix = be32(matrix, fixed(v))
	}
	add(matrixM, matrix)
	add(curvesM, joined(d.m))
	add(gridABC, d.grid())
	add(curvesA, joined(d.a))
	return b
}

func (d newDraft) grid() []byte {
	if d.points == nil {
		return nil
	}
	b := make([]byte, 20)
	for i, n := range d.points {
		b[i] = byte(n)
	}
	b[16] = 2
	put := put16
	if d.narrow {
		b[16], put = 1, put8
	}
	return put(b, crossings(d.points, d.f)...)
}

func joined(tags [][]byte) (b []byte) {
	for _, t := range tags {
		b = append(b, t...)
		b = append(b, make([]byte, -len(b)&3)...)
	}
	return b
}

// Mixes that bend, so that an interpolation of another kind would be seen: from
// three or four inks to something like L*, a*, b* in a byte's encoding, and back.
func inksToLab(in []float64) []float64 {
	light := 1.0
	for _, v := range in {
		light *= 1 - 0.8*v
	}
	return []float64{light, 0.5 + 0.3*math.Sin(2*in[0])*light - 0.1*in[1], 0.45 + 0.2*in[2]*in[2] - 0.1*in[0]*in[1]}
}

func labToInks(in []float64) []float64 {
	dark := 1 - in[0]
	return []float64{dark * (1 - in[1]), dark * in[1], dark * in[2], dark * dark}
}

func labToRGB(in []float64) []float64 { return labToInks(in)[:3] }

// tabled is a press of version 4, with tables instead of those of the press draft.
func tabled(class, space, pcs string, forth, back []byte) draft {
	d := press().with(map[string][]byte{"A2B0": forth, "A2B1": forth, "A2B2": forth, "B2A0": back, "B2A1": back, "B2A2": back})
	d.class, d.space, d.pcs, d.withID = class, space, pcs, false
	return d
}

// tables are profiles with every kind of table, part and connection space.
func tables() map[string]draft {
	bent := func(n int) (list [][]byte) {
		for i := range n {
			list = append(list, [][]byte{gammaTag(1.5), paraTag(3, 2, 0.9, 0.1, 0.392, 0.2), sampledTag(77, math.Sqrt), paraTag(0, 1.3)}[i])
		}
		return list
	}
	plain := [][]byte{be32(element("curv"), 0), be32(element("curv"), 0), be32(element("curv"), 0)}
	turn := []float64{0.8, 0.1, 0.05, 0.1, 0.7, 0.1, 0, 0.2, 0.6, 0.01, 0.05, 0.1}
	old := func(kind string, in, out, points int, f mix) []byte {
		return oldDraft{kind: kind, in: in, out: out, points: points, bend: 1.4, f: f}.bytes()
	}
	withMatrix := func(kind string, out int, f mix) []byte {
		return oldDraft{kind: kind, in: 3, out: out, points: 6, bend: 1.2, f: f, matrix: [9]float64(turn)}.bytes()
	}
	return map[string]draft{
		"8 bits, CMYK, Lab":  tabled("prtr", "CMYK", "Lab ", old("mft1", 4, 3, 5, inksToLab), old("mft1", 3, 4, 9, labToInks)),
		"8 bits, RGB, XYZ":   tabled("prtr", "RGB ", "XYZ ", old("mft1", 3, 3, 7, inksToLab), withMatrix("mft1", 3, labToRGB)),
		"16 bits, CMYK, Lab": tabled("prtr", "CMYK", "Lab ", old("mft2", 4, 3, 6, inksToLab), old("mft2", 3, 4, 8, labToInks)),
		"16 bits, CMYK, XYZ": tabled("prtr", "CMYK", "XYZ ", old("mft2", 4, 3, 6, inksToLab), withMatrix("mft2", 4, labToInks)),
		"new, CMYK, Lab, all parts": tabled("prtr", "CMYK", "Lab ",
			newDraft{kind: "mAB ", in: 4, out: 3, a: bent(4), points: []int{3, 4, 5, 6}, f: inksToLab, m: bent(3), matrix: turn, b: bent(3)}.bytes(),
			newDraft{kind: "mBA ", in: 3, out: 4, b: bent(3), matrix: turn, m: bent(3), points: []int{7, 5, 6}, f: labToInks, a: bent(4)}.bytes()),
		"new, RGB, XYZ, all parts": tabled("prtr", "RGB ", "XYZ ",
			newDraft{kind: "mAB ", in: 3, out: 3, a: bent(3), points: []int{5, 4, 9}, f: inksToLab, narrow: true, m: bent(3), matrix: turn, b: bent(3)}.bytes(),
			newDraft{kind: "mBA ", in: 3, out: 3, b: bent(3), matrix: turn, m: bent(3), points: []int{7, 5, 6}, f: labToRGB, narrow: true, a: bent(3)}.bytes()),
		"new, RGB, Lab, no grid": tabled("mntr", "RGB ", "Lab ",
			newDraft{kind: "mAB ", in: 3, out: 3, m: bent(3), matrix: turn, b: plain}.bytes(),
			newDraft{kind: "mBA ", in: 3, out: 3, b: plain, matrix: turn, m: bent(3)}.bytes()),
		"new, RGB, Lab, no matrix": tabled("scnr", "RGB ", "Lab ",
			newDraft{kind: "mAB ", in: 3, out: 3, a: bent(3), points: []int{3, 3, 3}, f: inksToLab, b: plain}.bytes(),
			newDraft{kind: "mBA ", in: 3, out: 3, b: plain, points: []int{4, 3, 5}, f: labToRGB, a: bent(3)}.bytes()),
		"new, RGB, XYZ, curves alone": tabled("mntr", "RGB ", "XYZ ",
			newDraft{kind: "mAB ", in: 3, out: 3, b: bent(3)}.bytes(), newDraft{kind: "mBA ", in: 3, out: 3, b: bent(3)}.bytes()),
	}
}
