package brink

import "math/bits"

// isSpatter reports whether the group is paint that was thrown: it and what lies about
// it in its ink are many loose drops of every size, with much bare ground between. The
// parts of a mark are of a few sizes, such as a wreath's leaves, and close together.
func (s *scene) isSpatter(g *group) bool {
	const many, sizes, full = 7, 5, 0.42 // drops; doublings of area; share of their box
	if g.lettering {
		return false
	}
	var drops group
	known := map[int32]bool{} // a drop that the knife cuts is a stray as well
	for k := range s.shapes {
		for _, b := range s.shapes[k].blobs {
			if s.dropOf(g, &b) {
				drops.add(b)
				known[b.id] = true
			}
		}
	}
	for _, b := range s.strays {
		if !known[b.id] && s.dropOf(g, &b) && max(s.f.mmX(b.w()), s.f.mmY(b.h())) <= mostCut {
			drops.add(b)
		}
	}
	area, classes := 0, uint64(0)
	for _, b := range drops.blobs {
		area += b.area
		classes |= 1 << bits.Len(uint(b.area))
	}
	return len(drops.blobs) >= many && bits.OnesCount64(classes) >= sizes &&
		float64(area) < full*float64(drops.w()*drops.h())
}

// dropOf reports whether a blob lies near the group, in its ink.
func (s *scene) dropOf(g *group, b *blob) bool {
	const reach = 8.0 // mm
	f := s.f
	apart := max(f.mmX(-g.across().shared(b.across())), f.mmY(-g.down().shared(b.down())))
	return apart < reach && akinShade(b, &g.blobs[0])
}
