package press

import (
	"fmt"
	"math"
	"slices"
)

// pdfJob is what the pages of one file share.
type pdfJob struct {
	doc      pdfDoc
	set      settings
	fonts    []*pdfFont
	forms    map[string]ref
	profile  ref // the colour profile's stream, 0 for none
	spotTint ref // the tint function of the spot colour, 0 for none
	brand    ink // what the spot colour stands for
	layer    ref // the layer of the guides, 0 for none
}

// colour is the space and the values that paint an ink.
func (j *pdfJob) colour(k ink) (space string, values []float64) {
	if j.set.spot != "" && k == j.brand {
		if j.spotTint == 0 {
			j.spotTint = j.tint()
		}
		return j.spotTint.String(), []float64{1}
	}
	if j.set.registration && k == black {
		return j.everyPlate(), []float64{1}
	}
	return j.plain(k)
}

// everyPlate is registration colour (ISO 32000-1 8.6.6.4).
func (j *pdfJob) everyPlate() string {
	space, full := j.plain(ink{1, 1, 1, 1})
	_, none := j.plain(paper)
	return fmt.Sprintf("[/Separation /All %s << /FunctionType 2 /Domain [0 1] /N 1 /C0 [%s] /C1 [%s] >>]", space, num(none...), num(full...))
}

// plain is the same without spot colours.
func (j *pdfJob) plain(k ink) (space string, values []float64) {
	space = "/" + j.set.space.device()
	// Inks are told apart by the output intent; light needs its tag at the colour.
	if j.set.space == RGB && j.profile != 0 {
		space = fmt.Sprintf("[/ICCBased %v]", j.profile)
	}
	return space, j.set.space.values(k)
}

// tint is the space of the spot colour (ISO 32000-1 8.6.6.4).
func (j *pdfJob) tint() ref {
	space, full := j.plain(j.brand)
	_, none := j.plain(paper)
	return j.doc.add(fmt.Sprintf("[/Separation /%s %s << /FunctionType 2 /Domain [0 1] /N 1 /C0 [%s] /C1 [%s] >>]",
		pdfName(j.set.spot), space, num(none...), num(full...)))
}

// pdfName escapes what a name may not hold bare (ISO 32000-1 7.3.5).
func pdfName(s string) string {
	out := ""
	for _, b := range []byte(s) {
		if b <= ' ' || b > '~' || slices.Contains([]byte("#/()<>[]{}%"), b) {
			out += fmt.Sprintf("#%02X", b)
			continue
		}
		out += string(rune(b))
	}
	return out
}

// photo adds a continuous-tone picture.
func (j *pdfJob) photo(area rect, s scene) ref {
	p := s.taken(area.w, area.h, j.set.picturePPI)
	mask := ""
	if p.cover != nil {
		mask = fmt.Sprintf(" /SMask %v", j.softMask(p))
	}
	space, _ := j.plain(paper)
	dict := fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /BitsPerComponent 8 /ColorSpace %s%s", p.w, p.h, space, mask)
	pix := p.bytes(j.set.space)
	if j.set.lossless {
		return j.doc.stream(dict, pix)
	}
	r := j.doc.reserve()
	if j.set.space == CMYK {
		// JPEGs of inks are stored inverted, as the Adobe marker's users expect.
		dict += " /Decode [1 0 1 0 1 0 1 0]"
	}
	j.doc.setRaw(r, dict+" /Filter /DCTDecode", jpegFile(j.set.space, p.w, p.h, pix, jpegOptions{quality: j.set.quality}))
	return r
}

func (j *pdfJob) softMask(p pixels) ref {
	pix := make([]byte, len(p.cover))
	for i, v := range p.cover {
		pix[i] = byte(math.Round(clamp(v) * 255))
	}
	return j.doc.stream(fmt.Sprintf(
		"/Type /XObject /Subtype /Image /Width %d /Height %d /BitsPerComponent 8 /ColorSpace /DeviceGray", p.w, p.h), pix)
}

// lineArt adds a one-bit picture as a stencil for the current colour.
func (j *pdfJob) lineArt(area rect, on func(x, y float64) bool) ref {
	w, h := int(area.w/25.4*j.set.linePPI+.5), int(area.h/25.4*j.set.linePPI+.5)
	row := (w + 7) / 8
	bits := make([]byte, row*h)
	eachRow(0, h, func(y int) {
		for x := range w {
			if !on((float64(x)+.5)*area.w/float64(w), (float64(y)+.5)*area.h/float64(h)) {
				bits[y*row+x/8] |= 0x80 >> (x % 8) // a stencil's 0 is painted
			}
		}
	})
	return j.doc.stream(fmt.Sprintf("/Type /XObject /Subtype /Image /ImageMask true /Width %d /Height %d /BitsPerComponent 1", w, h), bits)
}

// form adds an emblem of a given radius in millimetres, drawn in points about
// the origin, once for each colouring.
func (j *pdfJob) form(e emblem, size float64, k, ground ink) ref {
	key := fmt.Sprint(e.name, size, k, ground)
	if r, ok := j.forms[key]; ok {
		return r
	}
	sub := &pdfCanvas{job: j, m: scaled(1 / mmPerPt)}
	e.draw(pen{sub, scaled(size), k, ground})
	edge := 1.2 * size / mmPerPt
	r := j.doc.stream(fmt.Sprintf("/Type /XObject /Subtype /Form /BBox [%s] /Resources %s",
		num(-edge, -edge, edge, edge), sub.res.dict()), sub.out.Bytes())
	j.forms[key] = r
	return r
}
