package press

import "math"

// jar is a thrown pot on the shelf: where it stands, how big, its glaze.
type jar struct {
	x, foot, half, height float64
	belly                 float64 // where along its height it is widest
	clay, glaze           rgb
}

// radius is the half width of the jar at a height t from foot 0 to rim 1.
func (j jar) radius(t float64) float64 {
	round := math.Sin(math.Pi * math.Pow(clamp(t*.86+.10), math.Log(.5)/math.Log(j.belly)))
	lip := .16 * smooth(.93, 1, t)
	return j.half * (.34 + .66*math.Pow(round, .8) + lip)
}

func potsScene(w, h float64) scene {
	s := math.Min(w, h)
	shelf := h*.5 + s*.3
	jars := []jar{
		{w*.5 - .52*s, shelf, .235 * s, .46 * s, .42, rgb{.62, .40, .27}, rgb{.50, .66, .60}},
		{w*.5 + .52*s, shelf, .20 * s, .60 * s, .55, rgb{.58, .36, .24}, rgb{.87, .82, .70}},
		{w * .5, shelf + .015*s, .25 * s, .66 * s, .50, rgb{.60, .38, .26}, rgb{.24, .42, .48}},
	}
	return photo(func(x, y float64) rgb {
		c := shelfAndWall(x/s, y/s, shelf/s)
		for i, j := range jars {
			c = j.shadow(c, x, y, s)
			c = j.shaded(c, x, y, s, i)
		}
		return c
	})
}

func shelfAndWall(x, y, shelf float64) rgb {
	if y > shelf {
		d := y - shelf
		grain := cloud(x*3, d*46+2*noise(x*2, d*4, 7), 5, 5)
		wood := rgb{.50, .34, .22}.lit(.62 + .6*grain)
		if d > .09 {
			return wood.lit(.42 + .2*grain)
		}
		return wood.lit(1.15 - d*3)
	}
	lime := .86 + .2*(cloud(x*5, y*5, 6, 1)-.5) + .10*(noise(x*60, y*60, 2)-.5)
	light := 1.02 - .34*smooth(.1, 1.9, x+.4*y)
	return rgb{.93, .88, .80}.lit(lime * light)
}

// shadow darkens wall and shelf to the right of the jar.
func (j jar) shadow(c rgb, x, y, s float64) rgb {
	d := math.Hypot((x-j.x-j.half*.75)/(j.half*1.5), (y-j.foot+j.height*.36)/(j.height*.62))
	c = c.lit(1 - .38*smooth(1.15, .45, d))
	under := math.Hypot((x-j.x-j.half*.25)/(j.half*1.25), (y-j.foot)/(.05*s))
	return c.lit(1 - .6*smooth(1.1, .3, under))
}

// shaded paints the jar where it stands: light from the upper left, a glaze
// that ran down over bare clay, a window's glint.
func (j jar) shaded(c rgb, x, y, s float64, seed int) rgb {
	t := (j.foot - y) / j.height
	if t < 0 || t > 1 {
		return c
	}
	r := j.radius(t)
	nx := (x - j.x) / r
	if math.Abs(nx) > 1 {
		return c
	}
	turn := math.Asin(nx)
	slope := (j.radius(t+.01) - j.radius(t-.01)) / (.02 * j.height)
	light := .16 + .90*clamp(.62*math.Cos(turn+.62)+.34*slope+.18)
	run := .26 + .11*math.Sin(turn*5+float64(seed)*2) + .10*(cloud(turn*3, 1, 3, seed+31)-.5)
	glazed := smooth(run-.012, run+.012, t)
	throwing := .93 + .1*math.Sin(t*62+.5*noise(turn*2, t*9, seed))
	clay := j.clay.lit(throwing * (.75 + .5*cloud(turn*22, t*44, 4, seed+41)))
	speck := smooth(.78, .84, noise(turn*44, t*80, seed+51)) * .5
	glaze := j.glaze.lit(.8+.35*cloud(turn*4, t*7, 5, seed+61)).mix(rgb{.30, .20, .14}, speck*.6+.5*smooth(.03, 0, math.Abs(t-run)))
	glaze = glaze.mix(j.clay.lit(.8), .55*smooth(.96, .99, t))
	out := clay.mix(glaze, glazed).lit(light)
	glint := math.Exp(-math.Pow((turn+.62)*6.5, 2)-math.Pow((t-.66)*7, 2)) + .4*math.Exp(-math.Pow((turn+.40)*16, 2)-math.Pow((t-.62)*9, 2))
	out = out.over(rgb{1, .98, .94}, glint*glazed*.75)
	return out.lit(1 - .55*smooth(.86, 1, math.Abs(nx)))
}

func loafScene(w, h float64) scene {
	s := math.Min(w, h) * 1.06
	return photo(func(x, y float64) rgb {
		u, v := (x-w*.5)/s, (y-h*.52)/s
		board := planks(x/s*1.3, y/s*1.3, 3).lit(.9)
		flour := smooth(.60, .82, cloud(u*9, v*9, 5, 15)) * .55 * smooth(.9, .4, math.Hypot(u, v))
		c := board.mix(rgb{.96, .94, .90}, flour)
		edge := 1 + .05*(cloud(math.Atan2(v, u)*1.4+5, 2, 3, 9)-.5)
		d := math.Hypot(u/.52, v/.43) / edge
		c = c.lit(1 - .66*smooth(1.25, .95, math.Hypot((u-.05)/.54, (v-.06)/.45)))
		if d > 1 {
			return c
		}
		return crust(u, v, d)
	})
}

