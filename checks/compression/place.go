package compression

// side is that of the tiles by which a place is told, pixels.
const side = 64

// tile is the part of the picture in which a pixel lies.
func (p Plane) tile(x, y int) Place {
	x, y = x/side*side, y/side*side
	return Place{x, y, min(x+side, p.W), min(y+side, p.H)}
}

// thickest is the tile with most of the seams.
func (p Plane) thickest(s []seam) (at Place) {
	tiles, most := map[Place]int{}, 0
	for _, one := range s { // in order: of equals the first counts
		t := p.tile(one.x, one.y)
		if tiles[t]++; tiles[t] > most {
			at, most = t, tiles[t]
		}
	}
	return at
}

// dirtiest is the tile whose ground strays most, if it has enough of it.
func dirtiest(tiles map[Place]stray) (at Place) {
	worst := -1.0
	for t, s := range tiles {
		mean := s.mean()
		if s.n < leastGround {
			mean = 0
		}
		if mean > worst || mean == worst && before(t, at) {
			at, worst = t, mean
		}
	}
	return at
}

func before(a, b Place) bool { return a.Y0 < b.Y0 || a.Y0 == b.Y0 && a.X0 < b.X0 }
