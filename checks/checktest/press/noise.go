package press

import "math"

// hash is an even, repeatable scatter of the whole plane, 0 to 1.
func hash(x, y, seed int) float64 {
	h := uint32(x)*0x8da6b343 ^ uint32(y)*0xd8163841 ^ uint32(seed)*0xcb1ab31f
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	h ^= h >> 15
	return float64(h) / (1 << 32)
}

// noise is smooth value noise of period one, 0 to 1.
func noise(x, y float64, seed int) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int(fx), int(fy)
	u, v := x-fx, y-fy
	u, v = u*u*(3-2*u), v*v*(3-2*v)
	top := lerp(hash(ix, iy, seed), hash(ix+1, iy, seed), u)
	low := lerp(hash(ix, iy+1, seed), hash(ix+1, iy+1, seed), u)
	return lerp(top, low, v)
}

// cloud is n layers of noise, each twice as fine and half as strong; 0 to 1
// with a mean of a half.
func cloud(x, y float64, n, seed int) float64 {
	sum, gain, all := 0.0, 1.0, 0.0
	for i := range n {
		sum += gain * noise(x, y, seed+i)
		all += gain
		gain /= 2
		x, y = x*2+17.3, y*2+9.1
	}
	return sum / all
}

// cells tells the distances to the nearest and the second nearest of points
// scattered one to a unit square, and a number that belongs to the nearest.
func cells(x, y float64, seed int) (near, next, id float64) {
	near, next = 9, 9
	ix, iy := int(math.Floor(x)), int(math.Floor(y))
	for j := iy - 1; j <= iy+1; j++ {
		for i := ix - 1; i <= ix+1; i++ {
			d := math.Hypot(float64(i)+.1+.8*hash(i, j, seed)-x, float64(j)+.1+.8*hash(i, j, seed+1)-y)
			if d < near {
				near, next, id = d, near, hash(i, j, seed+2)
			} else if d < next {
				next = d
			}
		}
	}
	return near, next, id
}
