package press

import "math"

// emblem is a maker's mark, drawn inside a disc of radius one.
type emblem struct {
	name string
	draw func(p pen)
}

// mirrored is a shape and its reflection in the upright axis, both wound alike.
func mirrored(half path) path {
	return join(half, reversed(half.mapped(affine{-1, 0, 0, 1, 0, 0})))
}

// reversed runs one closed shape the other way round.
func reversed(p path) path {
	var out path
	for _, run := range p.flat(.0004) {
		for i := len(run.at) - 1; i >= 0; i-- {
			if i == len(run.at)-1 {
				out = out.to(run.at[i].x, run.at[i].y)
				continue
			}
			out = out.line(run.at[i].x, run.at[i].y)
		}
		out = out.close()
	}
	return out
}

// round does f at n even turns.
func (p pen) round(n int, f func(p pen)) {
	for i := range n {
		f(p.within(turned(2 * math.Pi * float64(i) / float64(n))))
	}
}

func drawPot(p pen) {
	p.fill(path{}.to(-.34, -.92).line(.34, -.92).curve(.42, -.92, .42, -.8, .34, -.78).
		curve(.24, -.62, .28, -.52, .42, -.4).curve(.78, -.1, .76, .42, .34, .86).
		line(.34, .94).line(-.34, .94).line(-.34, .86).
		curve(-.76, .42, -.78, -.1, -.42, -.4).curve(-.28, -.52, -.24, -.62, -.34, -.78).
		curve(-.42, -.8, -.42, -.92, -.34, -.92).close())
	p.groove(path{}.to(-.27, -.62).curve(-.1, -.57, .1, -.57, .27, -.62), .045)
	p.groove(path{}.to(-.645, .05).curve(-.58, .22, -.5, .3, -.4, .16).curve(-.3, .02, -.22, .5, -.1, .48).
		curve(.02, .46, 0, .16, .14, .16).curve(.28, .16, .26, .36, .38, .34).curve(.5, .32, .56, .16, .645, .05), .06)
	p.groove(path{}.to(-.44, .66).curve(-.2, .73, .2, .73, .44, .66), .04)
	p.groove(path{}.to(-.42, -.2).curve(-.52, -.08, -.54, 0, -.53, .05), .05)
}

func drawWheel(p pen) {
	p.fill(ring(0, 0, .97, .83))
	p.fill(ring(0, 0, .78, .74))
	p.fill(circle(0, 0, .15))
	p.round(9, func(p pen) {
		// Crossed spokes leave the hub sideways, as on a laced wheel.
		p.line(lineTo(.08, .1, .75, -.16), .028)
		p.line(lineTo(.08, -.1, .75, .16), .028)
	})
	p.cut(circle(0, 0, .06))
}

func drawWheat(p pen) {
	p.line(path{}.to(0, .98).curve(.02, .5, -.02, 0, 0, -.6), .05)
	grain := leaf(.26)
	for i := range 5 {
		y := .34 - .26*float64(i)
		size := .46 - .025*float64(i)
		for _, side := range []float64{-1, 1} {
			at := moved(side*.02, y).after(turned(-math.Pi/2 + side*.62)).after(scaled(size))
			p.within(at).fill(grain)
			tip := at.at(pt{1, 0})
			p.line(lineTo(tip.x, tip.y, tip.x+side*.1, tip.y-.2), .022)
		}
	}
	p.within(moved(0, -.6).after(turned(-math.Pi / 2)).after(scaled(.38))).fill(grain)
	p.within(moved(0, .9).after(turned(-.75)).after(scaled(.62))).fill(leaf(.16))
}

