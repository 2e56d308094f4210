package press

import "math"

// rgb is a colour of light, 0 to 1 a channel in sRGB.
type rgb struct{ r, g, b float64 }

func (a rgb) mix(b rgb, t float64) rgb {
	return rgb{lerp(a.r, b.r, t), lerp(a.g, b.g, t), lerp(a.b, b.b, t)}
}

// lit scales the light.
func (a rgb) lit(f float64) rgb { return rgb{a.r * f, a.g * f, a.b * f} }

// over adds light l.
func (a rgb) over(l rgb, f float64) rgb { return rgb{a.r + l.r*f, a.g + l.g*f, a.b + l.b*f} }

// photo is a scene told in light, with the grain of film.
func photo(paint func(x, y float64) rgb) scene {
	return scene{grain: .03, paint: func(x, y float64) ink {
		c := paint(x, y)
		return seen(clamp(c.r), clamp(c.g), clamp(c.b))
	}}
}

// ridge is the height of a hill line at x, 0 to 1: rough is how much of it is
// fine.
func ridge(x, rough float64, seed int) float64 {
	return cloud(x, .5, 5, seed)*rough + noise(x*.7, 3, seed)*(1-rough)
}

func riverScene(w, h float64) scene {
	const shore = .50
	wide := w / h
	return photo(func(x, y float64) rgb {
		u, v := x/h, y/h
		if v <= shore {
			return bank(u, v/shore, wide)
		}
		// Below the shore the same view lies mirrored, broken by ripples that
		// grow towards the reader.
		d := (v - shore) / (1 - shore)
		ripple := noise(u*(16-11*d), d*46/(.3+d), 91) - .5
		fine := noise(u*(70-40*d), d*190/(.35+d), 95) - .5
		c := bank(u+ripple*.03, 1-d*.96+ripple*.26*(.12+d)+fine*.10*(.2+d), wide)
		path := math.Exp(-math.Pow((u-.60*wide)/(.07+.16*d), 2)) * smooth(-.06, .22, ripple+fine*.7)
		c = c.lit(.80-.22*d).mix(rgb{.12, .26, .36}, .16+.24*d)
		return c.over(rgb{1, .74, .40}, .75*path).lit(1 + .3*fine)
	})
}

// bank is sky, hills and trees at sunset; v runs from the top to the waterline.
func bank(u, v, wide float64) rgb {
	sky := rgb{.22, .38, .60}.mix(rgb{.86, .56, .50}, smooth(0, .62, v)).mix(rgb{1, .76, .40}, smooth(.42, .92, v))
	streak := smooth(.48, .74, cloud(u*1.7+v, v*8, 5, 11))
	c := sky.mix(rgb{1, .80, .66}.mix(rgb{.50, .36, .46}, smooth(.35, .75, cloud(u*2, v*9, 4, 17))), streak*.8)
	sun := math.Hypot(u-.60*wide, (v-.66)*.5)
	c = c.over(rgb{1, .62, .25}, .6*math.Exp(-sun*sun*22)).mix(rgb{1, .95, .78}, smooth(.062, .054, sun))
	far := .80 - .26*ridge(u*1.5, .35, 31)
	if v > far {
		c = rgb{.56, .42, .50}.mix(rgb{.95, .66, .46}, smooth(far, 1, v)*.7)
	}
	wood := .90 - .20*ridge(u*2.6, .5, 38)
	if v > wood {
		c = rgb{.30, .28, .36}.mix(rgb{.72, .50, .42}, smooth(wood, 1.05, v)*.55).lit(.9 + .2*cloud(u*40, v*30, 3, 44))
	}
	return trees(c, u, v, wide)
}

// trees stand dark on the near bank in clumps.
func trees(c rgb, u, v, wide float64) rgb {
	side := func(at, spread float64) float64 { return math.Exp(-math.Pow((u-at*wide)/spread, 2)) }
	clump := math.Max(side(.10, .20), .75*side(.98, .16))
	top := .975 - .56*clump*(.35+.65*cloud(u*9, 2, 4, 53)) - .02*cloud(u*60, v*26, 3, 55)
	leafy := smooth(.60, .66, cloud(u*46, v*26, 3, 61)) * smooth(top+.10, top, v)
	if v < top || leafy > .5 && v < .94 {
		return c
	}
	return rgb{.09, .12, .12}.mix(rgb{.30, .22, .16}, smooth(.5, .8, cloud(u*30, v*20, 3, 65))).lit(.9)
}

