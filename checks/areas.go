package checks

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"stoneproof/checks/art/pdf"
)

// area is a thing of the page that others may lie on, or be covered by.
type area struct {
	*pdf.Item
	lay   lay  // not known where drawing instructions do not tell it
	hides bool // nothing beneath its box is seen
}

// areas holds the areas of a page so that those at a point are found without
// looking at each: art may have as many as a page may have items, and every one of
// them may ask for its ground. An area lies in the grid whose cells are just no
// smaller than it is, in four cells at most.
type areas struct {
	list       []area // in paint order
	all, solid grid   // solid holds those whose paint is known, and covers all of their box
}

// grid tells which of a list of areas may lie at a point.
type grid map[cell][]int

// cell is a square of 2^level points a side.
type cell struct {
	level int8
	x, y  int64
}

// Levels of the grids: cells from a sixteenth of a point to more than any page.
const (
	leastLevel = -4
	mostLevel  = 24
)

// leastGround is how thick a thing must be, in points, to be a ground of its own:
// thinner ones are lines, or the strips of a picture, of which pixels tell.
const leastGround = 1.0

// areasOf lists the things of the page that others may lie on, once for a pass.
func (p *Pass) areasOf(content *pdf.Content) *areas {
	if p.grounds != nil {
		return p.grounds
	}
	p.grounds = &areas{all: grid{}, solid: grid{}}
	g := p.grounds
	for i := range content.Paths {
		// Of another shape the box may be covered where the shape is not.
		if f := &content.Paths[i]; f.Filled && f.FillAlpha > 0 {
			g.add(&f.Item, layOf(f.Fill), f.Rectangle && f.Fill.Pattern == nil)
		}
	}
	for i := range content.Images {
		if im := &content.Images[i]; !im.IsMask {
			m := im.Matrix
			upright := m[1] == 0 && m[2] == 0 || m[0] == 0 && m[3] == 0
			g.add(&im.Item, lay{}, im.Mask == pdf.NoMask && upright)
		}
	}
	for i := range content.Shadings {
		g.add(&content.Shadings[i].Item, lay{}, false)
	}
	slices.SortStableFunc(g.list, func(a, b area) int { return cmp.Compare(a.Order, b.Order) })
	for i := range g.list {
		// Paint that is set to overprint lies on its own ground, which stays or
		// not, ink by ink.
		if a := &g.list[i]; a.lay.known && a.FillOverprint {
			a.lay = overprinted(a.Fill, a.OverprintMode, p.beneath(content, a.Order, a.Box))
		}
		g.all.put(i, g.list[i].Box)
		if a := g.list[i]; a.lay.known || a.hides {
			g.solid.put(i, a.Box)
		}
	}
	return g
}

// add lists an item; whole tells that it covers all of its box.
func (g *areas) add(it *pdf.Item, l lay, whole bool) {
	if !it.Seen() {
		return
	}
	thin := min(it.Box.W(), it.Box.H()) < leastGround
	opaque := whole && !thin && !it.Shaped && !it.InPattern && it.FillAlpha == 1 && it.Blend == "Normal" && !it.SoftMask
	if !opaque {
		l = lay{}
	}
	g.list = append(g.list, area{it, l, opaque && !it.FillOverprint})
}

func (g grid) put(i int, b pdf.Rect) {
	size := max(b.W(), b.H(), 1e-9)
	level := int8(max(leastLevel, min(mostLevel, math.Ceil(math.Log2(size)))))
	var from, to cell
	for ; ; level++ {
		from, to = cellAt(level, pdf.Point{X: b.X0, Y: b.Y0}), cellAt(level, pdf.Point{X: b.X1, Y: b.Y1})
		if to.x-from.x < 2 && to.y-from.y < 2 || level == mostLevel {
			break // rounding may have put a box of a cell's size into three
		}
	}
	for x := from.x; x <= min(to.x, from.x+1); x++ {
		for y := from.y; y <= min(to.y, from.y+1); y++ {
			c := cell{level, x, y}
			g[c] = append(g[c], i)
		}
	}
}

func cellAt(level int8, p pdf.Point) cell {
	const far = 1 << 40
	side := math.Ldexp(1, int(level))
	at := func(v float64) int64 { return int64(max(-far, min(far, math.Floor(v/side)))) }
	return cell{level, at(p.X), at(p.Y)}
}

// at gives the areas of a grid at a point that come before a place in the paint
// order, the last one first.
func (g *areas) at(p pdf.Point, before int, in grid) iter.Seq[*area] {
	var lists [][]int
	for level := int8(leastLevel); level <= mostLevel; level++ {
		list := in[cellAt(level, p)]
		n, _ := slices.BinarySearchFunc(list, before, func(i, order int) int { return cmp.Compare(g.list[i].Order, order) })
		if n > 0 {
			lists = append(lists, list[:n])
		}
	}
	return func(yield func(*area) bool) {
		for {
			last := -1
			for i, list := range lists {
				if len(list) > 0 && (last < 0 || list[len(list)-1] > lists[last][len(lists[last])-1]) {
					last = i
				}
			}
			if last < 0 {
				return
			}
			n := len(lists[last]) - 1
			a := &g.list[lists[last][n]]
			lists[last] = lists[last][:n]
			if a.Box.Contains(pdf.Rect{X0: p.X, Y0: p.Y, X1: p.X, Y1: p.Y}, 0) && !yield(a) {
				return
			}
		}
	}
}
