package pdf

import (
	"fmt"
	"html"
	"math"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"stoneproof/checks/checktest/outside"
)

// everyPage walks all pages of a file.
func everyPage(t *testing.T, d *Document) (pages []*Content) {
	t.Helper()
	for i := range d.PageCount {
		p, err := d.Page(i + 1)
		if err != nil {
			t.Fatal(err)
		}
		c, err := p.Walk()
		if err != nil || c.Truncated || len(c.Notes) > 0 {
			t.Fatalf("page %d: notes %q, %v", i+1, c.Notes, err)
		}
		pages = append(pages, c)
	}
	return pages
}

// What the walker lists of a page agrees with what poppler lists, on all files that
// are shipped and on files from foreign writers.
func TestAgainstPoppler(t *testing.T) {
	for name, path := range shippedFiles(t) {
		t.Run(name, func(t *testing.T) { againstPoppler(t, path) })
	}
	for name, make := range foreignPages {
		t.Run(name, func(t *testing.T) {
			b := make(t)
			path := saved(t, "a.pdf", b)
			// tiff2pdf of libtiff 4.5.0 miscounts the bytes of a JPEG, as qpdf finds, too.
			out, err := exec.Command(outside.Tool(t, "qpdf"), "--check", path).CombinedOutput()
			if d := open(t, b); (len(d.Repairs) > 0) != (err != nil) {
				t.Errorf("repairs %q, qpdf says\n%s", d.Repairs, out)
			}
			againstPoppler(t, path)
		})
	}
}

func againstPoppler(t *testing.T, path string) {
	d, err := Open(loaded(t, path), DefaultLimits())
	if err != nil {
		if out, popplers := exec.Command(outside.Tool(t, "pdfinfo"), path).CombinedOutput(); popplers == nil {
			t.Errorf("refused, %v, but pdfinfo says\n%s", err, out)
		}
		return
	}
	pages := everyPage(t, d)
	againstPdfimages(t, path, pages)
	againstPdffonts(t, path, pages)
	againstPdftotext(t, path, pages)
}

// row is a line of pdfimages -list, in its words.
type row struct {
	page        int
	kind        string // image, smask, mask, stencil
	w, h        int
	color       string
	comp, bpc   int
	enc, interp string
	object      int // 0: inline
	ppix, ppiy  int
}

func pdfimages(t *testing.T, path string) (rows []row) {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(command(t, "pdfimages", "-list", path)), "\n")
	for _, line := range lines[2:] {
		f := strings.Fields(strings.Replace(line, "[inline]", "0 0", 1))
		if len(f) != 16 {
			t.Fatalf("pdfimages says %q", line)
		}
		n := func(i int) int { v, _ := strconv.Atoi(f[i]); return v }
		rows = append(rows, row{n(0), f[2], n(3), n(4), f[5], n(6), n(7), f[8], f[9], n(10), n(12), n(13)})
	}
	return rows
}

// rowOf puts an image of ours in poppler's words.
func rowOf(page int, im Image, masked MaskKind) row {
	r := row{page: page, kind: "image", w: im.W, h: im.H, bpc: im.Bits, object: im.Object, enc: "image", interp: "no", color: "-", comp: 1}
	r.ppix, r.ppiy = int(math.Round(im.PPIX)), int(math.Round(im.PPIY))
	switch {
	case im.IsMask && masked == SoftMask:
		r.kind = "smask"
	case im.IsMask:
		r.kind = "mask"
	case im.Mask == Stencil:
		r.kind = "stencil"
	}
	if im.Interpolate {
		r.interp = "yes"
	}
	if s := im.Space; s != nil {
		r.comp = s.N
		r.color = map[Family]string{DeviceGray: "gray", CalGray: "gray", DeviceRGB: "rgb", CalRGB: "rgb", DeviceCMYK: "cmyk",
			Lab: "lab", ICCBased: "icc", Indexed: "index", Separation: "sep", DeviceN: "devn"}[s.Family]
	}
	if n := len(im.Filters); n > 0 {
		if e, ok := map[string]string{"DCTDecode": "jpeg", "JPXDecode": "jpx", "JBIG2Decode": "jbig2", "CCITTFaxDecode": "ccitt"}[im.Filters[n-1]]; ok {
			r.enc = e
		}
	}
	return r
}

func againstPdfimages(t *testing.T, path string, pages []*Content) {
	var got []row
	for i, c := range pages {
		var of Image
		for _, im := range c.Images {
			if im.InPattern {
				continue // poppler does not look into tiles
			}
			r := rowOf(i+1, im, of.Mask)
			if im.IsMask {
				r.object = of.Object // poppler gives a mask the number of its image
			}
			got, of = append(got, r), im
		}
	}
	want := pdfimages(t, path)
	t.Logf("%d images", len(want))
	if !slices.Equal(got, want) {
		t.Errorf("images\n got %v\nwant %v", got, want)
	}
}

