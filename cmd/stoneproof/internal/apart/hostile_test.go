package apart

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stoneproof/rules"
)

// Files made to harm, judged apart. Each fails file-opens within its deadline, and
// a good card is judged rightly after all of them.

const (
	shortDeadline = 45 * time.Second
	// Starting a child and a busy machine take their time beside the deadline.
	deadlineSlack = 20 * time.Second
)

// parade wants the file at path to fail file-opens with some words, in time.
func parade(t *testing.T, p *Pool, path, says string) {
	t.Helper()
	r := inTime(t, p, path)
	if text := told(r); r.Verdict != rules.Fail || !strings.Contains(text, "file-opens fail: ") || !strings.Contains(text, says) {
		t.Errorf("want a failure of file-opens, and it to say %q, not %s:\n%.2000s", says, r.Verdict, text)
	}
}

// inTime judges the file at path by everything.
func inTime(t *testing.T, p *Pool, path string) rules.FileReport {
	t.Helper()
	j := judge(t, rules.Order{})
	j.Ceilings.Deadline = shortDeadline
	start := time.Now()
	r := p.Judge(j)(t.Context(), path)
	if took := time.Since(start); took > shortDeadline+deadlineSlack {
		t.Errorf("took %v, with a deadline of %v", took, shortDeadline)
	}
	return r
}

func TestHostileFiles(t *testing.T) {
	if testing.Short() {
		t.Skip("makes and reads bombs")
	}
	p := start(t, Options{Workers: 1})
	for _, tt := range []struct {
		name string
		file []byte
		says string
	}{
		{"card.pdf: pages that hold themselves", pdf("<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [2 0 R 2 0 R] /Count 2 >>"), ""},
		{"card.pdf: an object that is itself", pdf("<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [3 0 R] /Count 1 >>", "3 0 R"), ""},
		{"card.pdf: a catalog that is its own pages", pdf("<< /Type /Catalog /Pages 1 0 R /Kids [1 0 R] >>"), ""},
		{"card.pdf: a table before itself", bytes.Replace(pdf("<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [] /Count 0 >>"), []byte("/Root"), []byte("/Prev 9 /Root"), 1), ""},
		{"card.pdf: a stream as long as itself", card(stream("/Length 4 0 R", "0 0 9 9 re f")), ""},
		{"card.pdf: a stream without end", bytes.ReplaceAll(card(stream("/Length 2000000000", strings.Repeat("0 0 9 9 re f ", 1000))), []byte("endstream"), nil), ""},
		{"card.pdf: a deep array", pdf("<< /Type /Catalog /Pages 2 0 R /X "+strings.Repeat("[", 200_000)+" >>", "<< /Type /Pages /Kids [] /Count 0 >>"), ""},
		{"card.pdf: a deep dictionary", pdf("<< /Type /Catalog /Pages 2 0 R /X "+strings.Repeat("<< /X ", 50_000)+strings.Repeat(">>", 50_000)+" >>", "<< /Type /Pages /Kids [] /Count 0 >>"), ""},
		{"card.pdf: 300 MB of blanks", card(stream("/Filter /FlateDecode", zipped(bytes.Repeat([]byte(" "), 300<<20)))), ""},
		{"card.png: 60,000 × 60,000 px", png(60_000, 60_000, ""), "60000 × 60000 pixels are more"},
		{"card.png: a bomb behind a small header", png(1050, 600, zipped(make([]byte, 200<<20))), ""},
		{"card.tif: 60,000 × 60,000 px", tiff(60_000, 60_000, ""), "60000 × 60000 pixels are more"},
		{"card.tif: a ring of directories", ring(tiff(100, 100, zipped(make([]byte, 10_000)))), ""},
		{"card.jpg: 65,535 × 65,535 px", []byte("\xff\xd8\xff\xc0\x00\x0b\x08\xff\xff\xff\xff\x01\x01\x11\x00\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00\xff\xd9"), "65535 × 65535"},
		{"card.gif: nonsense", []byte("GIF89a\xff\xff\xff\xff\xff\x00\x00" + strings.Repeat("\xfe", 5000)), ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			name, _, _ := strings.Cut(tt.name, ":")
			parade(t, p, kept(t, name, tt.file), tt.says)
		})
	}
	// These cost their decoder no more than a card does, or no more than it may.
	for name, file := range map[string][]byte{
		"card.png": png(12_000, 12_000, zipped(make([]byte, 12_000*(3*12_000+1)))),
		"card.tif": tiff(1050, 600, zipped(make([]byte, 200<<20))),
	} {
		if r := inTime(t, p, kept(t, name, file)); r.Verdict != rules.Fail || r.SHA256 == "" {
			t.Errorf("%s is %s:\n%s", name, r.Verdict, told(r))
		}
	}
	stillSound(t, p)
}

