package checks

import (
	"bytes"
	"fmt"
	"image/color"
	"image/jpeg"
	"math"

	"stoneproof/checks/art"
	"stoneproof/checks/detail"
	"stoneproof/rules"
)

// TrueDetail judges how fine the detail is that pictures really carry: enlarging a
// picture adds pixels but no detail.
var TrueDetail = &Check{
	Rule:  "true-detail",
	Needs: Items,
	Side:  trueDetail,
}

// carried is a picture with the detail that was found in it.
type carried struct {
	picture
	detail.Result
}

// ppi is the resolution that the picture's detail has.
func (c carried) ppi() float64 { return c.picture.ppi() / c.Factor }

func trueDetail(p *Pass) {
	pictures, why := p.pictures()
	if why != "" {
		p.Skip(why)
		return
	}
	var judged []carried
	soft := ""
	measured := map[*art.Grey]detail.Result{}
	for _, i := range pictures {
		if i.oneBit {
			continue // pure black and white is as sharp as its pixels
		}
		grey, err := p.grey(i)
		if err != nil {
			soft = "No picture could be looked at: " + sentence(lowerFirst(err.Error()))
			continue
		}
		if min(grey.W, grey.H) < detail.LeastLength {
			soft = tooLittle
			continue
		}
		r, ok := measured[grey]
		if !ok {
			r = detail.Measure(detail.Plane{Pix: grey.Pix, W: grey.W, H: grey.H, Halved: fourInks(grey.JPEG)})
			measured[grey] = r
		}
		if r.Kind == detail.Soft {
			soft = noDetail
			continue
		}
		judged = append(judged, carried{i, r})
	}
	switch {
	case len(judged) > 0:
		p.Report(p.judgeDetail(judged))
	case soft != "":
		p.Skip(soft)
	default:
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "No picture in tones on this side: nothing could have been enlarged."})
	}
}

// Why nothing is said of a picture.
const (
	noDetail  = "Nothing in the picture is as sharp as its pixels could show it, so there is no fine detail to judge by: a soft subject looks the same, enlarged or not."
	tooLittle = "The picture has too few pixels to tell whether it was enlarged."
)

// judgeDetail tells of the worst picture.
func (p *Pass) judgeDetail(judged []carried) rules.Finding {
	worst, short := 0, 0
	for i, c := range judged {
		if p.detailVerdict(c) != rules.Pass {
			short++
		}
		if v, w := p.detailVerdict(c), p.detailVerdict(judged[worst]); v.Worse(w) || v == w && c.ppi() < judged[worst].ppi() {
			worst = i
		}
	}
	f := p.detailOf(judged[worst])
	for i, c := range judged {
		if i != worst {
			f.Also = append(f.Also, rules.Place{What: c.name, Where: c.where, Measured: rules.Value(math.Round(c.ppi()), "ppi")})
		}
	}
	if short > 1 {
		f.Message += fmt.Sprintf(" It is the worst of %d such pictures.", short)
	}
	return f
}

// factorSlack is how far off a factor may be that was measured in pixels.
const factorSlack = 0.03

// detailVerdict judges detail by the limits for pixels, if the picture was enlarged:
// what too few pixels cost is effective-resolution's matter.
func (p *Pass) detailVerdict(c carried) rules.Verdict {
	good, least := p.wants(false)
	slack := (1 - p.Ticket.Limits.PPISlack) * (1 - factorSlack)
	switch {
	case c.Kind != detail.Enlarged || c.ppi() >= good*slack:
		return rules.Pass
	case c.ppi() < least*slack && c.Sure:
		return rules.Fail
	}
	return rules.Warn
}

func (p *Pass) detailOf(c carried) rules.Finding {
	good, least := p.wants(false)
	f := rules.Finding{
		Verdict: p.detailVerdict(c), Basis: rules.Measured, Where: c.where,
		Measured: rules.Value(math.Round(c.ppi()), "ppi"), Wanted: rules.AtLeast(good, "ppi"),
	}
	name := fmt.Sprintf("%s of %d × %d px", upperFirst(c.name), c.w, c.h)
	if c.Kind != detail.Enlarged {
		f.Message = fmt.Sprintf("%s has detail as fine as its pixels.", name)
		return f
	}
	enlarged := fmt.Sprintf("it was enlarged about %s times", number(math.Round(10*c.Factor)/10))
	if c.Repeated {
		enlarged += ", by repeating pixels"
	}
	if f.Verdict == rules.Pass {
		f.Message = fmt.Sprintf("%s has the detail of about %.0f ppi, which is enough, though %s.", name, c.ppi(), enlarged)
		return f
	}
	if c.where != nil {
		name += " " + p.place(*c.where)
	}
	f.Message = fmt.Sprintf("%s has the detail of about %.0f ppi: %s. %s is good, under %s looks soft.", name, c.ppi(), enlarged, number(good), number(least))
	f.Fix = p.original(c, good)
	return f
}

// original tells what to put in the picture's place.
func (p *Pass) original(c carried, good float64) string {
	if p.Side.Header != nil {
		if !p.Side.Placed() {
			return "Export it again from the original; enlarging adds pixels, but no detail."
		}
		return "Export it again from an original of at least " + p.pixels(p.Side.Trim.Grow(p.Ticket.Bleed)) + ", or from the drawing; enlarging adds pixels, but no detail."
	}
	return fmt.Sprintf("Put in the picture as it was before it was enlarged, at %.0f %% of this size on the card, or a larger original; enlarging adds pixels, but no detail.", math.Floor(100*min(1, c.ppi()/good)))
}

// fourInks reports whether a file is a JPEG of four inks.
func fourInks(file []byte) bool {
	c, err := jpeg.DecodeConfig(bytes.NewReader(file))
	return err == nil && c.ColorModel == color.CMYKModel
}
