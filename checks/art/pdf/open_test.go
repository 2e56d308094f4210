package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestSniff(t *testing.T) {
	for head, want := range map[string]bool{
		"%PDF-1.4": true, strings.Repeat(" ", 1000) + "%PDF-1.4": true,
		strings.Repeat(" ", 1020) + "%PDF-1.4": false, "%PD": false, "": false, "\x89PNG": false,
	} {
		if Sniff([]byte(head)) != want {
			t.Errorf("%.20q: %v", head, !want)
		}
	}
}

// plainCard is a whole file with a font and an image in it.
func plainCard() []byte {
	w := &writer{}
	im := w.picture(20, 10, "")
	return w.page(cardPage, "/XObject << /Im "+ref(im)+" >> "+w.embedded(), "q 90 0 0 45 9 9 cm /Im Do Q BT /F1 12 Tf 20 100 Td (Wendlebury Cross) Tj ET")
}

func TestWholeFileHasNoRepairs(t *testing.T) {
	for name, b := range map[string][]byte{
		"plain":                   plainCard(),
		"white space at the end":  append(plainCard(), "\r\n\r\n\x00"...),
		"comment at the end":      append(plainCard(), "% made by hand\n"...),
		"something before it all": append([]byte("From the web:\n"), plainCard()...),
	} {
		if d := open(t, b); len(d.Repairs) > 0 {
			t.Errorf("%s: %q", name, d.Repairs)
		}
	}
}

func TestRepairs(t *testing.T) {
	card := plainCard()
	replace := func(old, new string) []byte {
		i := bytes.LastIndex(card, []byte(old))
		if i < 0 {
			t.Fatalf("no %q", old)
		}
		return append(append(append([]byte{}, card[:i]...), new...), card[i+len(old):]...)
	}
	for name, c := range map[string]struct {
		file []byte
		want string
	}{
		"no end mark":       {replace("%%EOF\n", ""), "end-of-file mark is missing"},
		"garbage after":     {append(plainCard(), "<html>error</html>"...), "18 bytes of something else"},
		"no startxref":      {replace("startxref", "startxxxx"), "place of the cross-reference table is not given"},
		"startxref wrong":   {replace("startxref\n", "startxref\n9"), "not where the file says"},
		"an offset wrong":   {replace("0000000015 00000 n", "0000000025 00000 n"), "1 of 8 entries"},
		"line ends changed": {bytes.ReplaceAll(onePage(square, "", "0 0 9 9 re f"), []byte("\n"), []byte("\r\n")), "not where the file says"},
		"a length wrong":    {replace("/Length 200 >>", "/Length 190 >>"), "1 streams of data"},
	} {
		t.Run(name, func(t *testing.T) {
			d, err := Open(c.file, DefaultLimits())
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(strings.Join(d.Repairs, "\n"), c.want) {
				t.Errorf("repairs %q, want %q", d.Repairs, c.want)
			}
		})
	}
}

// A file that was cut off anywhere is never taken for whole, and where it opens at
// all it can be walked.
func TestCutOffAnywhere(t *testing.T) {
	files := map[string][]byte{"plain": plainCard()}
	for name, b := range viaQpdf(t, plainCard()) {
		if name != "encrypted" {
			files[name] = b
		}
	}
	for name, b := range files {
		whole := open(t, b)
		if len(whole.Repairs) > 0 {
			t.Errorf("%s: whole, yet %q", name, whole.Repairs)
		}
		step := max(1, len(b)/400)
		for n := 0; n < len(b)-8; n += step {
			d, err := Open(b[:n], DefaultLimits())
			switch {
			case err == nil && len(d.Repairs) == 0:
				t.Fatalf("%s: %d of %d bytes are taken for a whole file", name, n, len(b))
			case err == nil:
				if p, err := d.Page(1); err == nil {
					_, _ = p.Walk()
				}
			case !errors.Is(err, ErrCutOff) && !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrNoPages):
				t.Fatalf("%s: %d bytes: %v", name, n, err)
			}
		}
	}
}

// viaQpdf rewrites a file in the forms that the standard has for the same thing.
func viaQpdf(t testing.TB, b []byte) map[string][]byte {
	in := saved(t, "in.pdf", b)
	forms := map[string][]string{
		"object streams": {"--object-streams=generate"},
		"linearized":     {"--linearize", "--object-streams=disable"},
		"linearized too": {"--linearize", "--object-streams=generate"},
		"encrypted":      {"--encrypt", "", "owner", "256", "--"},
		"plain again":    {"--object-streams=disable", "--normalize-content=y"},
	}
	out := map[string][]byte{}
	for name, args := range forms {
		path := filepath.Join(t.TempDir(), "out.pdf")
		command(t, "qpdf", append(append([]string{in}, args...), path)...)
		out[name] = loaded(t, path)
	}
	return out
}

