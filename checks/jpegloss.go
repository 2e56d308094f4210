package checks

import (
	"fmt"

	"stoneproof/checks/art"
	"stoneproof/checks/art/raster"
	"stoneproof/checks/compression"
	"stoneproof/rules"
)

// JPEGLoss judges that no picture shows damage by JPEG compression, also where the
// damaged picture was saved anew in a format without loss.
var JPEGLoss = &Check{
	Rule:  "jpeg-loss",
	Needs: Items, // and the pixels of its pictures, for which no page is drawn
	Side:  jpegLoss,
}

// lossy is a picture with what compression left in it.
type lossy struct {
	picture
	compression.Marks
}

func jpegLoss(p *Pass) {
	pictures, why := p.tonePictures()
	if why != "" {
		p.Skip(why)
		return
	}
	if len(pictures) == 0 {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "No picture on this side that compression could have damaged."})
		return
	}
	var all []lossy
	for _, i := range pictures {
		grey, err := p.grey(i)
		if err != nil {
			why = sentence(upperFirst(err.Error()))
			continue
		}
		all = append(all, lossy{i, compressionOf(p.Side, grey)})
	}
	worst := p.worstLoss(all)
	if why != "" && (worst < 0 || p.lossVerdict(all[worst]) == rules.Pass) {
		p.Skip("Not every picture could be looked at. " + why)
		return
	}
	p.reportLoss(all, worst)
}

// tonePictures lists the pictures that have tones: one bit cannot show compression.
func (p *Pass) tonePictures() (list []picture, why string) {
	all := []picture{p.sidePicture()}
	if p.Side.Page != nil {
		all, why = p.pagePictures()
	}
	for _, i := range all {
		if !i.oneBit {
			list = append(list, i)
		}
	}
	return list, why
}

// sidePicture is the picture that a raster side is; one whose size is not known has no
// resolution.
func (p *Pass) sidePicture() (i picture) {
	if h := p.Side.Header; h != nil {
		i = picture{name: "the picture", w: h.Width, h: h.Height, oneBit: h.Bits == 1 && !h.Palette}
		if p.Side.Placed() || p.Side.DensityStated() {
			i.ppiX, i.ppiY = p.Side.PPI()
		}
	}
	return i
}

// compressionOf measures a picture.
func compressionOf(s *art.Side, grey *art.Grey) compression.Marks {
	plane := compression.Plane{Pix: grey.Pix, W: grey.W, H: grey.H}
	tables, err := raster.JPEGQuant(grey.JPEG)
	if err != nil || len(tables) == 0 {
		return compression.Measure(plane, nil)
	}
	own, x, y := compression.Table(tables[0]), 0, 0
	if s.Header != nil {
		x, y = firstBlock(s.Header.Orientation, grey.W, grey.H)
	}
	return compression.MeasureFrom(plane, &own, x, y)
}

// firstBlock is where the first whole block of a JPEG begins that is shown turned (Exif
// 2.3, 4.6.4 A, Orientation): its blocks are counted from what was the top left corner.
func firstBlock(orientation, w, h int) (x, y int) {
	switch orientation {
	case 2, 6:
		return w % 8, 0
	case 3, 7:
		return w % 8, h % 8
	case 4, 8:
		return 0, h % 8
	}
	return 0, 0
}

// worstLoss is the picture with the most damage, -1 for none.
func (p *Pass) worstLoss(all []lossy) int {
	worst := -1
	for k, i := range all {
		if worst < 0 || p.loss(i) > p.loss(all[worst]) {
			worst = k
		}
	}
	return worst
}

// loss weighs damage against what is good: over 1 is seen.
func (p *Pass) loss(i lossy) float64 {
	l := p.Ticket.Limits
	if i.tooFine(l.LossSeen) {
		return 0
	}
	return max(i.Blocks.Levels/l.LossBlocksGood, i.Specks.Levels/l.LossSpecksGood)
}

// tooFine reports whether blocks of 8 pixels print smaller than anybody sees.
func (i lossy) tooFine(seen rules.Length) bool {
	return i.ppi() > 0 && 8/i.ppi() < seen.Inches()
}

func (p *Pass) lossVerdict(i lossy) rules.Verdict {
	l := p.Ticket.Limits
	switch {
	case p.loss(i) <= 1:
		return rules.Pass
	case i.Blocks.Levels > l.LossBlocksMost || i.Specks.Levels > l.LossSpecksMost:
		return rules.Fail
	}
	return rules.Warn
}

