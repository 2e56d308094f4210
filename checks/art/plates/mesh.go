package plates

import (
	"math"

	"stoneproof/checks/art/pdf/syntax"
	"stoneproof/checks/art/pdf/write"
)

// mesh rewrites the data of a mesh (8.7.4.5.5 to 8.7.4.5.8) with one component in
// the place of all.
type mesh struct {
	in         []byte
	at         int // bits read
	out        bitWriter
	coordinate int // bits
	component  int
	flag       int
}

// greyMesh gives the Decode array and the data of a mesh whose corners have
// colours themselves.
func (r *rewriter) greyMesh(s *shading) (decode string, data []byte) {
	bits := func(key string, most int) int { return max(1, min(r.doc.Integer(s.dict[key], 8), most)) }
	m := &mesh{in: r.content(s.object), coordinate: bits("BitsPerCoordinate", 32), component: bits("BitsPerComponent", 16), flag: bits("BitsPerFlag", 8)}
	span := r.doc.Numbers(s.dict["Decode"], syntax.Few)
	if len(span) < 4+2*s.space.n {
		r.causes.add(causeShading)
		return "[0 0 0 0 0 1]", nil
	}
	full := float64(uint64(1)<<m.component - 1)
	v := make([]float64, s.space.n)
	colour := func() {
		for i := range v {
			v[i] = between(float64(m.read(m.component)), 0, full, span[4+2*i], span[5+2*i])
		}
		m.out.put(uint64(math.Round(full*r.lightness(s.space, v))), m.component)
	}
	for m.at < 8*len(m.in) && r.afford(1) {
		m.item(s.kind, colour)
		m.at = (m.at + 7) &^ 7
		m.out.align()
	}
	return write.Numbers(append(append([]float64(nil), span[:4]...), 0, 1)...), m.out.b
}

// item copies one vertex, or one patch.
func (m *mesh) item(kind int, colour func()) {
	switch kind {
	case 4:
		m.pass(m.flag)
		fallthrough
	case 5:
		m.pass(m.coordinate)
		m.pass(m.coordinate)
		colour()
		return
	}
	points, corners := 12, 4
	if kind == 7 {
		points = 16
	}
	if m.pass(m.flag)&3 != 0 { // it shares an edge with the one before
		points, corners = points-4, 2
	}
	for range 2 * points {
		m.pass(m.coordinate)
	}
	for range corners {
		colour()
	}
}

func (m *mesh) read(n int) uint64 {
	v := bitsAt(m.in, m.at, n)
	m.at += n
	return v
}

func (m *mesh) pass(n int) uint64 {
	v := m.read(n)
	m.out.put(v, n)
	return v
}

// bitWriter puts bits together, the most significant first.
type bitWriter struct {
	b    []byte
	bits int
}

func (w *bitWriter) put(v uint64, n int) {
	for n--; n >= 0; n-- {
		if w.bits&7 == 0 {
			w.b = append(w.b, 0)
		}
		w.b[w.bits>>3] |= byte(v>>n&1) << (7 - w.bits&7)
		w.bits++
	}
}

func (w *bitWriter) align() { w.bits = 8 * len(w.b) }
