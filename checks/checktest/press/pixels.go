package press

import (
	"runtime"
	"sync"
)

// pixels is a picture taken: four inks a pixel, and how opaque each pixel is
// where the scene has a cover.
type pixels struct {
	w, h  int
	inks  []ink
	cover []float64
}

// pixel is the scene at a place, with the grain of the pixel (px, py).
func (s scene) pixel(x, y float64, px, py int) (ink, float64) {
	k := s.paint(x, y)
	if s.grain > 0 {
		g := s.grain * (hash(px, py, 7) + hash(px, py, 8) - 1)
		k = ink{stray(k.c, g), stray(k.m, g), stray(k.y, g), stray(k.k, g)}
	}
	if s.cover == nil {
		return k, 1
	}
	return k, s.cover(x, y)
}

// stray moves an amount of ink by g, less so near none and near full.
func stray(v, g float64) float64 { return clamp(v + g*4*v*(1-v)) }

// taken samples the scene over an area of w×h mm.
func (s scene) taken(w, h, ppi float64) pixels {
	out := pixels{w: max(1, int(w/25.4*ppi+.5)), h: max(1, int(h/25.4*ppi+.5))}
	out.inks = make([]ink, out.w*out.h)
	if s.cover != nil {
		out.cover = make([]float64, out.w*out.h)
	}
	eachRow(0, out.h, func(y int) {
		for x := range out.w {
			k, a := s.pixel((float64(x)+.5)*w/float64(out.w), (float64(y)+.5)*h/float64(out.h), x, y)
			out.inks[y*out.w+x] = k
			if out.cover != nil {
				out.cover[y*out.w+x] = a
			}
		}
	})
	return out
}

// resized is the picture of w×h pixels, each a mean of its four neighbours' inks.
func (p pixels) resized(w, h int) pixels {
	at := func(x, y int) ink {
		return p.inks[max(0, min(p.h-1, y))*p.w+max(0, min(p.w-1, x))]
	}
	out := pixels{w: w, h: h, inks: make([]ink, w*h)}
	eachRow(0, h, func(y int) {
		for x := range w {
			fx := (float64(x)+.5)*float64(p.w)/float64(w) - .5
			fy := (float64(y)+.5)*float64(p.h)/float64(h) - .5
			ix, iy := int(fx+1)-1, int(fy+1)-1
			u, v := fx-float64(ix), fy-float64(iy)
			out.inks[y*w+x] = at(ix, iy).mix(at(ix+1, iy), u).mix(at(ix, iy+1).mix(at(ix+1, iy+1), u), v)
		}
	})
	return out
}

// enlarged is the scene as a picture of few pixels shows it when blown up.
func (s scene) enlarged(area rect, ppi float64) scene {
	p := s.taken(area.w, area.h, ppi)
	at := func(x, y int) ink {
		return p.inks[max(0, min(p.h-1, y))*p.w+max(0, min(p.w-1, x))]
	}
	return scene{cover: s.cover, paint: func(x, y float64) ink {
		fx, fy := x/area.w*float64(p.w)-.5, y/area.h*float64(p.h)-.5
		ix, iy := int(fx+1)-1, int(fy+1)-1
		u, v := fx-float64(ix), fy-float64(iy)
		return at(ix, iy).mix(at(ix+1, iy), u).mix(at(ix, iy+1).mix(at(ix+1, iy+1), u), v)
	}}
}

// eachRow does f for every row from a to b, several at a time: rows must not
// depend on each other.
func eachRow(a, b int, f func(y int)) {
	var wait sync.WaitGroup
	n := runtime.GOMAXPROCS(0)
	for start := range n {
		wait.Go(func() {
			for y := a + start; y < b; y += n {
				f(y)
			}
		})
	}
	wait.Wait()
}