// fontLine is one font of pdffonts' list.
var fontLine = regexp.MustCompile(`(?m)^(.*?) +((?:CID )?(?:Type (?:1C|0C|0|1|3)|TrueType)(?: \(OT\))?) +(\S+) +(yes|no) +(yes|no) +(yes|no) +(\d+) +\d+$`)

func againstPdffonts(t *testing.T, path string, pages []*Content) {
	kinds := map[string]string{"Type1": "Type 1", "MMType1": "Type 1", "TrueType": "TrueType", "Type3": "Type 3", "Type0": "CID "}
	tag := regexp.MustCompile(`^[A-Z]{6}\+`)
	yes := map[bool]string{true: "yes", false: "no"}
	var got, want []string
	for _, c := range pages {
		for _, f := range c.Fonts {
			if f.Embedded && !f.Measured {
				t.Errorf("the outlines of %s cannot be read", f.Name)
			}
			got = append(got, fmt.Sprintf("%d %s %s embedded %s subset %s", f.Object, f.Name, kinds[f.Subtype], yes[f.Embedded], yes[tag.MatchString(f.Name)]))
		}
	}
	for _, m := range fontLine.FindAllStringSubmatch(command(t, "pdffonts", path), -1) {
		kind := m[2]
		for _, k := range kinds {
			if strings.HasPrefix(kind, k) {
				kind = k
			}
		}
		want = append(want, fmt.Sprintf("%s %s %s embedded %s subset %s", m[7], strings.TrimSuffix(m[1], "[none]"), kind, m[4], m[5]))
	}
	slices.Sort(got)
	slices.Sort(want)
	t.Logf("%d fonts", len(want))
	if got = slices.Compact(got); !slices.Equal(got, want) {
		t.Errorf("fonts\n got %q\nwant %q", got, want)
	}
}

func againstPdftotext(t *testing.T, path string, pages []*Content) {
	out := strings.Split(command(t, "pdftotext", "-bbox", path, "-"), "<page ")[1:]
	if len(out) != len(pages) {
		t.Fatalf("%d pages, pdftotext says %d", len(pages), len(out))
	}
	for i, c := range pages {
		comparePage(t, c, wordsOf(out[i]))
	}
}

// comparePage looks for every word in the runs that touch it, and lays the boxes over
// each other. They are not of one kind: a run is one operator's ink, a word is letters
// that stand close, from the first one's origin to the last one's advance, as high as
// the font says that its letters are. So, in ems: a word may begin or end 0.25 beyond
// the ink (an italic W stands that far off), ink may pass its words by 0.12 on the
// sides (an f leans out) and 0.25 above and below (a font's heights are only its word
// for it); for turned or slanted type, which poppler boxes by its corners, 0.4.
func comparePage(t *testing.T, c *Content, words []word) {
	t.Helper()
	t.Logf("%d words, %d runs", len(words), len(c.Texts))
	for _, w := range words {
		text, ink, em := "", nowhere(), 0.0
		for _, x := range c.Texts {
			if touches(x.Full, w.box) {
				text, ink, em = text+x.String, ink.Union(x.Full), max(em, x.Size)
			}
		}
		if !reads(text, html.UnescapeString(w.text)) {
			t.Errorf("%q in %.2f is not in %q", w.text, w.box, text)
		}
		if w.box.X0 < ink.X0-0.25*em || w.box.X1 > ink.X1+0.25*em {
			t.Errorf("%q in %.2f, ink in %.2f", w.text, w.box, ink)
		}
	}
	for _, x := range c.Texts {
		all := nowhere()
		for _, w := range words {
			if touches(x.Full, w.box) {
				all = all.Union(w.box)
			}
		}
		side, height := 0.12*x.Size, 0.25*x.Size
		if q := x.Quad; q[0].X != q[3].X && q[0].Y != q[3].Y {
			side, height = 0.4*x.Size, 0.4*x.Size
		}
		if !all.grow(side, height).Contains(x.Full, 0) {
			t.Errorf("%q in %.2f, words in %.2f", x.String, x.Full, all)
		}
	}
}

// reads tells whether a word is part of a text. Poppler takes ligatures apart and
// puts accents on the letters below them; where a font does not tell what a glyph
// means, which is U+FFFD to us, it guesses by the code.
func reads(text, word string) bool {
	in, of := []rune(bare(text)), []rune(bare(word))
	for i := range len(in) - len(of) + 1 {
		if slices.EqualFunc(in[i:i+len(of)], of, func(a, b rune) bool { return a == b || a == '\ufffd' }) {
			return true
		}
	}
	return false
}

// bare is a text without spaces, ligatures and accents.
func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFKD.String(s))
}

func touches(a, b Rect) bool {
	o := a.Intersect(b)
	return !o.Empty() && o.W() > 0 && o.H() > 0
}

func wordsOf(out string) (words []word) {
	for _, m := range wordLine.FindAllStringSubmatch(out, -1) {
		var v [4]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(m[i+1], 64)
		}
		words = append(words, word{Rect{v[0], v[1], v[2], v[3]}, m[5]})
	}
	return words
}

var wordLine = regexp.MustCompile(`<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>`)
