package press

import "math"

// The scenes of this file are materials seen close by: they fill any shape.

func combScene(w, h float64) scene {
	const pitch = 5.4 // mm between cells, as bees build
	return photo(func(x, y float64) rgb {
		dx, dy, i, j := hexagon(x/pitch+.3*(noise(x*.06, y*.06, 3)-.5), y/pitch)
		d := hexDistance(dx, dy) * 2 // 0 in the middle, 1 at the wall
		id := hash(i, j, 17)
		wall := smooth(.80, .93, d+.03*(cloud(x*1.4, y*1.4, 3, 5)-.5))
		capped := id > .72-.3*cloud(x*.03, y*.03, 2, 9)
		c := honeyCell(dx, dy, d, id)
		if capped {
			c = rgb{.90, .74, .44}.lit(.72 + .5*cloud(x*1.6, y*1.6, 5, 21) + .12*(dx-dy))
		}
		wax := rgb{.86, .62, .26}.lit(.66 + .5*cloud(x*1.1, y*1.1, 4, 25) - .35*(dy+dx*.5))
		c = c.mix(wax, wall)
		return c.lit(1.12 - .42*math.Hypot((x-w*.42)/w, (y-h*.4)/h))
	})
}

// honeyCell is one cell full of honey with the window mirrored in it.
func honeyCell(dx, dy, d, id float64) rgb {
	honey := rgb{.86, .50, .07}.mix(rgb{.62, .28, .03}, id).lit(.7 + .5*(dy+.3*dx) + .3*(1-d))
	glint := smooth(.20, .13, math.Hypot((dx+.14)*1.1, (dy+.17)*1.7))
	shade := smooth(.55, .9, d) * clamp(.6-dy*1.1)
	return honey.lit(1-.55*shade).over(rgb{1, .95, .75}, glint*.75)
}

// hexagon finds the cell of a comb of pitch one: the place within it, and its
// row and column.
func hexagon(x, y float64) (dx, dy float64, i, j int) {
	tall := math.Sqrt(3) / 2
	best := 9.0
	row := int(math.Round(y / tall))
	for r := row - 1; r <= row+1; r++ {
		shift := .5 * float64(r&1)
		col := math.Round(x - shift)
		ex, ey := x-col-shift, y-float64(r)*tall
		if d := ex*ex + ey*ey; d < best {
			best, dx, dy, i, j = d, ex, ey, int(col), r
		}
	}
	return dx, dy, i, j
}

// hexDistance is a half at the walls of a cell with upright sides.
func hexDistance(x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	return math.Max(x, x*.5+y*math.Sqrt(3)/2)
}

func woodScene(w, h float64) scene {
	return photo(func(x, y float64) rgb {
		// A board sawn off-centre: rings that swell round a knot.
		kx, ky := (x-w*.66)/16, (y-h*.40)/9
		knot := math.Exp(-(kx*kx + ky*ky) * 1.1)
		ring := y*.16 + 1.6*cloud(x*.018, y*.06, 3, 3) + 5.2*knot + .25*noise(x*.2, y*.9, 5)
		f := ring - math.Floor(ring)
		late := smooth(.35, .95, f) * smooth(1, .96, f)
		c := rgb{.82, .62, .41}.mix(rgb{.54, .33, .18}, .8*late).mix(rgb{.30, .16, .08}, smooth(.72, .98, knot))
		fibre := cloud(x*.5, y*9, 4, 11)
		pore := smooth(.66, .76, noise(x*1.1, y*11, 15)) * .35
		return c.lit(.78 + .36*fibre - pore*(1-late)).lit(1.06 - .2*math.Hypot(x/w-.4, y/h-.4))
	})
}

func leatherScene(w, h float64) scene {
	return photo(func(x, y float64) rgb {
		near, next, id := cells(x*1.5+.5*noise(x, y, 3), y*1.5+.5*noise(x, y, 4), 5)
		pebble := smooth(0, .32, next-near)
		wear := cloud(x*.07, y*.07, 4, 9)
		c := rgb{.46, .13, .13}.mix(rgb{.62, .22, .18}, wear).lit(.55 + .5*pebble + .12*(id-.5))
		glint := smooth(.75, 1, pebble) * smooth(.35, .75, cloud(x*.5, y*.5, 3, 15))
		c = c.over(rgb{1, .8, .7}, .10*glint)
		return gilded(c, x, y, w, h).lit(1.16 - .45*math.Hypot(x/w-.35, y/h-.3))
	})
}

