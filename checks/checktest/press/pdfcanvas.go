package press

import (
	"bytes"
	"fmt"
	"strings"
)

// pdfCanvas writes drawing as page content. Every place is mapped to the page's
// own units before it is written, so the content needs no matrix of its own.
type pdfCanvas struct {
	job *pdfJob
	m   affine // millimetres to page units
	out bytes.Buffer
	res resources
}

// resources are what a content stream names, each kind in order of first use.
type resources struct{ entries []resource }

type resource struct {
	kind, name string
	obj        string
}

// use gives the name under which the content calls obj.
func (r *resources) use(kind, obj string) string {
	n := 0
	for _, e := range r.entries {
		if e.kind != kind {
			continue
		}
		if e.obj == obj {
			return e.name
		}
		n++
	}
	name := fmt.Sprintf("/%s%d", kind[:2], n)
	r.entries = append(r.entries, resource{kind, name, obj})
	return name
}

func (r *resources) dict() string {
	var b strings.Builder
	b.WriteString("<<")
	for _, kind := range []string{"Font", "XObject", "Pattern", "Shading", "ColorSpace", "ExtGState", "Properties"} {
		part := ""
		for _, e := range r.entries {
			if e.kind == kind {
				part += " " + e.name + " " + e.obj
			}
		}
		if part != "" {
			fmt.Fprintf(&b, " /%s <<%s >>", kind, part)
		}
	}
	return b.String() + " >>"
}

func (c *pdfCanvas) put(format string, args ...any) { fmt.Fprintf(&c.out, format+"\n", args...) }

// shape writes a path's steps.
func (c *pdfCanvas) shape(p path) {
	for _, s := range p.mapped(c.m) {
		switch s.op {
		case 'M':
			c.put("%s m", num(s.p[0].x, s.p[0].y))
		case 'L':
			c.put("%s l", num(s.p[0].x, s.p[0].y))
		case 'C':
			c.put("%s c", num(s.p[0].x, s.p[0].y, s.p[1].x, s.p[1].y, s.p[2].x, s.p[2].y))
		case 'Z':
			c.put("h")
		}
	}
}

func (c *pdfCanvas) fill(p path, k ink) {
	c.paint(k, false)
	c.shape(p)
	c.put("f")
}

func (c *pdfCanvas) stroke(p path, width float64, k ink) {
	c.paint(k, true)
	c.put("%s w 1 J 1 j", num(width*c.m.scale()))
	c.shape(p)
	c.put("S")
}

// paint sets the colour of what follows.
func (c *pdfCanvas) paint(k ink, stroke bool) {
	space, values := c.job.colour(k)
	ops := map[string][2]string{"/DeviceCMYK": {"k", "K"}, "/DeviceRGB": {"rg", "RG"}, "/DeviceGray": {"g", "G"}}
	which := 0
	if stroke {
		which = 1
	}
	if op, ok := ops[space]; ok {
		c.put("%s %s", num(values...), op[which])
		return
	}
	set := [2]string{"cs %s scn", "CS %s SCN"}[which]
	c.put("%s "+set, c.res.use("ColorSpace", space), num(values...))
}

func (c *pdfCanvas) shade(p path, from, to pt, a, b ink) {
	a0, a1 := c.m.at(from), c.m.at(to)
	space, first := c.job.plain(a)
	_, last := c.job.plain(b)
	r := c.job.doc.add(fmt.Sprintf(
		"<< /ShadingType 2 /ColorSpace %s /Coords [%s] /Extend [true true] /Function << /FunctionType 2 /Domain [0 1] /N 1 /C0 [%s] /C1 [%s] >> >>",
		space, num(a0.x, a0.y, a1.x, a1.y), num(first...), num(last...)))
	c.clipped(p, func() { c.put("%s sh", c.res.use("Shading", r.String())) })
}

func (c *pdfCanvas) clipped(p path, draw func()) {
	c.put("q")
	c.shape(p)
	c.put("W n")
	draw()
	c.put("Q")
}

func (c *pdfCanvas) write(t text, at pt) {
	f := c.job.fontOf(t.face)
	if c.job.set.whiteOver && t.ink == paper {
		// Mode 1: an ink of nought leaves what is below (ISO 32000-1, 8.6.7).
		c.put("q %s gs", c.res.use("ExtGState", "<< /OP true /op true /OPM 1 >>"))
		defer c.put("Q")
	}
	c.put("BT")
	c.paint(t.ink, false)
	// The text matrix turns millimetres, y down, into the page's units; type
	// stands up, so its own y points the other way.
	m := c.m.after(affine{mmPerPt, 0, 0, -mmPerPt, at.x, at.y})
	c.put("%s %s Tf %s Tc", c.res.use("Font", f.obj.String()), num(t.size), num(t.track))
	c.put("%s Tm", num(m.a, m.b, m.c, m.d, m.e, m.f))
	c.put("<%s> Tj", f.encode(t))
	c.put("ET")
}

// lay draws an image or a form on area: its unit square is mapped onto it.
func (c *pdfCanvas) lay(area rect, image ref) {
	m := c.m.after(affine{area.w, 0, 0, -area.h, area.x, area.bottom()})
	c.put("q %s cm %s Do Q", num(m.a, m.b, m.c, m.d, m.e, m.f), c.res.use("XObject", image.String()))
}

func (c *pdfCanvas) picture(area rect, s scene) { c.lay(area, c.job.photo(area, s)) }

func (c *pdfCanvas) engrave(area rect, k ink, on func(x, y float64) bool) {
	c.paint(k, false)
	c.lay(area, c.job.lineArt(area, on))
}

func (c *pdfCanvas) stamp(e emblem, m affine, k, ground ink) {
	size := m.scale()
	form := c.job.form(e, size, k, ground)
	// The form is drawn in points about its own origin, so that one form serves
	// every turn of the same emblem.
	at := c.m.after(m).after(scaled(mmPerPt / size))
	c.put("q %s cm %s Do Q", num(at.a, at.b, at.c, at.d, at.e, at.f), c.res.use("XObject", form.String()))
}

func (c *pdfCanvas) tile(area path, cell rect, draw func(canvas)) {
	sub := &pdfCanvas{job: c.job, m: c.m}
	draw(sub)
	b := boxOf(c.m, cell)
	pattern := c.job.doc.stream(fmt.Sprintf(
		"/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [%s] /XStep %s /YStep %s /Resources %s",
		num(b[:]...), num(b[2]-b[0]), num(b[3]-b[1]), sub.res.dict()), sub.out.Bytes())
	c.put("/Pattern cs %s scn", c.res.use("Pattern", pattern.String()))
	c.shape(area)
	c.put("f")
}

// boxOf is a rectangle in page units: left, bottom, right, top.
func boxOf(m affine, r rect) [4]float64 {
	a, b := m.at(pt{r.x, r.y}), m.at(pt{r.right(), r.bottom()})
	return [4]float64{min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y)}
}