func TestFormsOfTheSameFile(t *testing.T) {
	want := walk(t, plainCard())
	for name, b := range viaQpdf(t, plainCard()) {
		t.Run(name, func(t *testing.T) {
			d := open(t, b)
			if len(d.Repairs) > 0 || d.Encrypted != (name == "encrypted") {
				t.Errorf("repairs %q, encrypted %v", d.Repairs, d.Encrypted)
			}
			c := walk(t, b)
			if len(c.Texts) != 1 || c.Texts[0].String != "Wendlebury Cross" || c.Texts[0].Box != want.Texts[0].Box ||
				len(c.Images) != 1 || c.Images[0].Box != want.Images[0].Box {
				t.Errorf("the content differs: %+v", c)
			}
			if raw, err := c.Images[0].Raw(); err != nil || len(raw) != 200 {
				t.Errorf("%d samples, %v", len(raw), err)
			}
		})
	}
}

func TestUpdatedFile(t *testing.T) {
	card := plainCard()
	// An incremental update: a new page object, and a table that leads to the old one.
	old, _ := startOfTable(card)
	body := "6 0 obj\n<< /Type /Page /Parent 7 0 R /MediaBox [0 0 100 50] >>\nendobj\n"
	at := len(card)
	update := fmt.Sprintf("%sxref\n6 1\n%010d 00000 n \ntrailer\n<< /Size 9 /Root 8 0 R /Prev %d >>\nstartxref\n%d\n%%%%EOF\n", body, at, old, at+len(body))
	b := append(append([]byte{}, card...), update...)
	if !bytes.Contains(card, []byte("6 0 obj\n<< /Type /Page ")) {
		t.Fatal("the page is not object 6 any more")
	}
	d := open(t, b)
	if p, err := d.Page(1); err != nil || p.Media.W() != 100 || len(d.Repairs) > 0 {
		t.Errorf("%+v, %v, %q", p, err, d.Repairs)
	}
	// Cut inside the update: the first part is whole, the file is not.
	for n := at + 1; n < len(b)-7; n += 7 {
		if d, err := Open(b[:n], DefaultLimits()); err == nil && len(d.Repairs) == 0 && len(bytes.TrimSpace(b[at:n])) > 0 {
			t.Errorf("cut after %d bytes of the update: taken for whole", n-at)
		}
	}
}

// A hybrid file has a cross-reference stream beside its table, for the objects that
// old readers shall not see (7.5.8.4).
func TestHybridFile(t *testing.T) {
	for name, shift := range map[string]int{"whole": 0, "an entry of the stream wrong": 1} {
		w := &writer{}
		b := w.document("", square)
		table, _ := startOfTable(b)
		at := table // the new object comes where the table was
		id := len(w.objects) + 1
		entry := string([]byte{1, byte((at + shift) >> 8), byte(at + shift), 0})
		object := fmt.Sprintf("%d 0 obj\n<< /Type /XRef /Size %d /Index [%d 1] /W [1 2 1] /Root %s /Length 4 >>\nstream\n%s\nendstream\nendobj\n", id, id+1, id, ref(w.root), entry)
		rest := strings.Replace(string(b[table:]), "/Size", fmt.Sprintf("/XRefStm %d /Size", at), 1)
		rest = strings.Replace(rest, fmt.Sprintf("startxref\n%d", table), fmt.Sprintf("startxref\n%d", table+len(object)), 1)
		d := open(t, []byte(string(b[:table])+object+rest))
		if whole := len(d.Repairs) == 0; whole != (shift == 0) || d.PageCount != 1 {
			t.Errorf("%s: %q", name, d.Repairs)
		}
	}
}

func TestLocked(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out.pdf")
	command(t, "qpdf", saved(t, "in.pdf", plainCard()), "--encrypt", "secret", "owner", "256", "--", path)
	if _, err := Open(loaded(t, path), DefaultLimits()); !errors.Is(err, ErrLocked) {
		t.Errorf("%v", err)
	}
}

func TestRefusals(t *testing.T) {
	small := DefaultLimits()
	small.FileBytes = 100
	if _, err := Open(plainCard(), small); !errors.Is(err, ErrTooLarge) {
		t.Errorf("file: %v", err)
	}
	few := DefaultLimits()
	few.Pages = 2
	w := &writer{}
	if _, err := Open(w.document("", "", "", ""), few); !errors.Is(err, ErrTooLarge) {
		t.Errorf("pages: %v", err)
	}
	few.Objects = 3
	if _, err := Open(plainCard(), few); !errors.Is(err, ErrTooLarge) {
		t.Errorf("objects: %v", err)
	}
	w = &writer{}
	if _, err := Open(w.document(""), DefaultLimits()); !errors.Is(err, ErrNoPages) {
		t.Errorf("no pages: %v", err)
	}
	for _, b := range []string{"", "not a PDF", "%PDF-1.4", "%PDF-1.4\n%%EOF", "%PDF-1.7\nstartxref\n0\n%%EOF\n"} {
		if _, err := Open([]byte(b), DefaultLimits()); !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrCutOff) {
			t.Errorf("%q: %v", b, err)
		}
	}
}