func (p *Pass) reportLoss(all []lossy, worst int) {
	i := all[worst]
	f := rules.Finding{Verdict: p.lossVerdict(i), Basis: rules.Measured, Where: i.where}
	if f.Verdict == rules.Pass {
		f.Message = noLoss(all)
		p.Report(f)
		return
	}
	l := p.Ticket.Limits
	kind, good := i.Blocks, l.LossBlocksGood
	if i.Specks.Levels/l.LossSpecksGood > kind.Levels/good {
		kind, good = i.Specks, l.LossSpecksGood
	}
	f.Measured, f.Wanted = rules.Value(round1(kind.Levels), "levels"), rules.AtMost(good, "levels")
	what := i.name
	if i.where == nil {
		f.Where = p.pixelBox(kind.Place)
		what += ", worst"
	}
	if f.Where != nil {
		what += " " + p.place(*f.Where)
	}
	f.Message = fmt.Sprintf("Compression shows in %s: %s; %s.", what, p.lossKinds(i), i.history())
	for k, other := range all {
		if k != worst && p.lossVerdict(other) != rules.Pass {
			f.Also = append(f.Also, rules.Place{What: other.name, Where: other.where, Measured: rules.Value(float64(other.Quality), "JPEG quality")})
		}
	}
	if n := len(f.Also); n > 0 {
		f.Message += fmt.Sprintf(" It is the worst of %d such pictures.", n+1)
	}
	f.Fix = p.undamaged(i)
	p.Report(f)
}

// noLoss tells that nothing shows, and the lowest quality of what is stored as JPEG.
func noLoss(all []lossy) string {
	lowest := 0
	for _, i := range all {
		if i.Quality > 0 && !i.Earlier && (lowest == 0 || i.Quality < lowest) {
			lowest = i.Quality
		}
	}
	message, quality := fmt.Sprintf("No damage by compression shows in %s", all[0].name), "JPEG quality"
	if n := len(all); n > 1 {
		message, quality = fmt.Sprintf("No damage by compression shows in any of %d pictures", n), "lowest JPEG quality"
	}
	if lowest > 0 {
		message += fmt.Sprintf("; %s about %d", quality, lowest)
	}
	return message + "."
}

// lossKinds tells the damage of each kind that is over what is good.
func (p *Pass) lossKinds(i lossy) string {
	l := p.Ticket.Limits
	blocks := fmt.Sprintf("blocks of 8 pixels stand out by %s levels of 255", number(round1(i.Blocks.Levels)))
	specks := fmt.Sprintf("specks of %s levels%%s lie beside type and hard edges", number(round1(i.Specks.Levels)))
	switch {
	case i.Specks.Levels <= l.LossSpecksGood:
		return blocks
	case i.Blocks.Levels <= l.LossBlocksGood:
		return fmt.Sprintf(specks, " of 255")
	}
	return blocks + ", and " + fmt.Sprintf(specks, "")
}

func (i lossy) history() string {
	if i.Earlier {
		return fmt.Sprintf("it was once saved as JPEG at about quality %d", i.Quality)
	}
	return fmt.Sprintf("it is saved as JPEG at about quality %d", i.Quality)
}

func (p *Pass) undamaged(i lossy) string {
	how := fmt.Sprintf("as PNG or TIFF, or as JPEG at quality %s or above", number(p.Ticket.Limits.LossQuality))
	if i.where != nil {
		return "Put in the picture anew from its original, " + how + "; this one does not get better by saving it again."
	}
	return "Export again from the original " + how + "; this file does not get better by saving it again."
}

// pixelBox puts a part of a raster side into trim coordinates.
func (p *Pass) pixelBox(at compression.Place) *rules.Box {
	if !p.Side.Placed() {
		return nil
	}
	paint, err := p.Side.Paint(p.Ctx)
	if err != nil {
		return nil
	}
	um := func(px int, step float64) rules.Length { return rules.Length(float64(px) * step) }
	return &rules.Box{
		X: paint.X + um(at.X0, paint.PxW), Y: paint.Y + um(at.Y0, paint.PxH),
		W: um(at.X1-at.X0, paint.PxW), H: um(at.Y1-at.Y0, paint.PxH),
	}
}
