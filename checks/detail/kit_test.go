package detail

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"

	"golang.org/x/image/draw"
)

// method is a way to enlarge a picture.
type method struct {
	name   string
	scaler draw.Scaler
}

// methods are the four that picture editors have.
func methods() []method {
	lanczos := draw.Kernel{Support: 3, At: func(t float64) float64 {
		if t == 0 {
			return 1
		}
		a := math.Pi * t
		return 3 * math.Sin(a) * math.Sin(a/3) / (a * a)
	}}
	return []method{{"nearest", draw.NearestNeighbor}, {"bilinear", draw.BiLinear}, {"bicubic", draw.CatmullRom}, {"Lanczos", &lanczos}}
}

func imageOf(p Plane) *image.Gray {
	return &image.Gray{Pix: p.Pix, Stride: p.W, Rect: image.Rect(0, 0, p.W, p.H)}
}

// scaled is the picture at another size.
func scaled(p Plane, w, h int, s draw.Scaler) Plane {
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	s.Scale(dst, dst.Rect, imageOf(p), imageOf(p).Rect, draw.Src, nil)
	out := Plane{Pix: make([]byte, w*h), W: w, H: h}
	for i := range out.Pix {
		out.Pix[i] = dst.Pix[4*i]
	}
	return out
}

// saved is what is left of the picture after a JPEG of a quality.
func saved(p Plane, quality int) Plane {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, imageOf(p), &jpeg.Options{Quality: quality}); err != nil {
		panic(err)
	}
	m, err := jpeg.Decode(&b)
	if err != nil {
		panic(err)
	}
	g := m.(*image.Gray)
	out := Plane{Pix: make([]byte, 0, p.W*p.H), W: p.W, H: p.H}
	for y := range p.H {
		out.Pix = append(out.Pix, g.Pix[y*g.Stride:y*g.Stride+p.W]...)
	}
	return out
}

// blurred is the picture out of focus: averaged over a disc of a radius.
func blurred(p Plane, radius float64) Plane {
	out := Plane{Pix: make([]byte, p.W*p.H), W: p.W, H: p.H}
	n := int(radius + 1)
	// A disc is a bundle of runs; sums along the lines make each run two look-ups.
	sums := make([]float64, (p.W+1)*p.H)
	for y := range p.H {
		for x := range p.W {
			sums[y*(p.W+1)+x+1] = sums[y*(p.W+1)+x] + float64(p.Pix[y*p.W+x])
		}
	}
	for y := range p.H {
		for x := range p.W {
			sum, area := 0.0, 0.0
			for dy := -n; dy <= n; dy++ {
				half := math.Sqrt(math.Max(0, radius*radius-float64(dy*dy)))
				if float64(dy*dy) > radius*radius {
					continue
				}
				yy := min(max(y+dy, 0), p.H-1)
				whole := int(half)
				a, b := max(x-whole, 0), min(x+whole+1, p.W)
				sum += sums[yy*(p.W+1)+b] - sums[yy*(p.W+1)+a]
				area += float64(b - a)
				part := half - float64(whole)
				for _, xx := range []int{x - whole - 1, x + whole + 1} {
					if xx >= 0 && xx < p.W {
						sum += part * float64(p.Pix[yy*p.W+xx])
						area += part
					}
				}
			}
			out.Pix[y*p.W+x] = byte(sum/area + 0.5)
		}
	}
	return out
}

// sharpened adds amount times what a soft copy of the picture lacks.
func sharpened(p Plane, radius, amount float64) Plane {
	soft := blurred(p, radius)
	out := Plane{Pix: make([]byte, len(p.Pix)), W: p.W, H: p.H}
	for i, v := range p.Pix {
		d := float64(v) + amount*(float64(v)-float64(soft.Pix[i]))
		out.Pix[i] = byte(min(255, max(0, d+0.5)))
	}
	return out
}

// grained adds noise that knows nothing of its neighbours.
func grained(p Plane, deviation float64, r *rand.Rand) Plane {
	out := Plane{Pix: make([]byte, len(p.Pix)), W: p.W, H: p.H}
	for i, v := range p.Pix {
		out.Pix[i] = byte(min(255, max(0, float64(v)+deviation*r.NormFloat64()+0.5)))
	}
	return out
}

// leaves is a picture as the world makes them: things of all sizes, most of them small,
// that hide each other and have sharp edges, with a little tone inside.
func leaves(w, h int, r *rand.Rand) Plane {
	const fine = 3 // painted so many times as large and averaged
	big := Plane{Pix: make([]byte, fine*fine*w*h), W: fine * w, H: fine * h}
	for i := range big.Pix {
		big.Pix[i] = 128
	}
	for range w * h / 60 {
		size := 6 * math.Pow(1-r.Float64(), -0.6)
		leaf(big, r.Float64()*float64(big.W), r.Float64()*float64(big.H), min(size, 90), r)
	}
	out := Plane{Pix: make([]byte, w*h), W: w, H: h}
	for y := range h {
		for x := range w {
			sum := 0
			for dy := range fine {
				for dx := range fine {
					sum += int(big.Pix[(fine*y+dy)*big.W+fine*x+dx])
				}
			}
			out.Pix[y*w+x] = byte(sum / (fine * fine))
		}
	}
	return out
}

