package plates

import (
	"fmt"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/write"
)

// platePage writes the page for one plate and gives a reference to it.
func (j *separation) platePage(p plate, parent string) string {
	content, resources := j.pageContent(p)
	box := write.Numbers(j.page.RawMedia[:]...)
	group := ""
	if g := j.doc.Dict(j.page.Dict()["Group"]); g != nil {
		group = j.group(g)
	}
	return j.file.Add(fmt.Sprintf("<</Type/Page/Parent %s/MediaBox%s/Rotate %d%s/Resources%s/Contents %s>>",
		parent, box, j.page.Rotate, group, resources, j.file.Stream("", content)))
}

// pageContent rewrites the content of the page and of the annotations that print.
func (j *separation) pageContent(p plate) (content []byte, resources string) {
	group := j.doc.Dict(j.page.Dict()["Group"])
	r := j.rewriter(p, startState(j.page.Display()), j.page.Resources())
	r.rgbBlend = group != nil && r.lookup.space(group["CS"], 0).mixesRGB()
	b, ok := j.pageBytes()
	if !ok {
		j.causes.add(causeDecode)
	}
	r.run(b)
	r.end()
	for _, a := range j.page.Annotations {
		form, m, ok := a.Printed(j.doc)
		if !ok || j.doc.LayerOff(a.Layer()) || !j.afford(1) {
			continue
		}
		r.g = startState(m.Mul(j.page.Display()))
		fmt.Fprintf(&r.out, "q %s cm\n", plainNumbers(m[:]))
		r.drawForm(form, j.doc.Get(form).(types.StreamDict))
		r.out.WriteString("Q\n")
	}
	return r.out.Bytes(), r.used.String()
}

// pageBytes joins the page's content, once.
func (j *separation) pageBytes() (b []byte, whole bool) {
	const page = -1 // no object has this number
	if b, ok := j.contents[page]; ok {
		return b, true
	}
	b, notes := j.page.Content(j.decoded)
	j.decoded -= int64(len(b))
	j.contents[page] = b
	return b, len(notes) == 0
}

// plainNumbers writes numbers with spaces between.
func plainNumbers(v []float64) string {
	var b []byte
	for _, x := range v {
		b = append(write.AppendNumber(b, x), ' ')
	}
	return string(b)
}
