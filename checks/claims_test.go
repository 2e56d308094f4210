package checks_test

import (
	"os"
	"path/filepath"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// claiming is a card that says it is of a part of PDF/X, under an output intent with
// entries.
func claiming(part, intent, content string) sheet {
	s := card(content, stream("/Type /Metadata /Subtype /XML", `<rdf:Description pdfxid:GTS_PDFXVersion="`+part+`"/>`), stream("/N 4", "profile"))
	s.catalog = "/Metadata 5 0 R"
	if intent != "none" {
		s.catalog += " /OutputIntents [<< /Type /OutputIntent /S /GTS_PDFX " + intent + " >>]"
	}
	return s
}

const (
	registered = "/OutputConditionIdentifier (FOGRA39) /RegistryName (http://www.color.org)"
	profiled   = registered + " /DestOutputProfile 6 0 R"
)

// The plain requirements of PDF/X by part: ISO 15930-1 and -7 by their abstracts,
// boxes by the CGATS application notes for PDF/X v3, 2.9; what intents need is from
// memory.
func TestClaims(t *testing.T) {
	boxes := func(part, page string) []byte {
		s := claiming(part, profiled, ground)
		s.page = page
		return s.file()
	}
	const a, x3, x4 = "PDF/X-1a:2001", "PDF/X-3:2002", "PDF/X-4"
	clear := claiming(x4, profiled, "/G gs "+ground).with("/ExtGState << /G << /ca 0.5 >> >>")
	glass := func(part string) []byte {
		return claiming(part, profiled, "/G gs "+ground).with("/ExtGState << /G << /ca 0.5 >> >>").file()
	}
	blended := claiming(a, profiled, "/G gs "+ground).with("/ExtGState << /G << /BM /Multiply >> >>")
	opaque := claiming(a, profiled, "/G gs "+ground).with("/ExtGState << /G << /BM /Compatible /SMask /None /ca 1 >> >>")
	masked := claiming(a, profiled, ground+"/X Do").with("/XObject << /X 7 0 R >>")
	masked.objects = append(masked.objects, pictureOf(10, 10, 8, 1, "/ColorSpace /DeviceGray /SMask 8 0 R"), pictureOf(10, 10, 8, 1, "/ColorSpace /DeviceGray"))
	try(t, checks.PageBoxes, []trial{
		{"X-1a, kept", claiming(a, registered, ground).file(), rules.Order{}, "pass", ""},
		{"X-1a, kept, with its profile", claiming(a, profiled, ground).file(), rules.Order{}, "pass", ""},
		{"X-3, kept", claiming(x3, registered, ground+"1 0 0 rg 20 20 9 9 re f").file(), rules.Order{}, "pass", ""},
		{"X-4, kept", clear.file(), rules.Order{}, "pass", ""},
		{"X-4p, kept, its profile outside", claiming("PDF/X-4p", registered, ground).file(), rules.Order{}, "pass", ""},
		{"X-4, its profile missing", claiming(x4, registered, ground).file(), rules.Order{}, "warn", "The file says it is PDF/X-4, but the profile of its output intent is missing."},
		{"X-1a, no output intent", claiming(a, "none", ground).file(), rules.Order{}, "warn", "it has no output intent"},
		{"X-1a, an intent of another standard", claiming(a, "none", ground).intentOf("GTS_PDFA1").file(), rules.Order{}, "warn", "it has no output intent"},
		{"X-1a, an intent that names nothing", claiming(a, "", ground).file(), rules.Order{}, "warn", "names no printing condition"},
		{"X-1a, transparent", glass(a), rules.Order{}, "warn", "it holds transparency"},
		{"X-3, transparent", glass(x3), rules.Order{}, "warn", "it holds transparency"},
		{"X-1a, blended", blended.file(), rules.Order{}, "warn", "it holds transparency"},
		{"X-1a, a soft mask", masked.file(), rules.Order{}, "warn", "it holds transparency"},
		{"X-1a, set to be opaque", opaque.file(), rules.Order{}, "pass", ""},
		{"X-1a, RGB", claiming(a, registered, ground+"1 0 0 rg 20 20 9 9 re f").file(), rules.Order{}, "warn", "it holds RGB or Lab colours"},
		{"X-1 by its older name, RGB", claiming("PDF/X-1:2001", registered, ground+"1 0 0 rg 20 20 9 9 re f").file(), rules.Order{}, "warn", ""},
		{"X-4, RGB", claiming(x4, profiled, ground+"1 0 0 rg 20 20 9 9 re f").file(), rules.Order{}, "pass", ""},
		{"X-4, a font is missing", claiming(x4, profiled, ground+wendlebury).with(helvetica).file(), rules.Order{}, "warn", `the font "Helvetica" is not in it`},
		{"X-4, a font for invisible text is missing", claiming(x4, profiled, ground+"3 Tr "+wendlebury).with(helvetica).file(), rules.Order{}, "pass", ""},
		{"X-4, both boxes", boxes(x4, usCard+" /ArtBox [20 20 250 140]"), rules.Order{}, "warn", "both a TrimBox and an ArtBox"},
		{"X-4, an ArtBox alone", boxes(x4, "/MediaBox [0 0 270 162] /ArtBox [9 9 261 153]"), rules.Order{}, "pass", ""},
		{"X-4, neither box", boxes(x4, "/MediaBox [0 0 270 162]"), rules.Order{}, "warn; warn", "a page has neither"},
		{"X-4, the CropBox inside the trim", boxes(x4, usCard+" /CropBox [20 20 250 140]"), rules.Order{}, "warn; warn top", "reaches past another box"},
		{"X-1a, several things", claiming(a, "none", ground+wendlebury+"1 0 0 rg 20 20 9 9 re f").with(helvetica).file(), rules.Order{}, "warn",
			`but the font "Helvetica" is not in it, it has no output intent for PDF/X and it holds RGB or Lab colours.`},
		{"no claim, and nothing kept", card("1 0 0 rg 20 20 9 9 re f " + wendlebury).with(helvetica).file(), rules.Order{}, "pass", ""},
		{"a claim of another kind", claiming("another standard", "none", ground).file(), rules.Order{}, "pass", ""},
		{"our own, whole", plainCard().PDF(press.Claiming(a)), rules.Order{}, "pass", ""},
		{"our own, its profile named", plainCard().PDF(press.Claiming(a), press.NamedIntent()), rules.Order{}, "pass", ""},
		{"our own, without its fonts", plainCard().PDF(press.Claiming(a), press.LooseFonts()), rules.Order{}, "warn", "is not in it"},
		{"our own, in RGB", plainCard().PDF(press.Claiming(a), press.In(press.RGB)), rules.Order{}, "warn", ""},
	})
}

// intentOf gives the card an output intent of another kind.
func (s sheet) intentOf(kind string) sheet {
	s.catalog += " /OutputIntents [<< /Type /OutputIntent /S /" + kind + " " + profiled + " >>]"
	return s
}

// A file that asks for no password may be encrypted all the same.
func TestClaimsOfTheEncrypted(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "in.pdf"), plainCard().PDF(press.Claiming("PDF/X-4")), 0o644); err != nil {
		t.Fatal(err)
	}
	ran(t, dir, "qpdf", "in.pdf", "whole.pdf")
	ran(t, dir, "qpdf", "--encrypt", "", "owner", "256", "--", "in.pdf", "locked.pdf")
	for name, want := range map[string][]string{"whole.pdf": nil, "locked.pdf": {"page-boxes warn"}} {
		checktest.Expect(t, checktest.JudgeBy(t, filepath.Join(dir, name), rules.Order{}, checks.PageBoxes), want...)
	}
}