// gilded tools two gold lines and a row of lozenges across the cover.
func gilded(c rgb, x, y, w, h float64) rgb {
	at := (y - h*.5) / 1
	if w < h {
		at, x = (x-w*.5)/1, y
	}
	line := smooth(.22, .14, math.Abs(math.Abs(at)-6.4)) + smooth(.12, .06, math.Abs(math.Abs(at)-7.5))
	cell := math.Mod(x+700, 7) - 3.5
	lozenge := math.Abs(cell)/3 + math.Abs(at)/4.6
	line += smooth(.09, .05, math.Abs(lozenge-.92)) + smooth(.34, .28, lozenge)
	gold := rgb{.93, .74, .36}.lit(.72 + .55*cloud(x*1.7, y*1.7, 4, 19))
	worn := .72 + .28*smooth(.3, .5, cloud(x*.6, y*.6, 4, 23))
	press := smooth(9.4, 8.4, math.Abs(at)) * .12
	return c.lit(1-press).mix(gold, clamp(line)*worn)
}

func marbledScene(w, h float64) scene {
	colours := []rgb{{.12, .20, .42}, {.93, .89, .80}, {.26, .44, .66}, {.78, .25, .26}, {.93, .89, .80}, {.14, .24, .34}, {.88, .62, .26}}
	return photo(func(x, y float64) rgb {
		// Combed twice: once along the sheet, then across it in waves.
		u := x + 1.6*(cloud(x*.08, y*.08, 3, 5)-.5)
		v := y + 6.5*math.Sin(u*.42)*math.Abs(math.Cos(u*.21)) + 9*(cloud(x*.05, y*.05, 3, 7)-.5)
		v += 1.2 * math.Sin(u*1.7+3*noise(x*.1, y*.1, 9))
		band := v*.42 + .8*(cloud(u*.5, v*.24, 4, 11)-.5)
		i := int(math.Floor(band))
		f := band - math.Floor(band)
		at := func(n int) rgb { return colours[((n+i)%len(colours)+len(colours))%len(colours)] }
		c := at(0).mix(at(1), smooth(.88, .97, f))
		vein := smooth(.07, .02, math.Abs(f-.5-.3*(noise(u*.3, v*.1, 13)-.5)))
		c = c.mix(at(3), vein*.85)
		spot, _, id := cells(u*.35, v*.22, 15)
		c = c.mix(at(2), smooth(.17+.1*id, .13+.1*id, spot)*.9)
		return c.lit(.90 + .2*cloud(x*1.8, y*1.8, 4, 19))
	})
}

func clothScene(w, h float64) scene {
	const thread = .42 // mm
	warp := []rgb{{.58, .16, .17}, {.58, .16, .17}, {.58, .16, .17}, {.88, .80, .68}, {.22, .31, .44}, {.22, .31, .44}, {.88, .80, .68}, {.58, .16, .17}}
	at := func(n int) rgb { return warp[((n>>2)%len(warp)+len(warp))%len(warp)] }
	return photo(func(x, y float64) rgb {
		x += .35 * math.Sin(y*.09)
		y += .35 * math.Sin(x*.07)
		i, j := int(math.Floor(x/thread)), int(math.Floor(y/thread))
		fx, fy := x/thread-float64(i)-.5, y/thread-float64(j)-.5
		// Twill: each thread goes over two and under two, a step on each row.
		over := ((i + j) & 3) < 2
		c, across, along := at(i), fx, fy
		if !over {
			c, across, along = at(j), fy, fx
		}
		bulge := math.Sqrt(1-3.2*across*across) * (1 - .5*along*along*2)
		twist := .9 + .2*math.Sin((along+across*1.4)*18)
		c = c.lit((.38 + .68*bulge) * twist * (.85 + .3*hash(i, j, 3)))
		fold := cloud(x*.045+y*.02, y*.02, 3, 7)
		return c.lit(.68 + .62*fold)
	})
}