func TestPageTreeThatLies(t *testing.T) {
	w := &writer{}
	leaf := w.add("<< /Type /Page /MediaBox [0 0 10 10] >>")
	node := len(w.objects) + 1
	// /Count lies, a kid is the node itself, one is no object, one lacks its /Type.
	bare := node + 1
	w.add(fmt.Sprintf("<< /Type /Pages /Count 100000000 /Kids [%s %s 99 0 R null %s 7] >>", ref(leaf), ref(node), ref(bare)))
	w.add("<< /MediaBox [0 0 20 20] >>")
	w.root = w.add("<< /Type /Catalog /Pages " + ref(node) + " >>")
	d := open(t, w.bytes())
	if d.PageCount != 2 {
		t.Fatalf("%d pages", d.PageCount)
	}
	if p, err := d.Page(2); err != nil || p.Media.W() != 20 {
		t.Errorf("%+v %v", p, err)
	}
	for _, n := range []int{-1, 0, 3} {
		if _, err := d.Page(n); err == nil {
			t.Errorf("page %d is there", n)
		}
	}
}

func TestIntentsClaimsVersion(t *testing.T) {
	w := &writer{}
	icc := w.stream("/N 4", "a profile")
	xmp := w.stream("/Type /Metadata /Subtype /XML", `<rdf:Description pdfxid:GTS_PDFXVersion="PDF/X-4" xmlns:pdfaid="x"><pdfaid:part>2</pdfaid:part><pdfaid:conformance>B</pdfaid:conformance>`)
	info := w.add("<< /GTS_PDFXVersion (PDF/X-4) >>")
	w.trailer = "/Info " + ref(info)
	b := w.document(fmt.Sprintf(`/Version /2.0 /Metadata %s /OutputIntents [<< /Type /OutputIntent /S /GTS_PDFX /OutputConditionIdentifier (FOGRA39) /Info <FEFF00650301> /DestOutputProfile %s >> << /S /GTS_PDFA1 >>]`, ref(xmp), ref(icc)), "/MediaBox [0 0 9 9]")
	d := open(t, b)
	if len(d.Intents) != 2 || d.Intents[0].Subtype != "GTS_PDFX" || d.Intents[0].Identifier != "FOGRA39" || d.Intents[0].Info != "e\u0301" {
		t.Fatalf("%+v", d.Intents)
	}
	if p, err := d.Intents[0].Profile(); err != nil || string(p) != "a profile" {
		t.Errorf("%q %v", p, err)
	}
	if _, err := d.Intents[1].Profile(); !errors.Is(err, ErrNoProfile) {
		t.Errorf("%v", err)
	}
	if fmt.Sprint(d.Claims) != "[PDF/X-4 PDF/A-2b]" || d.Version != "2.0" {
		t.Errorf("claims %q version %q", d.Claims, d.Version)
	}
}

func TestExtras(t *testing.T) {
	for catalog, want := range map[string]Extras{
		"": {},
		"/OpenAction << /S /JavaScript /JS (app.beep) >>":               {Scripts: true},
		"/OpenAction << /S /GoTo /D [1 0 R /Fit] >>":                    {},
		"/AA << /WP << /S /JavaScript >> >>":                            {Scripts: true},
		"/Names << /JavaScript << /Names [] >> /EmbeddedFiles << >> >>": {Scripts: true, Files: true},
		"/AcroForm << /Fields [1 0 R 2 0 R] /XFA [] >>":                 {Fields: 2, XFA: true},
		"/OpenAction << /S /GoTo /Next << /S /JavaScript >> >>":         {Scripts: true},
		"/Collection << /View /D >>":                                    {Portfolio: true},
	} {
		w := &writer{}
		if d := open(t, w.document(catalog, square)); d.Extras != want {
			t.Errorf("%s: %+v, want %+v", catalog, d.Extras, want)
		}
	}
}

// Programs that merge files nest their trees, one level a file.
func TestDeepPageTree(t *testing.T) {
	w := &writer{}
	last := w.add("<< /Type /Page /MediaBox [0 0 9 9] >>")
	for range 300 {
		last = w.add("<< /Type /Pages /Count 1 /Kids [" + ref(last) + "] >>")
	}
	w.root = w.add("<< /Type /Catalog /Pages " + ref(last) + " >>")
	if d := open(t, w.bytes()); d.PageCount != 1 {
		t.Errorf("%d pages", d.PageCount)
	}
}

// Several files may be open at once, each in its own goroutine.
func TestOpenAtOnce(t *testing.T) {
	b := plainCard()
	for range 4 {
		t.Run("", func(t *testing.T) {
			t.Parallel()
			if c := walk(t, b); len(c.Texts) != 1 {
				t.Errorf("%+v", c)
			}
		})
	}
}

// Opening leaves nothing on disk: no settings folder.
func TestOpenWritesNothing(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(home, ".config"))
	walk(t, plainCard())
	if left, _ := os.ReadDir(home); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}
