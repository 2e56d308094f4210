package checks_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// setIn is a card whose text is set in a font of the given entries, as /F. The first
// object is its descriptor.
func setIn(content, font string, objects ...string) sheet {
	return card(ground+content, objects...).with("/Font << /F << /Type /Font " + font + " >> >>")
}

const (
	wendlebury = "BT /F 10 Tf 40 80 Td (Wendlebury) Tj ET "
	noFile     = "<< /Type /FontDescriptor /FontName /Thorne /Flags 32 >>"
)

// withFile is a descriptor with a font file: that there is one tells that the font is
// embedded (ISO 32000-1, 9.9, Table 126).
func withFile(key string) []string {
	return []string{"<< /Type /FontDescriptor /FontName /Thorne /Flags 32 /" + key + " 6 0 R >>", stream("/Length1 0", "")}
}

func TestFontsEmbedded(t *testing.T) {
	const thorne = "/Subtype /TrueType /BaseFont /Thorne /FontDescriptor 5 0 R"
	composite := func(descriptor string) []string {
		return []string{"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Thorne /CIDSystemInfo << >> /FontDescriptor " + descriptor + " >>"}
	}
	try(t, checks.FontsEmbedded, []trial{
		{"TrueType without its file", setIn(wendlebury, thorne, noFile).file(), rules.Order{}, "fail", `The TrueType font "Thorne" is not in the file`},
		{"the words are told", setIn(wendlebury, thorne, noFile).file(), rules.Order{}, "fail", `It sets "Wendlebury".`},
		{"and how many lines more", setIn(wendlebury+"0 -20 Td "+strings.ReplaceAll(wendlebury, "80", "60")+strings.ReplaceAll(wendlebury, "80", "40"), thorne, noFile).file(), rules.Order{}, "fail", `"Wendlebury" and 2 lines more`},
		{"without a descriptor", setIn(wendlebury, "/Subtype /TrueType /BaseFont /Thorne").file(), rules.Order{}, "fail", ""},
		{"Type 1", setIn(wendlebury, "/Subtype /Type1 /BaseFont /Thorne /FontDescriptor 5 0 R", noFile).file(), rules.Order{}, "fail", `The Type 1 font "Thorne"`},
		{"composite", setIn(wendlebury, "/Subtype /Type0 /BaseFont /Thorne /Encoding /Identity-H /DescendantFonts [5 0 R]", composite(noFile)...).file(), rules.Order{}, "fail", `The font "Thorne"`},
		{"composite, embedded", setIn(wendlebury, "/Subtype /Type0 /BaseFont /Thorne /Encoding /Identity-H /DescendantFonts [5 0 R]",
			append(composite("<< /FontFile2 6 0 R >>"), stream("", ""))...).file(), rules.Order{}, "pass", "Thorne"},
		{"TrueType, embedded", setIn(wendlebury, thorne, withFile("FontFile2")...).file(), rules.Order{}, "pass", "Every font is in the file: Thorne."},
		{"Type 1, embedded", setIn(wendlebury, thorne, withFile("FontFile")...).file(), rules.Order{}, "pass", ""},
		{"compact, embedded", setIn(wendlebury, thorne, withFile("FontFile3")...).file(), rules.Order{}, "pass", ""},
		{"a file that is not there", setIn(wendlebury, thorne, "<< /Type /FontDescriptor /FontFile2 99 0 R >>").file(), rules.Order{}, "fail", ""},
		{"a subset, embedded", setIn(wendlebury, "/Subtype /TrueType /BaseFont /ABCDEF+Thorne /FontDescriptor 5 0 R", withFile("FontFile2")...).file(), rules.Order{}, "pass", "Thorne (the letters in use)"},
		{"a subset that was lost", setIn(wendlebury, "/Subtype /TrueType /BaseFont /ABCDEF+Thorne /FontDescriptor 5 0 R", noFile).file(), rules.Order{}, "fail", `font "Thorne"`},
		{"one of the fourteen", setIn(wendlebury, "/Subtype /Type1 /BaseFont /Helvetica").file(), rules.Order{}, "fail", "every program has a stand-in for it"},
		{"one of the fourteen under another name", setIn(wendlebury, "/Subtype /TrueType /BaseFont /Arial,Bold").file(), rules.Order{}, "fail", "every program has a stand-in for it"},
		{"one of the fourteen, embedded", setIn(wendlebury, "/Subtype /Type1 /BaseFont /Helvetica /FontDescriptor 5 0 R", withFile("FontFile3")...).file(), rules.Order{}, "pass", ""},
		{"Type 3", lettered(write(60, 60)).file(), rules.Order{}, "pass", "drawn for this file"},
		{"for any process", setIn(wendlebury, thorne, noFile).file(), rules.Order{Process: "desktop"}, "fail", ""},
		{"a picture", densePNG(t, 1125, 675), rules.Order{}, "pass", "has no fonts"},
		{"no text", card(ground).file(), rules.Order{}, "pass", "No type is set"},
	})
}