func drawBee(p pen) {
	for _, side := range []float64{-1, 1} {
		wing := moved(side*.08, -.2).after(affine{side, 0, 0, 1, 0, 0})
		p.within(wing.after(turned(-.5)).after(scaled(.98))).line(leaf(.34), .045)
		p.within(wing.after(turned(.1)).after(scaled(.7))).line(leaf(.3), .045)
		p.line(path{}.to(side*.06, -.66).curve(side*.1, -.85, side*.2, -.9, side*.3, -.94), .04)
	}
	p.fill(circle(0, -.52, .2))
	p.fill(ellipse(0, -.2, .25, .24))
	p.fill(path{}.to(-.28, .02).curve(-.42, .4, -.2, .78, 0, .96).curve(.2, .78, .42, .4, .28, .02).
		curve(.14, -.1, -.14, -.1, -.28, .02).close())
	for i, half := range []float64{.32, .3, .2} {
		y := .2 + .2*float64(i)
		p.groove(path{}.to(-half, y).curve(-.1, y+.09, .1, y+.09, half, y), .075)
	}
}

func drawBook(p pen) {
	page := path{}.to(0, -.44).curve(.24, -.66, .62, -.66, .96, -.54).line(.96, .5).
		curve(.62, .38, .24, .4, 0, .6).close()
	p.fill(mirrored(page))
	p.groove(lineTo(0, -.4, 0, .58), .05)
	for i := range 4 {
		y := -.3 + .2*float64(i)
		for _, side := range []float64{-1, 1} {
			p.groove(path{}.to(side*.16, y).curve(side*.36, y-.13, side*.58, y-.15, side*.8, y-.1), .04)
		}
	}
	p.line(path{}.to(-.96, .64).curve(-.6, .54, -.24, .56, 0, .76).curve(.24, .56, .6, .54, .96, .64), .06)
}

func drawSprout(p pen) {
	p.line(path{}.to(0, .6).curve(-.02, .2, .02, 0, 0, -.2), .07)
	for _, side := range []float64{-1, 1} {
		p.within(moved(0, -.1).after(affine{side, 0, 0, 1, 0, 0}).after(turned(-.75)).after(scaled(1.02))).fill(leaf(.42))
		p.within(moved(0, .28).after(affine{side, 0, 0, 1, 0, 0}).after(turned(-.3)).after(scaled(.58))).fill(leaf(.4))
		p.groove(lineTo(side*.12, -.2, side*.52, -.6), .035)
	}
	p.fill(path{}.to(-.74, .86).curve(-.5, .56, .5, .56, .74, .86).close())
	p.line(lineTo(-.9, .94, .9, .94), .05)
}

func drawCandle(p pen) {
	p.fill(rect{-.17, -.2, .34, .94}.path())
	p.fill(path{}.to(-.6, .74).curve(-.5, .98, .5, .98, .6, .74).close())
	p.line(arc(.62, .7, .17, -math.Pi*.75, math.Pi*.6), .06)
	p.fill(path{}.to(0, -.9).curve(.05, -.68, .2, -.6, .15, -.42).curve(.1, -.27, -.1, -.27, -.15, -.42).
		curve(-.2, -.6, -.02, -.68, 0, -.9).close())
	p.cut(path{}.to(0, -.58).curve(.07, -.48, .05, -.38, 0, -.38).curve(-.05, -.38, -.07, -.48, 0, -.58).close())
	p.groove(path{}.to(-.17, -.06).curve(-.1, .12, -.06, .1, -.03, -.02).curve(0, -.1, .05, .25, .09, .02), .045)
	for i := range 7 {
		a := -math.Pi/2 + (float64(i)-3)*.42
		from, to := polar(.42, a), polar(.58, a)
		p.line(lineTo(from.x, from.y-.42, to.x, to.y-.42), .03)
	}
}

func drawClock(p pen) {
	p.fill(ring(0, 0, .97, .87))
	for i := range 12 {
		length, width := .1, .04
		if i%3 == 0 {
			length, width = .18, .075
		}
		a := float64(i) * math.Pi / 6
		from, to := polar(.8, a), polar(.8-length, a)
		p.line(lineTo(from.x, from.y, to.x, to.y), width)
	}
	// A quarter past ten: the hour hand a quarter on its way.
	p.within(turned(-math.Pi/2 - math.Pi/3 + math.Pi/24)).fill(leaf(.13).mapped(scaled(.5)))
	p.within(turned(0)).fill(leaf(.09).mapped(scaled(.72)))
	p.fill(circle(0, 0, .09))
}