// crust is the top of a loaf: rings of flour left by the proving basket, three
// cuts that opened in the oven. d is 0 in the middle and 1 at the rim.
func crust(u, v, d float64) rgb {
	dome := math.Sqrt(1 - d*d*.96)
	light := .36 + .74*clamp(dome*.82-(u*.42+v*.62)*.9)
	bake := rgb{.80, .52, .24}.mix(rgb{.42, .22, .10}, clamp(smooth(.45, 1, d)+.5*(cloud(u*9, v*9, 5, 27)-.4)))
	c := bake.lit(.78 + .45*cloud(u*34, v*34, 4, 33))
	rings := smooth(.1, .7, math.Sin(d*44+1.6*(cloud(u*5, v*5, 3, 37)-.5)))
	dusty := rings * smooth(.30, .62, cloud(u*14, v*14, 5, 39)) * smooth(1, .82, d)
	c = c.mix(rgb{.95, .90, .82}, dusty*.82)
	for i := range 3 {
		c = slash(c, u-.17*float64(i-1), v+.03*float64(i-1), i)
	}
	return c.lit(light)
}

func slash(c rgb, u, v float64, i int) rgb {
	along, across := u*.42+v*.91, u*.91-v*.42
	across += .06 * math.Cos(along*5)
	half := .042 * math.Sqrt(clamp(1-math.Pow(along/.26, 2)))
	if math.Abs(across) > half*1.25 {
		return c
	}
	crumb := rgb{.93, .78, .52}.lit(.66 + .5*cloud(u*44, v*44, 4, 45+i))
	hole, _, _ := cells(u*40, v*40, 49)
	crumb = crumb.lit(.62 + .5*smooth(.05, .34, hole))
	ear := smooth(half*1.25, half*.9, math.Abs(across))
	c = c.mix(rgb{.30, .15, .07}, ear)
	return c.mix(crumb, smooth(half, half*.7, math.Abs(across)))
}

func wheelScene(w, h float64) scene {
	s := math.Min(w, h)
	cx, cy, r := w*.5+.16*s, h*.54, .66*s
	return photo(func(x, y float64) rgb {
		c := brick(x/s, y/s)
		// The wheel's shadow falls to the right and down on the wall.
		c = c.lit(1 - .42*wheelCover(x-cx-.05*s, y-cy-.05*s, r, .014*s))
		cover := wheelCover(x-cx, y-cy, r, .004*s)
		if cover == 0 {
			return c
		}
		d := math.Hypot(x-cx, y-cy) / r
		around := math.Atan2(y-cy, x-cx)
		metal := rgb{.80, .82, .84}.lit(.55 + .5*math.Pow(math.Abs(math.Cos(around*1.5+.8)), 2))
		if d > .90 {
			tread := .8 + .4*smooth(-.2, .2, math.Sin(around*150)*math.Sin(d*190))
			metal = rgb{.17, .16, .16}.lit(tread * (1 + .8*math.Exp(-math.Pow((d-.955)*40, 2))))
		}
		return c.mix(metal, cover)
	})
}

// wheelCover is where tyre, rim, spokes and hub lie.
func wheelCover(x, y, r, soft float64) float64 {
	d := math.Hypot(x, y)
	around := math.Atan2(y, x)
	tyre := smooth(soft, 0, math.Abs(d-.955*r)-.045*r)
	rim := smooth(soft, 0, math.Abs(d-.862*r)-.028*r)
	hub := smooth(soft, 0, d-.085*r)
	spokes := 0.0
	if d < .87*r {
		for _, lean := range []float64{-1, 1} {
			const n = 14
			a := around + lean*math.Asin(math.Min(1, .07*r/math.Max(d, .07*r)))
			turn := a*n/(2*math.Pi) + .25*lean
			off := math.Abs(turn-math.Round(turn)) * 2 * math.Pi / n * d
			spokes = math.Max(spokes, smooth(soft+.0035*r, .0035*r, off))
		}
	}
	return math.Max(math.Max(tyre, rim), math.Max(hub, spokes))
}

func brick(x, y float64) rgb {
	const course, length = .105, .31
	row := math.Floor(y / course)
	along := x/length + .5*math.Mod(row, 2)
	id := hash(int(row), int(math.Floor(along)), 3)
	fx, fy := along-math.Floor(along), y/course-row
	rough := .05 * (cloud(x*26, y*26, 4, 5) - .5)
	edge := math.Min(math.Min(fx, 1-fx)*length, math.Min(fy, 1-fy)*course)
	face := rgb{.60, .30, .22}.mix(rgb{.74, .46, .32}, id).lit(.62 + .7*cloud(x*17, y*17, 5, 9))
	mortar := rgb{.76, .71, .64}.lit(.75 + .4*cloud(x*60, y*60, 3, 13))
	c := mortar.lit(.9).mix(face, smooth(.006, .012, edge+rough*.2))
	return c.lit(1.12 - .3*smooth(0, 1.6, x*.6+y*.5))
}

func planks(x, y float64, seed int) rgb {
	const wide = .22
	row := math.Floor(y / wide)
	id := hash(int(row), 3, seed)
	fy := y/wide - row
	grain := cloud(x*2.2+id*40, y*34+2.2*noise(x*1.4+id*9, y*5, seed), 5, seed+3)
	c := rgb{.55, .38, .25}.mix(rgb{.70, .52, .36}, id).lit(.55 + .8*grain)
	return c.lit(1 - .75*smooth(.035, .008, math.Min(fy, 1-fy)))
}
