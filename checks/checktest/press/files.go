package press

import (
	"fmt"
	"math"
	"slices"

	"stoneproof/rules"
)

// JPEG is the card as a JPEG file at ppi pixels per inch: RGB or grey under a
// JFIF marker, CMYK under an Adobe one.
func (c Card) JPEG(ppi float64, opts ...Option) []byte {
	s := c.settings(RGB, append([]Option{Quality(95)}, opts...))
	p := c.painted(ppi, s)
	return jpegFile(s.space, p.w, p.h, s.stored(p), jpegOptions{s.quality, s.density(ppi), s.tag()})
}

// PNG is the card as a PNG file, RGB or grey.
func (c Card) PNG(ppi float64, opts ...Option) []byte {
	s := c.settings(RGB, opts)
	p := c.painted(ppi, s)
	return pngFile(s.space, p.w, p.h, s.stored(p), s.density(ppi), s.tag())
}

// TIFF is the card as a TIFF file.
func (c Card) TIFF(ppi float64, opts ...Option) []byte {
	s := c.settings(CMYK, opts)
	p := c.painted(ppi, s)
	return tiffFile(s.space, p.w, p.h, s.stored(p), s.density(ppi), s.tag())
}

// painted draws a side in pixels.
func (c Card) painted(ppi float64, s settings) pixels {
	area := c.size().grown(s.room)
	if k := s.enlarged; k != 1 {
		s.enlarged = 1
		px := func(mm float64) int { return int(math.Round(mm * ppi / 25.4)) }
		return c.painted(ppi/k, s).resized(px(area.w), px(area.h))
	}
	perMM := ppi / 25.4
	r := newRaster(int(math.Round(area.w*perMM)), int(math.Round(area.h*perMM)), affine{perMM, 0, 0, perMM, -area.x * perMM, -area.y * perMM})
	if s.picturePPI < ppi-5 { // a picture of about the raster's own pixels is taken at them
		r.coarse = s.picturePPI
	}
	c.draw(r, s, 1) // a picture file holds the front
	return r.pixels()
}

func (s settings) density(ppi float64) float64 {
	if s.noDensity {
		return 0
	}
	return ppi
}

// tag is the profile of a raster file.
func (s settings) tag() []byte {
	if s.noProfile {
		return nil
	}
	return s.profileOr(map[Space]func() []byte{CMYK: Coated, RGB: SRGB, Grey: GreyProfile}[s.space])
}

// profileOr is the profile asked for, or the usual one.
func (s settings) profileOr(usual func() []byte) []byte {
	if s.profile != nil {
		return s.profile
	}
	return usual()
}

// PDF is the card as a PDF file, a page a side. Inks and grey stand under an
// output intent for coated paper, RGB is tagged as sRGB.
func (c Card) PDF(opts ...Option) []byte {
	s := c.settings(CMYK, opts)
	j := &pdfJob{set: s, forms: map[string]ref{}, brand: makerNamed(c.Maker).brand}
	catalog, pages := j.doc.reserve(), j.doc.reserve()
	intent := j.tagged()
	var kids []string
	for n := range s.pages {
		kids = append(kids, c.page(j, pages, n+1).String())
	}
	for i, f := range j.fonts {
		j.finish(f, fmt.Sprintf("CARD%c%c", 'A'+i/26, 'A'+i%26))
	}
	j.doc.set(pages, fmt.Sprintf("<< /Type /Pages /Kids %v /Count %d >>", kids, len(kids)))
	j.doc.set(catalog, fmt.Sprintf("<< /Type /Catalog /Pages %v%s%s >>", pages, intent, j.layers()))
	who := makerNamed(c.Maker)
	claim := ""
	if s.claim != "" {
		claim = " /GTS_PDFXVersion " + literal(s.claim)
	}
	info := j.doc.add(fmt.Sprintf("<< /Title %s /Creator (press) /Trapped /False%s >>", literal(who.name+", "+string(c.Style)+" card"), claim))
	return j.doc.file(catalog, info)
}

// tagged adds the profile, and tells the catalog's output intent, if any
// (ISO 32000-1 14.11.5).
func (j *pdfJob) tagged() string {
	s := j.set
	if s.noProfile {
		return ""
	}
	if s.space == RGB {
		j.profile = j.doc.stream("/N 3", s.profileOr(SRGB))
		return ""
	}
	embedded := ""
	if !s.named {
		embedded = fmt.Sprintf(" /DestOutputProfile %v", j.doc.stream("/N 4", s.profileOr(Coated)))
	}
	return " /OutputIntents [<< /Type /OutputIntent /S /GTS_PDFX /OutputConditionIdentifier (FOGRA39) " +
		"/OutputCondition (Offset on coated paper) /RegistryName (http://www.color.org) /Info (Coated FOGRA39)" + embedded + " >>]"
}

// page draws side n and writes its page object.
func (c Card) page(j *pdfJob, parent ref, n int) ref {
	z, s := c.size(), j.set
	unit, rotate := s.unit, s.rotate
	if n == 2 {
		s.unit /= s.backScale // placed by another unit than the page tells, all of it is so much larger or smaller
		rotate = (rotate + s.backTurned) % 360
	}
	m, media := s.placed(z.grown(s.room).inset(-s.slug))
	p := &pdfCanvas{job: j, m: m}
	c.draw(p, s, n)
	if s.guides {
		p.guides(z)
	}
	boxes := fmt.Sprintf("/MediaBox [%s]", num(media[:]...))
	trim, bleed := z.grown(rules.Edges{}), z.grown(s.room)
	for _, name := range []string{"CropBox", "BleedBox", "TrimBox", "ArtBox"} {
		b, shown := map[string]rect{"TrimBox": trim, "BleedBox": bleed}[name]
		if e, set := s.boxes[name]; set {
			shown = e != nil
			if shown {
				b = z.grown(*e)
			}
		}
		if shown {
			at := boxOf(m, b)
			boxes += fmt.Sprintf(" /%s [%s]", name, num(at[:]...))
		}
	}
	if rotate != 0 {
		boxes += fmt.Sprintf(" /Rotate %d", rotate)
	}
	if unit != 1 {
		boxes += " /UserUnit " + num(unit)
	}
	if s.stamped {
		boxes += fmt.Sprintf(" /Annots [%v]", j.stamp(m, z))
	}
	content := j.doc.stream("", slices.Clone(p.out.Bytes()))
	return j.doc.add(fmt.Sprintf("<< /Type /Page /Parent %v %s /Resources %s /Contents %v >>", parent, boxes, p.res.dict(), content))
}

// placed maps what the reader sees, in millimetres, to the page's own units, so
// that Rotate and UserUnit bring it back; with the box of the page.
func (s settings) placed(seen rect) (affine, [4]float64) {
	k := 72 / 25.4 / s.unit
	w, h := seen.w*k, seen.h*k
	up := affine{k, 0, 0, -k, -seen.x * k, seen.bottom() * k}
	back := map[int]affine{
		0:   identity(),
		90:  {0, 1, -1, 0, h, 0},
		180: {-1, 0, 0, -1, w, h},
		270: {0, -1, 1, 0, 0, w},
	}[s.rotate]
	m := moved(s.origin.x, s.origin.y).after(back).after(up)
	return m, boxOf(m, seen)
}