// leaf paints a slanting ellipse of one tone that falls off to one side.
func leaf(p Plane, cx, cy, size float64, r *rand.Rand) {
	turn, flat, tone, fall := r.Float64()*math.Pi, 0.3+0.7*r.Float64(), 30+200*r.Float64(), 20*r.NormFloat64()
	sin, cos := math.Sincos(turn)
	for y := max(0, int(cy-size)); y < min(p.H, int(cy+size)); y++ {
		for x := max(0, int(cx-size)); x < min(p.W, int(cx+size)); x++ {
			u, v := (float64(x)-cx)/size, (float64(y)-cy)/size
			u, v = u*cos+v*sin, (v*cos-u*sin)/flat
			if u*u+v*v < 1 {
				p.Pix[y*p.W+x] = byte(min(255, max(0, tone+fall*u)))
			}
		}
	}
}

// drawn is a picture of a lightness for each place.
func drawn(w, h int, light func(x, y float64) float64) Plane {
	out := Plane{Pix: make([]byte, w*h), W: w, H: h}
	for i := range out.Pix {
		out.Pix[i] = byte(min(255, max(0, light(float64(i%w), float64(i/w))+0.5)))
	}
	return out
}

// dithered makes black and white of a picture by passing errors on (Floyd and Steinberg,
// 1976).
func dithered(p Plane) Plane {
	left := make([]float64, len(p.Pix)+p.W+2)
	out := Plane{Pix: make([]byte, len(p.Pix)), W: p.W, H: p.H}
	for i, v := range p.Pix {
		want := float64(v) + left[i]
		if want > 127 {
			out.Pix[i] = 255
		}
		e := want - float64(out.Pix[i])
		left[i+1] += e * 7 / 16
		left[i+p.W-1] += e * 3 / 16
		left[i+p.W] += e * 5 / 16
		left[i+p.W+1] += e / 16
	}
	return out
}

// softened is the picture averaged by Gauss's bell.
func softened(p Plane, deviation float64) Plane {
	var weights []float64
	n := int(3*deviation) + 1
	for i := -n; i <= n; i++ {
		weights = append(weights, math.Exp(-float64(i*i)/(2*deviation*deviation)))
	}
	return mixed(mixed(p, weights, 1, 0), weights, 0, 1)
}

// moved is the picture as a camera sees it that moves along while it takes it.
func moved(p Plane, length int) Plane {
	weights := make([]float64, length)
	for i := range weights {
		weights[i] = 1
	}
	return mixed(p, weights, 1, 0)
}

// mixed averages pixels along a direction.
func mixed(p Plane, weights []float64, dx, dy int) Plane {
	out := Plane{Pix: make([]byte, len(p.Pix)), W: p.W, H: p.H}
	for y := range p.H {
		for x := range p.W {
			sum, all := 0.0, 0.0
			for i, w := range weights {
				k := i - len(weights)/2
				xx, yy := min(max(x+k*dx, 0), p.W-1), min(max(y+k*dy, 0), p.H-1)
				sum += w * float64(p.Pix[yy*p.W+xx])
				all += w
			}
			out.Pix[y*p.W+x] = byte(sum/all + 0.5)
		}
	}
	return out
}

// rotated is the picture turned a little about its middle, by averages of neighbours.
func rotated(p Plane, degrees float64) Plane {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	cx, cy := float64(p.W)/2, float64(p.H)/2
	return drawn(p.W, p.H, func(x, y float64) float64 {
		u, v := cx+(x-cx)*cos-(y-cy)*sin, cy+(x-cx)*sin+(y-cy)*cos
		u, v = min(max(u, 0), float64(p.W)-1.001), min(max(v, 0), float64(p.H)-1.001)
		i, j := int(u), int(v)
		u, v = u-float64(i), v-float64(j)
		at := func(i, j int) float64 { return float64(p.Pix[j*p.W+i]) }
		return (at(i, j)*(1-u)+at(i+1, j)*u)*(1-v) + (at(i, j+1)*(1-u)+at(i+1, j+1)*u)*v
	})
}

// cut is the picture without pixels at its top and left.
func cut(p Plane, left, top int) Plane {
	return drawn(p.W-left, p.H-top, func(x, y float64) float64 {
		return float64(p.Pix[(int(y)+top)*p.W+int(x)+left])
	})
}