// Text counts where it stands: in a form, a tile, an annotation, a letter of a Type 3
// font, a mask or a clip. Text that nobody sees does not.
func TestFontsEmbeddedWhereTextIsShown(t *testing.T) {
	const thorne = "/Subtype /TrueType /BaseFont /Thorne"
	const resources = "/Resources << /Font << /F << /Type /Font " + thorne + " >> >> >>"
	form := func(entries string) string {
		return stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] "+resources+entries, wendlebury)
	}
	tile := stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 90 90] /XStep 90 /YStep 90 "+resources, wendlebury)
	glyph := []string{strings.Replace(blocks, "/Resources << >>", resources, 1), stream("", "1000 0 d0 "+strings.ReplaceAll(wendlebury, "10 Tf", "900 Tf"))}
	layer := setIn("/OC /L BDC "+wendlebury+"EMC", thorne, "<< /Type /OCG /Name (Draft) >>").with("/Properties << /L 5 0 R >>")
	mode := func(n int) []byte {
		return setIn(fmt.Sprintf("q %d Tr %s 0 0 270 162 re f Q", n, wendlebury), thorne).file()
	}
	note := func(flags int) []byte {
		s := card(ground, fmt.Sprintf("<< /Type /Annot /Subtype /FreeText /Rect [0 0 270 162] /F %d /AP << /N 6 0 R >> >>", flags), form(""))
		s.page += " /Annots [5 0 R]"
		return s.file()
	}
	slug := setIn("BT /F 10 Tf 40 200 Td (Wendlebury) Tj ET", thorne)
	slug.page = "/MediaBox [0 0 270 260] /BleedBox [0 0 270 162] /TrimBox [9 9 261 153]"
	try(t, checks.FontsEmbedded, []trial{
		{"in a form", card(ground+"/X Do", form("")).with("/XObject << /X 5 0 R >>").file(), rules.Order{}, "fail", `"Wendlebury"`},
		{"in a form that is not drawn", card(ground, form("")).with("/XObject << /X 5 0 R >>").file(), rules.Order{}, "pass", ""},
		{"in a tile", card("/Pattern cs /P scn 0 0 270 162 re f", tile).with("/Pattern << /P 5 0 R >>").file(), rules.Order{}, "fail", ""},
		{"in a tile that nothing is painted with", card(ground, tile).with("/Pattern << /P 5 0 R >>").file(), rules.Order{}, "pass", ""},
		{"in a letter of a Type 3 font", card(ground+write(60, 60), glyph...).with("/Font << /F 5 0 R >>").file(), rules.Order{}, "fail", `"Thorne"`},
		{"in a soft mask", card("/G gs "+ground, form("/Group << /S /Transparency /CS /DeviceGray >>")).with("/ExtGState << /G << /SMask << /S /Luminosity /G 5 0 R >> >> >>").file(), rules.Order{}, "fail", ""},
		{"in an annotation that prints", note(4), rules.Order{}, "fail", ""},
		{"in one that does not", note(0), rules.Order{}, "pass", ""},
		{"stroked", mode(1), rules.Order{}, "fail", ""},
		{"as a clip for paint", mode(7), rules.Order{}, "fail", ""},
		{"invisible, as under a scan", mode(3), rules.Order{}, "pass", `not printed: "Thorne"`},
		{"spaces alone", setIn("BT /F 10 Tf 40 80 Td (   ) Tj ET", thorne).file(), rules.Order{}, "pass", ""},
		{"a font that is set and not used", setIn("BT /F 10 Tf ET", thorne).file(), rules.Order{}, "pass", "No type is set"},
		{"clipped away", setIn("q 200 100 5 5 re W n "+wendlebury+"Q", thorne).file(), rules.Order{}, "pass", ""},
		{"clear as glass", setIn("/G gs "+wendlebury, thorne).with("/ExtGState << /G << /ca 0 >> >>").file(), rules.Order{}, "pass", ""},
		{"on a layer that is on", layer.file(), rules.Order{}, "fail", ""},
		{"on a layer that is off", layer.off(5), rules.Order{}, "pass", ""},
		{"in the slug, for presses refuse the whole file", slug.file(), rules.Order{}, "fail", ""},
	})
}

