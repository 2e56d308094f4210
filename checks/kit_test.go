package checks_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/rules"
)

// trial is one file judged by one check, with what the check must say.
type trial struct {
	name  string
	file  []byte
	order rules.Order
	want  string // "pass", "fail left", "fail left; warn top"
	says  string // part of what it says, messages and fixes
}

// try runs trials of a check.
func try(t *testing.T, check *checks.Check, trials []trial) {
	t.Helper()
	for _, tt := range trials {
		t.Run(tt.name, func(t *testing.T) {
			r := checktest.JudgeBy(t, kept(t, "card"+ending(tt.file), tt.file), tt.order, check)
			if got := verdicts(r, check.Rule); got != tt.want {
				t.Errorf("says %q, want %q:\n%s", got, tt.want, words(r))
			}
			if !strings.Contains(words(r), tt.says) {
				t.Errorf("want it to say %q:\n%s", tt.says, words(r))
			}
		})
	}
}

// kept is the path of a file that holds b.
func kept(t testing.TB, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// ending is the file ending that promises what the content is.
func ending(b []byte) string {
	for magic, ending := range map[string]string{
		"%PDF": ".pdf", "\xff\xd8": ".jpg", "\x89PNG": ".png", "II": ".tif", "MM": ".tif", "RIFF": ".webp", "GIF8": ".gif", "BM": ".bmp",
	} {
		if bytes.HasPrefix(b, []byte(magic)) {
			return ending
		}
	}
	return ".pdf"
}

// verdicts are what a report says of one rule, passes left out where there is
// anything else to say.
func verdicts(r rules.FileReport, rule string) string {
	var said []string
	for _, f := range r.Findings {
		if f.Rule == rule && f.Verdict != rules.Pass {
			said = append(said, strings.TrimSpace(fmt.Sprintf("%s %s", f.Verdict, f.Edge)))
		}
	}
	if len(said) == 0 {
		return "pass"
	}
	slices.Sort(said)
	return strings.Join(said, "; ")
}

// words are all that a report says.
func words(r rules.FileReport) string {
	var b strings.Builder
	for _, f := range r.Findings {
		fmt.Fprintf(&b, "%s %s %s: %s → %s\n", f.Rule, f.Verdict, f.Edge, f.Message, f.Fix)
	}
	return b.String()
}

// sheet is a PDF of like pages written out by hand, with nothing mended: what is
// in it is what the test says.
type sheet struct {
	page      string   // entries of the page, boxes for the most part, in points
	tree      string   // entries of the page tree's root, that pages may inherit
	catalog   string   // entries of the catalog
	resources string   // entries of the page's resources
	content   string   // drawing instructions
	objects   []string // further objects; the first is 5 0 R
	pages     int      // 0 is 1
}

// Page boxes of the US business card, 252 × 144 pt, with a bleed of 9 pt.
const usCard = "/MediaBox [0 0 270 162] /BleedBox [0 0 270 162] /TrimBox [9 9 261 153]"

// card is a US business card with its bleed.
func card(content string, objects ...string) sheet {
	return sheet{page: usCard, content: content, objects: objects}
}

// with puts entries into the page's resources.
func (s sheet) with(resources string) sheet {
	s.resources += " " + resources
	return s
}

// file writes the sheet as a file with a classic table (ISO 32000-1, 7.5.4).
func (s sheet) file() []byte {
	kids := strings.Repeat("3 0 R ", max(1, s.pages))
	objects := append([]string{
		"<< /Type /Catalog /Pages 2 0 R " + s.catalog + " >>",
		fmt.Sprintf("<< /Type /Pages /Kids [%s] /Count %d %s >>", kids, max(1, s.pages), s.tree),
		"<< /Type /Page /Parent 2 0 R /Contents 4 0 R /Resources << " + s.resources + " >> " + s.page + " >>",
		stream("", s.content),
	}, s.objects...)
	if s.pages > 1 { // a page is a leaf of its own
		kids := ""
		for i := range s.pages {
			kids += fmt.Sprintf("%d 0 R ", len(objects)+1+i)
		}
		objects[1] = fmt.Sprintf("<< /Type /Pages /Kids [%s] /Count %d %s >>", kids, s.pages, s.tree)
		for range s.pages {
			objects = append(objects, objects[2])
		}
	}
	return pdfFile(objects)
}

func pdfFile(objects []string) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n")
	table := fmt.Sprintf("xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for i, o := range objects {
		table += fmt.Sprintf("%010d 00000 n \n", b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	start := b.Len()
	fmt.Fprintf(&b, "%strailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", table, len(objects)+1, start)
	return b.Bytes()
}

// stream is a stream object with entries of its dictionary.
func stream(entries, data string) string {
	return fmt.Sprintf("<< %s /Length %d >>\nstream\n%s\nendstream", entries, len(data), data)
}

// pictureOf is an image object of flat samples: 8 bits of a grey ground unless
// the entries say otherwise.
func pictureOf(w, h, bits, channels int, entries string) string {
	data := strings.Repeat("\x55", (w*bits*channels+7)/8*h)
	return stream(fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /BitsPerComponent %d %s", w, h, bits, entries), data)
}

// pngFile is a grey picture with chunks put after its header (W3C PNG, 5.6).
func pngFile(t testing.TB, img image.Image, chunks ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	const header = 8 + 25 // signature and IHDR
	return slices.Concat(b.Bytes()[:header], []byte(strings.Join(chunks, "")), b.Bytes()[header:])
}

// jpegFile is a picture with segments put after its start.
func jpegFile(t testing.TB, img image.Image, segments ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return slices.Concat(b.Bytes()[:2], []byte(strings.Join(segments, "")), b.Bytes()[2:])
}

func greyPicture(w, h int) image.Image { return image.NewGray(image.Rect(0, 0, w, h)) }
func rgbPicture(w, h int) image.Image  { return opaque{image.NewRGBA(image.Rect(0, 0, w, h))} }

// opaque keeps a PNG from being given an alpha channel.
type opaque struct{ *image.RGBA }

func (opaque) Opaque() bool { return true }

// chunk is a PNG chunk with its check sum (W3C PNG, 5.3).
func chunk(kind, data string) string {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(b, kind+data...)
	return string(binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE([]byte(kind+data))))
}

// segment is a JPEG marker segment (ITU-T T.81, B.1.1.4).
func segment(marker byte, data string) string {
	return string(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(data)+2))) + data
}

