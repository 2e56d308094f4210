package page

import (
	"encoding/base64"
	"fmt"
	"html/template"
	"image"

	"stoneproof/report"
	"stoneproof/rules"
)

// Proof is the picture of a side with its lines and findings drawn.
type Proof struct {
	PNG    []byte
	Size   image.Point // in pixels
	Places []Place     // by which its findings are met
	Why    string      // there is no picture
}

// Place is where the picture shows the finding of a number: its tag, and the frame
// around what the tag points at.
type Place struct {
	Number     int
	Tag, Frame image.Rectangle
}

type proofView struct {
	Why    string
	Source template.URL
	Size   image.Point
	Says   string // what stands for the picture where it cannot be seen
	Places []placeView

	places []Place
}

// placeView is a place that leads to its finding.
type placeView struct {
	ID, To string
	Boxes  []image.Rectangle
	Says   string
}

func (t *teller) proofOf(f rules.FileReport, side int) *proofView {
	p := t.proof(t.file, side)
	if p == nil {
		return nil
	}
	if p.PNG == nil {
		return &proofView{Why: report.Bounded(p.Why)}
	}
	return &proofView{
		Source: template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(p.PNG)),
		Size:   p.Size,
		Says:   fmt.Sprintf("Proof of side %d of %s", side, report.Shortened(f.Path, titleName)),
		places: p.Places,
	}
}

// link ties a finding to its place in the picture, and the place to the finding.
func (p *proofView) link(f *findingView, file string) {
	if p == nil {
		return
	}
	for _, at := range p.places {
		if at.Number != f.Number || f.Number == 0 {
			continue
		}
		f.At = fmt.Sprintf("place-%s-%d", file, f.Number)
		says := fmt.Sprintf("%d: %s, %s", f.Number, f.Verdict, f.Rule)
		if f.Place != "" {
			says += ", " + f.Place
		}
		p.Places = append(p.Places, placeView{ID: f.At, To: f.ID, Boxes: []image.Rectangle{at.Frame, at.Tag}, Says: says})
		return
	}
}