func drawFerry(p pen) {
	p.fill(path{}.to(-.98, .2).line(.98, .2).curve(.9, .48, .6, .54, .5, .54).line(-.5, .54).curve(-.6, .54, -.9, .48, -.98, .2).close())
	p.groove(path{}.to(-.8, .33).line(.8, .33), .045)
	p.line(lineTo(-.38, .2, .38, -.92), .045)
	p.fill(circle(-.14, -.42, .11))
	p.fill(path{}.to(-.32, .2).curve(-.34, -.14, -.22, -.32, -.1, -.3).curve(.02, -.3, .04, -.2, .02, .2).close())
	p.line(path{}.to(-.14, -.2).curve(-.04, -.14, .02, -.16, .1, -.3), .075)
	for i := range 3 {
		x, y := -.9+.2*float64(i), .68+.13*float64(i)
		end := -x
		step := (end - x) / 4
		run := path{}.to(x, y)
		for n := range 4 {
			a := x + float64(n)*step
			run = run.curve(a+step/3, y-.07, a+step*2/3, y+.07, a+step, y)
		}
		p.line(run, .045)
	}
}

func drawSwirl(p pen) {
	p.fill(circle(0, 0, .97))
	for k := range 3 {
		run := path{}
		for i := range 46 {
			t := float64(i) / 45
			q := polar(.06+.82*t, 2*math.Pi*float64(k)/3+t*3.6+.24*math.Sin(t*14))
			if i == 0 {
				run = run.to(q.x, q.y)
				continue
			}
			run = run.line(q.x, q.y)
		}
		p.groove(run, .1)
	}
	for i := range 9 {
		q := polar(.5+.2*float64(i%2), float64(i)*2*math.Pi/9+.35)
		p.cut(circle(q.x, q.y, .05+.02*float64(i%3)))
	}
}

func drawDovetail(p pen) {
	p.fill(path{}.to(-.96, -.62).line(-.1, -.62).line(.12, -.74).line(.12, -.26).line(-.1, -.38).
		line(-.1, -.06).line(.12, -.18).line(.12, .3).line(-.1, .18).line(-.1, .5).line(.12, .38).line(.12, .74).line(-.96, .74).close())
	p.fill(path{}.to(.96, -.74).line(.22, -.74).line(.22, -.24).line(0, -.36).line(0, -.08).line(.22, -.2).
		line(.22, .32).line(0, .2).line(0, .48).line(.22, .36).line(.22, .74).line(.96, .74).close())
	for i := range 3 {
		y := -.4 + .42*float64(i)
		p.groove(path{}.to(-.9, y).curve(-.66, y-.1, -.5, y+.12, -.22, y), .04)
		p.groove(path{}.to(.34, y).curve(.5, y+.1, .7, y-.1, .9, y), .04)
	}
}

func drawShuttle(p pen) {
	p.fill(path{}.to(-.98, .06).curve(-.6, -.34, .6, -.34, .98, .06).curve(.6, .4, -.6, .4, -.98, .06).close())
	p.cut(rect{-.46, -.12, .92, .3}.rounded(.15))
	for i := range 8 {
		x := -.32 + .09*float64(i)
		p.line(lineTo(x, -.09, x-.03, .15), .045)
	}
	p.line(path{}.to(.36, .03).curve(.6, -.5, -.3, -.5, .1, -.72).curve(.4, -.9, .8, -.7, .9, -.5), .04)
	for i := range 5 {
		x := -.8 + .4*float64(i)
		p.line(lineTo(x-.12, .62, x+.12, .62), .09)
		p.line(lineTo(x+.08, .82, x+.32, .82), .09)
	}
}