func fieldScene(w, h float64) scene {
	return photo(func(x, y float64) rgb {
		u, v := x/w*w/h, y/h
		skyline := .40 - .10*ridge(u*1.1, .35, 5)
		if v < skyline {
			return morning(u, v, v/skyline)
		}
		far := .50 - .07*ridge(u*1.6, .3, 9)
		if v < far {
			stripe := math.Sin(u*26 + v*60)
			return rgb{.55, .66, .36}.mix(rgb{.80, .74, .42}, smooth(-.3, .3, stripe)*.7).lit(.82+.3*cloud(u*30, v*60, 4, 15)).mix(rgb{.8, .85, .9}, .22)
		}
		hedge := far + .035 + .03*cloud(u*22, 2, 4, 19)
		if v < hedge {
			return rgb{.18, .30, .16}.lit(.6 + .9*cloud(u*70, v*70, 4, 23))
		}
		return furrows(u-.5*w/h, (v-.44)/.56, u, v)
	})
}

func morning(u, v, light float64) rgb {
	sky := rgb{.42, .64, .84}.mix(rgb{.90, .93, .90}, math.Pow(clamp(light), 1.2))
	return sky.mix(rgb{.99, .98, .95}, smooth(.5, .72, cloud(u*3.4, v*7, 5, 41)))
}

// furrows are rows of seedlings in soil that run to a point on the skyline.
func furrows(dx, depth, u, v float64) rgb {
	row := dx / depth * 6.5
	across := math.Abs(row - math.Round(row)) // 0 on a row
	along := 3.2 / depth
	leafy := smooth(.30, .12, across+.22*(cloud(row*5, along*9, 4, 53)-.5))
	soil := rgb{.46, .33, .23}.lit(.62+.75*cloud(u*46, v*46/(.2+depth), 5, 57)).mix(rgb{.8, .74, .66}, .3*(1-depth))
	plant := rgb{.40, .60, .22}.mix(rgb{.66, .78, .34}, noise(row*9, along*14, 59)).lit(.55 + .8*cloud(row*12, along*24, 3, 63))
	return soil.lit(.75+.5*across).mix(plant, leafy)
}

func glowScene(w, h float64) scene {
	s := math.Min(w, h)
	cx, top := w*.46, h*.47
	return photo(func(x, y float64) rgb {
		dx, dy := (x-cx)/s, (y-top)/s
		c := bokeh(x/s, y/s)
		// The wax: a lit column with a soft pool at its top.
		half := .135
		if dy > .02*math.Cos(dx*22) && math.Abs(dx) < half {
			n := dx / half
			body := rgb{.93, .76, .46}.lit(.35 + .65*math.Sqrt(1-n*n))
			through := math.Exp(-dy * 3.2)
			streak := .9 + .2*cloud(x/s*30, y/s*5, 4, 21)
			c = body.lit(.42*streak).over(rgb{1, .62, .22}, .75*through)
		}
		glow := math.Hypot(dx, (dy+.17)*.8)
		c = c.over(rgb{1, .58, .2}, .55*math.Exp(-glow*3.4)).over(rgb{1, .7, .3}, .5*math.Exp(-glow*9))
		return flame(c, dx, dy)
	})
}

// flame draws wick and flame; dy is 0 at the top of the wax.
func flame(c rgb, dx, dy float64) rgb {
	if dy < .02 && dy > -.07 && math.Abs(dx-.01*math.Sin(dy*40)) < .006 {
		c = rgb{.12, .07, .05}
	}
	t := (-dy - .035) / .29 // 0 at the flame's foot, 1 at its tip
	if t < 0 || t > 1 {
		return c
	}
	half := .062 * math.Pow(math.Sin(math.Pi*math.Pow(t, .62)), .9)
	edge := smooth(half, half*.72, math.Abs(dx+.012*t*t))
	core := rgb{1, .97, .82}.mix(rgb{1, .74, .28}, smooth(.35, 1, t)).mix(rgb{.42, .5, .8}, smooth(.16, 0, t)*.7)
	return c.mix(core, edge)
}

// bokeh is a dark room with lights out of focus.
func bokeh(x, y float64) rgb {
	c := rgb{.13, .09, .10}.lit(.7 + .7*cloud(x*2.4, y*2.4, 4, 3))
	for i := range 15 {
		lx, ly := hash(i, 1, 77)*2.2, hash(i, 2, 77)*1.1
		r := .035 + .06*hash(i, 3, 77)
		d := math.Hypot(x-lx, y-ly) / r
		disc := smooth(1.06, .94, d) * (.55 + .45*d*d)
		c = c.over(rgb{.95, .55, .24}.mix(rgb{.9, .72, .5}, hash(i, 4, 77)), disc*(.1+.22*hash(i, 5, 77)))
	}
	return c
}
