package press

import "fmt"

// guides draws the safe line on a layer of its own.
func (c *pdfCanvas) guides(z size) {
	if c.job.layer == 0 {
		c.job.layer = c.job.doc.add("<< /Type /OCG /Name (Guides) /Usage << /Print << /PrintState /OFF >> >> >>")
	}
	c.put("/OC %s BDC", c.res.use("Properties", c.job.layer.String()))
	c.stroke(rect{0, 0, z.w, z.h}.inset(z.bleed).path(), .25, ink{1, 0, 0, 0})
	c.put("EMC")
}

// layers is the catalog's entry for the layer of the guides, if there is one: it is
// left out where the page is printed (ISO 32000-1 8.11.4.5).
func (j *pdfJob) layers() string {
	if j.layer == 0 {
		return ""
	}
	return fmt.Sprintf(" /OCProperties << /OCGs [%v] /D << /Order [%v] /AS [<< /Event /Print /Category [/Print] /OCGs [%v] >>] >> >>", j.layer, j.layer, j.layer)
}

// stamp is an annotation over the foot of the card: a frame, and a word in it. Flag 4
// has it printed (ISO 32000-1 12.5.3).
func (j *pdfJob) stamp(m affine, z size) ref {
	word := text{s: "APPROVED", face: bold, size: 13, track: 1, ink: ink{0, 1, 1, 0}}
	w, h := word.width()+5, 8.0
	area := rect{z.w - w - z.bleed - 3, z.h - h - z.bleed - 3, w, h}
	c := &pdfCanvas{job: j, m: m}
	c.stroke(area.inset(.5).path(), .5, word.ink)
	c.write(word, pt{area.x + 2.5, area.bottom() - 2.4})
	box := boxOf(m, area)
	look := j.doc.stream(fmt.Sprintf("/Type /XObject /Subtype /Form /BBox [%s] /Resources %s", num(box[:]...), c.res.dict()), c.out.Bytes())
	return j.doc.add(fmt.Sprintf("<< /Type /Annot /Subtype /Stamp /Rect [%s] /F 4 /Name /Approved /AP << /N %v >> >>", num(box[:]...), look))
}