// A font is told once a side, however often the page holds it.
func TestFontsEmbeddedTellsAFontOnce(t *testing.T) {
	font := func(name string) string { return "<< /Type /Font /Subtype /TrueType /BaseFont /" + name + " >>" }
	set := func(name string) string { return strings.ReplaceAll(wendlebury, "/F", "/"+name) }
	fonts := func(n int) (resources, content string) {
		for i := range n {
			resources += fmt.Sprintf("/F%d %s ", i, font(fmt.Sprintf("Thorne%d", i)))
			content += set(fmt.Sprintf("F%d", i))
		}
		return "/Font << " + resources + ">>", content
	}
	eight, setEight := fonts(8)
	ten, setTen := fonts(10)
	side := setIn(wendlebury, "/Subtype /TrueType /BaseFont /Thorne")
	side.pages = 2
	try(t, checks.FontsEmbedded, []trial{
		{"two subsets of it", card(ground + set("A") + strings.Replace(set("B"), "80", "60", 1)).with("/Font << /A " + font("ABCDEF+Thorne") + " /B " + font("GHIJKL+Thorne") + " >>").file(), rules.Order{}, "fail", "and a line more"},
		{"on two sides", side.file(), rules.Order{}, "fail; fail", ""},
		{"eight fonts", card(ground + setEight).with(eight).file(), rules.Order{}, strings.TrimSuffix(strings.Repeat("fail; ", 8), "; "), ""},
		{"ten fonts", card(ground + setTen).with(ten).file(), rules.Order{}, strings.TrimSuffix(strings.Repeat("fail; ", 9), "; "), "either: 2 more"},
	})
}

// What other programs write: with fonts embedded, and told not to.
func TestFontsEmbeddedByOthers(t *testing.T) {
	program := postscript("0 0 270 162", "30 40", "150 60 translate 36 21.6 scale")
	in, out := t.TempDir(), t.TempDir()
	ps := func(dir string, options ...string) string {
		if err := os.WriteFile(filepath.Join(dir, "card.ps"), []byte(program), 0o644); err != nil {
			t.Fatal(err)
		}
		args := append([]string{"-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-o", "card.pdf"}, options...)
		ran(t, dir, "gs", append(args, "card.ps")...)
		return filepath.Join(dir, "card.pdf")
	}
	for name, tt := range map[string]struct {
		path string
		want []string
	}{
		"ghostscript, embedded":     {ps(in, "-c", embedAll, "-f"), nil},
		"ghostscript, not embedded": {ps(out, "-dEmbedAllFonts=false", "-c", "<< /AlwaysEmbed [] /NeverEmbed [/Helvetica] >> setdistillerparams", "-f"), []string{"fonts-embedded fail"}},
		"ghostscript":               {"../testdata/foreign/herbalist.pdf", nil},
		"pdfTeX":                    {"../testdata/foreign/scrivener.pdf", nil},
		"cairo":                     {"../testdata/foreign/kitemaker.pdf", nil},
		"our own":                   {kept(t, "card.pdf", plainCard().PDF()), nil},
		"our own, without its fonts": {kept(t, "loose.pdf", darkCard().PDF(press.LooseFonts())),
			strings.Split(strings.TrimSuffix(strings.Repeat("fonts-embedded fail,", 4), ","), ",")},
	} {
		t.Run(name, func(t *testing.T) {
			checktest.Expect(t, checktest.JudgeBy(t, tt.path, rules.Order{}, checks.FontsEmbedded), tt.want...)
		})
	}
}