func dialScene(w, h float64) scene {
	s := math.Min(w, h)
	cx, cy, r := w*.5-.12*s, h*.56, .74*s
	return photo(func(x, y float64) rgb {
		dx, dy := x-cx, y-cy
		d, a := math.Hypot(dx, dy)/r, math.Atan2(dy, dx)
		brushed := .82 + .3*(noise(d*260, a*2, 3)-.5) + .14*(noise(d*60, a*5, 5)-.5)
		sheen := .58 + .42*math.Pow(math.Abs(math.Cos(a+.7)), 3) + .22*math.Pow(math.Abs(math.Cos(a-.9)), 9)
		c := rgb{.84, .68, .38}.lit(brushed * sheen)
		if d < .50 {
			c = engineTurned(d, a).lit(.7 + .4*sheen)
		}
		c = numerals(c, d, a)
		c = hand(c.lit(1-.5*handCover(dx-.025*s, dy-.03*s, r, .02*s)), dx, dy, r)
		if d > 1 {
			c = rgb{.24, .16, .12}.lit(.6 + .8*cloud(x/s*4, y/s*40, 4, 9)).lit(smooth(1, 1.12, d)*.7 + .3)
		}
		return c
	})
}

// engineTurned is a plate cut with crossing waves.
func engineTurned(d, a float64) rgb {
	wave := math.Sin(d*150+6*math.Sin(a*12)) * math.Sin(d*150-6*math.Sin(a*12))
	return rgb{.90, .87, .80}.lit(.74 + .22*wave)
}

func numerals(c rgb, d, a float64) rgb {
	blackLine := func(on float64) { c = c.mix(rgb{.10, .09, .10}, on*.92) }
	turn := a / (2 * math.Pi) * 60
	minute := math.Abs(turn-math.Round(turn)) * 2 * math.Pi / 60 * d
	blackLine(smooth(.006, .003, minute) * smooth(.885, .89, d) * smooth(.94, .935, d))
	blackLine(smooth(.004, .002, math.Abs(d-.885)) + smooth(.004, .002, math.Abs(d-.94)))
	hour := a / (2 * math.Pi) * 12
	off := (hour - math.Round(hour)) * 2 * math.Pi / 12 * d
	inBand := smooth(.60, .606, d) * smooth(.84, .834, d)
	bars := 1 + int(math.Round(hour)+24)%3
	for i := range bars {
		blackLine(smooth(.016, .012, math.Abs(off-.05*(float64(i)-float64(bars-1)/2))) * inBand)
	}
	blackLine((smooth(.008, .004, math.Abs(d-.60)) + smooth(.008, .004, math.Abs(d-.84))) * smooth(.10, .09, math.Abs(off)))
	return c
}

// handCover is where the hands lie: one to the hour, one to the minute.
func handCover(dx, dy, r, soft float64) float64 {
	cover := smooth(soft, 0, math.Hypot(dx, dy)-.06*r)
	for _, h := range []struct{ turn, length, half float64 }{{-2.45, .58, .032}, {-.38, .86, .022}} {
		s, c := math.Sincos(h.turn)
		along, across := (dx*c+dy*s)/r, math.Abs(-dx*s+dy*c)/r
		if along < -.14 || along > h.length {
			continue
		}
		half := h.half * (1 - .8*clamp(along/h.length)) * (1 + 1.6*math.Exp(-math.Pow((along-h.length*.7)*14, 2)))
		cover = math.Max(cover, smooth(soft/r, 0, across-half))
	}
	return cover
}

func hand(c rgb, dx, dy, r float64) rgb {
	blued := rgb{.10, .16, .36}.over(rgb{.5, .6, .9}, .28*clamp(.5-(dx+dy)/r))
	return c.mix(blued, handCover(dx, dy, r, .006*r))
}

// laidPaper is a sheet of tinted paper with its mould's lines and flecks.
func laidPaper(tone ink) scene {
	return scene{grain: .05, paint: func(x, y float64) ink {
		lines := .5 + .5*math.Sin(y*2*math.Pi/1.05+.6*noise(x*.3, y*.3, 3))
		chain := smooth(.22, .05, math.Abs(math.Mod(x+400+.3*noise(x, y*.05, 5), 24)-12))
		pulp := cloud(x*.55, y*.55, 5, 7) - .5
		fleck := smooth(.80, .86, noise(x*3.1, y*3.1, 11)*.7+noise(x*.9, y*2.3, 13)*.3)
		shade := clamp(.045 + .03*lines + .04*chain + .10*pulp)
		k := tone.mix(pc(10, 22, 38, 6), clamp(.10+shade*1.6))
		return k.mix(pc(20, 44, 62, 28), fleck*.6)
	}}
}