// field is an entry of a TIFF directory (TIFF 6.0, p. 14), little-endian.
type field struct {
	tag, kind uint16
	data      string
}

// Kinds of field, by the bytes that one value takes.
const (
	short    = 3
	long     = 4
	rational = 5
	blob     = 7
)

// strip marks the field that holds picture data: its value becomes their place.
const strip = 273

func word(v uint32) string { return string(binary.LittleEndian.AppendUint32(nil, v)) }
func half(v uint16) string { return string(binary.LittleEndian.AppendUint16(nil, v)) }

// greyFields are the fields of a grey picture of 8 bits in one strip.
func greyFields(w, h int) []field {
	return []field{
		{256, long, word(uint32(w))}, {257, long, word(uint32(h))}, {258, short, half(8)}, {259, short, half(1)},
		{262, short, half(1)}, {strip, long, strings.Repeat("\x55", w*h)}, {277, short, half(1)}, {278, long, word(uint32(h))},
		{279, long, word(uint32(w * h))},
	}
}

// resolution are the fields of a density: unit 1 none, 2 inch, 3 cm (p. 18).
func resolution(unit uint16, density uint32) []field {
	return []field{{282, rational, word(density) + word(1)}, {283, rational, word(density) + word(1)}, {296, short, half(unit)}}
}

// tiffFile writes directories, each a page, fields in the order of their tags.
func tiffFile(pages ...[]field) []byte {
	out, link := []byte("II*\x00\x00\x00\x00\x00"), 4
	for _, fields := range pages {
		var dir []byte
		for _, f := range fields {
			bytesEach := map[uint16]int{short: 2, long: 4, rational: 8, blob: 1}[f.kind]
			if f.tag == strip {
				at := word(uint32(len(out)))
				out = append(out, f.data...)
				f.data = at
			}
			dir = append(dir, half(f.tag)+half(f.kind)+word(uint32(len(f.data)/bytesEach))...)
			if len(f.data) > 4 {
				dir = append(dir, word(uint32(len(out)))...)
				out = append(out, f.data...)
			} else {
				dir = append(dir, (f.data + "\x00\x00\x00")[:4]...)
			}
		}
		binary.LittleEndian.PutUint32(out[link:], uint32(len(out)))
		out = append(out, half(uint16(len(fields)))...)
		out = append(out, dir...)
		link = len(out)
		out = append(out, 0, 0, 0, 0)
	}
	return out
}

// unread adds what every picture file earns: its type and lines are pixels, so the
// rules about them are skipped.
func unread(want ...string) []string {
	return append(want, "hairlines skip", "rich-black skip", "text-size skip")
}

// expectAll judges a file by every check and wants just these findings.
func expectAll(t testing.TB, file []byte, order rules.Order, want ...string) {
	t.Helper()
	checktest.Expect(t, checktest.Judge(t, kept(t, "card"+ending(file), file), order), want...)
}
