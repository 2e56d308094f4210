package pdf

import (
	"bytes"
	"errors"
	"regexp"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// Intent is an output intent: the print condition that the file was made for
// (14.11.5, Table 365).
type Intent struct {
	Subtype    string // "GTS_PDFX", "GTS_PDFA1" …
	Identifier string // OutputConditionIdentifier, such as "FOGRA39"
	Info       string // Info, for people
	Condition  string // OutputCondition, for people
	HasProfile bool   // a DestOutputProfile is there; see Profile
	profile    types.Object
	doc        *Document
}

// ErrNoProfile is the error of a Profile method where no profile is given.
var ErrNoProfile = errors.New("no profile is given")

// Profile gives the bytes of the embedded ICC profile.
func (i Intent) Profile() ([]byte, error) {
	if !i.HasProfile {
		return nil, ErrNoProfile
	}
	return i.doc.StreamBytes(i.profile, i.doc.lim.ProfileBytes)
}

func (d *Document) findIntents(catalog types.Dict) {
	const most = 16 // a file has one or two
	for _, o := range d.Array(catalog["OutputIntents"]) {
		x := d.Dict(o)
		if x == nil || len(d.Intents) == most {
			continue
		}
		i := Intent{
			Subtype:    d.Name(x["S"]),
			Identifier: plainText(d.Text(x["OutputConditionIdentifier"])),
			Info:       plainText(d.Text(x["Info"])),
			Condition:  plainText(d.Text(x["OutputCondition"])),
			profile:    x["DestOutputProfile"],
			doc:        d,
		}
		_, i.HasProfile = d.Get(i.profile).(types.StreamDict)
		d.Intents = append(d.Intents, i)
	}
}

var (
	xmpPDFX = regexp.MustCompile(`GTS_PDFXVersion(?:>|\s*=\s*["'])\s*(PDF/X-[0-9A-Za-z:./-]{1,24})`)
	xmpPart = regexp.MustCompile(`pdfaid:part(?:>|\s*=\s*["'])\s*([1-9])`)
	xmpConf = regexp.MustCompile(`pdfaid:conformance(?:>|\s*=\s*["'])\s*([A-Za-z])`)
)

// findClaims looks in the two places where a file names the standard it keeps: the
// information dictionary (GTS_PDFXVersion) and the XMP metadata.
func (d *Document) findClaims(catalog types.Dict) {
	add := func(s string) {
		for _, c := range d.Claims {
			if c == s {
				return
			}
		}
		d.Claims = append(d.Claims, s)
	}
	if d.ctx.Info != nil {
		if v := plainText(d.Text(d.Dict(*d.ctx.Info)["GTS_PDFXVersion"])); v != "" {
			add(v)
		}
	}
	const most = 1 << 20 // XMP packets are some kilobytes
	xmp, err := d.StreamBytes(catalog["Metadata"], most)
	if err != nil || !bytes.Contains(xmp, []byte("pdf")) {
		return
	}
	if m := xmpPDFX.FindSubmatch(xmp); m != nil {
		add(string(m[1]))
	}
	if m := xmpPart.FindSubmatch(xmp); m != nil {
		claim := "PDF/A-" + string(m[1])
		if c := xmpConf.FindSubmatch(xmp); c != nil {
			claim += string(bytes.ToLower(c[1]))
		}
		add(claim)
	}
}