// What holds the renderer in its machine code is ended from outside: there the
// child's own deadline is of no use. The ceilings that would refuse such a page are
// taken away for it.
func TestHostileRenderer(t *testing.T) {
	if testing.Short() {
		t.Skip("takes its deadline's time")
	}
	tile := stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 1 1] /XStep 0.0001 /YStep 0.0001 /Resources << >>", "0 0 1 1 re f")
	p := start(t, Options{Workers: 1})
	stillSound(t, p)
	j := judge(t, rules.Order{})
	j.Ceilings.Deadline = 3 * time.Second
	j.Ceilings.PDF.Tiles = 1 << 60
	j.Ceilings.PDF.Operators = 1 << 60
	path := kept(t, "card.pdf", card(stream("", "/Pattern cs /P scn 0 0 270 162 re f"), tile))
	begun := time.Now()
	unopened(t, p.Judge(j)(t.Context(), path), "within 3s")
	if took := time.Since(begun); took > 3*time.Second+deadlineSlack {
		t.Errorf("took %v", took)
	}
	if len(p.places) != 1 {
		t.Error("the place of the child is not given back")
	}
	stillSound(t, p)
}

// A picture that takes more than a child may hold costs the child its life, and no
// more. The reader's own ceiling is taken away for it.
func TestHostileMemory(t *testing.T) {
	if testing.Short() || resident(os.Getpid()) == 0 {
		t.Skip("makes a bomb, and needs a system that tells a process's memory")
	}
	p := start(t, Options{Workers: 1, Memory: 250 << 20})
	j := judge(t, rules.Order{})
	j.Ceilings.Raster.Memory = 1 << 50
	path := kept(t, "card.png", png(12_000, 12_000, zipped(make([]byte, 12_000*(3*12_000+1)))))
	unopened(t, p.Judge(j)(t.Context(), path), "took more than 250 MB of memory")
	stillSound(t, p)
}

// kept is the path of a file that holds b.
func kept(t *testing.T, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func zipped(b []byte) string {
	var out bytes.Buffer
	z, _ := zlib.NewWriterLevel(&out, zlib.BestSpeed)
	z.Write(b)
	z.Close()
	return out.String()
}

// card is a page of the US business card with its bleed: contents are object 4, and
// its pattern P is object 5.
func card(content string, objects ...string) []byte {
	return pdf(append([]string{
		"<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
		"<< /Type /Page /Parent 2 0 R /Contents 4 0 R /Resources << /Pattern << /P 5 0 R >> >> /MediaBox [0 0 270 162] /TrimBox [9 9 261 153] >>",
		content,
	}, objects...)...)
}

// pdf is a file of objects with a classic table (ISO 32000-1, 7.5.4).
func pdf(objects ...string) []byte {
	b := []byte("%PDF-1.7\n")
	table := fmt.Sprintf("xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for i, o := range objects {
		table += fmt.Sprintf("%010d 00000 n \n", len(b))
		b = fmt.Appendf(b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	return fmt.Appendf(b, "%strailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", table, len(objects)+1, len(b))
}

// stream is a stream object; its length is that of the data, unless the entries say
// otherwise.
func stream(entries, data string) string {
	if !strings.Contains(entries, "/Length") {
		entries += fmt.Sprintf(" /Length %d", len(data))
	}
	return "<< " + entries + " >>\nstream\n" + data + "\nendstream"
}

// png is a picture of 8-bit RGB (W3C PNG, 5.3 and 11.2).
func png(w, h uint32, data string) []byte {
	chunk := func(kind, data string) []byte {
		b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
		b = append(b, kind+data...)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE([]byte(kind+data)))
	}
	header := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	return slices.Concat([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", string(header)+"\x08\x02\x00\x00\x00"), chunk("IDAT", data), chunk("IEND", ""))
}

// tiff is a grey picture of 8 bits in one strip, deflated (TIFF 6.0, p. 14; Adobe's
// compression 8).
func tiff(w, h uint32, data string) []byte {
	const short, long = 3, 4
	b := binary.LittleEndian.AppendUint32([]byte("II*\x00"), uint32(8+len(data)))
	b = append(b, data...)
	fields := [][3]uint32{
		{256, long, w}, {257, long, h}, {258, short, 8}, {259, short, 8}, {262, short, 1},
		{273, long, 8}, {277, short, 1}, {278, long, h}, {279, long, uint32(len(data))},
	}
	b = binary.LittleEndian.AppendUint16(b, uint16(len(fields)))
	for _, f := range fields {
		b = binary.LittleEndian.AppendUint16(b, uint16(f[0]))
		b = binary.LittleEndian.AppendUint16(b, uint16(f[1]))
		b = binary.LittleEndian.AppendUint32(b, 1)
		b = binary.LittleEndian.AppendUint32(b, f[2])
	}
	return append(b, 0, 0, 0, 0)
}

// ring makes the next directory of a TIFF its first.
func ring(b []byte) []byte {
	copy(b[len(b)-4:], b[4:8])
	return b
}
