package press

import "math"

// thicken is the shape of a line drawn along p with round ends and joins,
// reaching half on either side. Every part turns the same way round, so where
// parts overlap the nonzero rule makes one shape of them.
func thicken(p path, half float64) path {
	var out path
	for _, run := range p.flat(.005) {
		at := run.at
		if run.closed {
			at = append(at, at[0])
		}
		for i, a := range at {
			out = append(out, circle(a.x, a.y, half)...)
			if i+1 < len(at) {
				out = append(out, bar(a, at[i+1], half)...)
			}
		}
	}
	return out
}

func bar(a, b pt, half float64) path {
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length == 0 {
		return nil
	}
	nx, ny := -(b.y-a.y)/length*half, (b.x-a.x)/length*half
	return polygon(pt{a.x - nx, a.y - ny}, pt{b.x - nx, b.y - ny}, pt{b.x + nx, b.y + ny}, pt{a.x + nx, a.y + ny})
}
