package checks_test

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/rules"
)

// Files made to harm. Whatever they hold, a report comes back, in the time that
// a file is given.

const (
	shortDeadline = 5 * time.Second
	// Starting, reading and a busy machine take their time beside the deadline.
	deadlineSlack = 5 * time.Second
	// A card's whole memory: the renderer's machine code, its 256 MB at most, and
	// the 1 GB that a picture may take.
	mostMemory = 2 << 30
)

// child is the variable that names the files to a process of their own.
const child = "STONEPROOF_JUDGE"

// survive judges hostile files one after the other in a process of their own: one
// that hangs must not take the other tests with it.
func survive(t *testing.T, files ...[]byte) {
	t.Helper()
	var paths []string
	for _, b := range files {
		paths = append(paths, kept(t, "card"+ending(b), b))
	}
	ctx, cancel := context.WithTimeout(context.Background(), shortDeadline+deadlineSlack)
	defer cancel()
	cmd := exec.CommandContext(ctx, os.Args[0], "-test.run", "^TestJudgeInChild$", "-test.v")
	cmd.Env = append(os.Environ(), child+"="+strings.Join(paths, "\n"))
	out, err := cmd.CombinedOutput()
	switch {
	case ctx.Err() != nil:
		t.Errorf("hangs: no report after %v, with a deadline of %v", shortDeadline+deadlineSlack, shortDeadline)
	case err != nil || !bytes.Contains(out, []byte("file-opens")):
		t.Errorf("%v:\n%.2000s", err, out)
	}
}

// TestJudgeInChild is what the process of hostile files runs.
func TestJudgeInChild(t *testing.T) {
	paths := os.Getenv(child)
	if paths == "" {
		t.Skip("is for processes that judge hostile files")
	}
	for path := range strings.SplitSeq(paths, "\n") {
		t.Log(words(judgeHostile(t, path)))
	}
	if memory := mostHeld(t); memory > mostMemory {
		t.Errorf("took %d MB", memory>>20)
	}
}

// mostHeld is the most memory that this process held at a time, in bytes, where
// the system tells it.
func mostHeld(t *testing.T) int {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	_, rest, _ := strings.Cut(string(status), "VmHWM:")
	var kB int
	fmt.Sscan(rest, &kB)
	t.Logf("%d MB", kB>>10)
	return kB << 10
}

// judgeHostile judges a file by everything and wants a whole report in time.
func judgeHostile(t *testing.T, path string) rules.FileReport {
	t.Helper()
	j := checktest.NewJudge(t, rules.Order{}, checks.All()...)
	j.Ceilings.Deadline = shortDeadline
	start := time.Now()
	r := j.File(context.Background(), path)
	if took := time.Since(start); took > shortDeadline+deadlineSlack {
		t.Errorf("took %v, with a deadline of %v", took, shortDeadline)
	}
	if len(r.Findings) == 0 {
		t.Error("the report is empty")
	}
	for _, f := range r.Findings {
		if strings.Contains(f.Message, "please report it") {
			t.Errorf("a check broke down: %s", f.Message)
		}
	}
	return r
}

// stillSound wants the next file to be judged rightly.
func stillSound(t *testing.T) {
	t.Helper()
	checktest.Expect(t, checktest.Judge(t, kept(t, "card.pdf", lettered(inside(rules.Left, 1)).file()), rules.Order{}), "safe-zone fail left")
}

func zipped(b []byte) string {
	var out bytes.Buffer
	z, _ := zlib.NewWriterLevel(&out, zlib.BestCompression)
	z.Write(b)
	z.Close()
	return out.String()
}

func TestHostilePDF(t *testing.T) {
	if testing.Short() {
		t.Skip("takes its deadlines' time")
	}
	form := func(entries, content string) string {
		return stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] "+entries, content)
	}
	nested := func(n int) []byte {
		s := card("/X Do").with("/XObject << /X 5 0 R >>")
		for i := range n {
			s.objects = append(s.objects, form(fmt.Sprintf("/Resources << /XObject << /X %d 0 R >> >>", 6+i), "0 0 9 9 re f /X Do"))
		}
		s.objects = append(s.objects, form("", "0 0 5 5 re f"))
		return s.file()
	}
	doubling := card("/X Do").with("/XObject << /X 5 0 R >>")
	for i := range 40 {
		doubling.objects = append(doubling.objects, form(fmt.Sprintf("/Resources << /XObject << /X %d 0 R >> >>", 6+i), "/X Do /X Do"))
	}
	doubling.objects = append(doubling.objects, form("", "0 0 9 9 re f"))
	zeros := make([]byte, 100<<20)
	many := card("0.2 g 0 0 270 162 re f")
	many.pages = 1000
	few := card("0.2 g 30 30 270 162 re f") // a brink that has to be drawn
	few.pages = 400
	loop := pdfFile([]string{"<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [2 0 R 2 0 R] /Count 2 >>"})
	self := pdfFile([]string{"<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [3 0 R] /Count 1 >>", "3 0 R"})
	for _, tt := range []struct {
		name string
		file []byte
	}{
		{"a form that calls itself", card("/X Do", form("/Resources << /XObject << /X 5 0 R >> >>", "0 0 9 9 re f /X Do")).with("/XObject << /X 5 0 R >>").file()},
		{"10,000 forms in each other", nested(10_000)},
		{"forms that double 40 times", doubling.file()},
		{"a tile of a ten-thousandth", card("/Pattern cs /P scn 0 0 270 162 re f", tinyTile).with("/Pattern << /P 5 0 R >>").file()},
		{"a tile of nothing", card("/Pattern cs /P scn 0 0 270 162 re f", strings.Replace(tinyTile, "0.0001 /YStep 0.0001", "0 /YStep 0", 1)).with("/Pattern << /P 5 0 R >>").file()},
		{"a million operators", card(strings.Repeat("1 1 9 9 re f ", 500_000)).file()},
		{"a million glyphs", lettered("BT /F 1 Tf 9 80 Td " + strings.Repeat("("+strings.Repeat("A", 100)+") Tj ", 10_000) + "ET").file()},
		{"a path of a million lines", card("0 0 m " + strings.Repeat("270 162 l 0 80 l ", 500_000) + "f").file()},
		{"a dash of a ten-millionth", card("[0.0000001] 0 d 5 w 0 0 m 270 162 l S").file()},
		{"a thousand blends", card("/G gs "+strings.Repeat("/X Do ", 1000), form("/Group << /S /Transparency /I true >>", "0.5 g 0 0 270 162 re f")).with("/ExtGState << /G << /BM /Luminosity /ca 0.5 >> >> /XObject << /X 5 0 R >>").file()},
		{"100 MB of zeros as content", sheet{page: strings.Replace(usCard, "/MediaBox", "/Contents 5 0 R /MediaBox", 1), objects: []string{stream("/Filter /FlateDecode", zipped(zeros))}}.file()},
		{"100 MB of blanks as content", card("", stream("/Filter /FlateDecode", zipped(bytes.Repeat([]byte(" "), 100<<20)))).contents("5 0 R")},
		{"100 MB of zeros as a picture", withPicture("270 0 0 162 0 0 cm /X Do", stream("/Type /XObject /Subtype /Image /Width 10000 /Height 10000 /BitsPerComponent 8 /ColorSpace /DeviceGray /Filter /FlateDecode", zipped(zeros)))},
		{"a picture that says it is vast", withPicture("270 0 0 162 0 0 cm /X Do", stream("/Type /XObject /Subtype /Image /Width 2000000000 /Height 2000000000 /BitsPerComponent 8 /ColorSpace /DeviceGray", "paint"))},
		{"a picture of less than nothing", withPicture("270 0 0 162 0 0 cm /X Do", stream("/Type /XObject /Subtype /Image /Width -5 /Height -9 /BitsPerComponent -8 /ColorSpace /DeviceGray", "paint"))},
		{"zlib in zlib in zlib", card("", stream("/Filter [/FlateDecode /FlateDecode /FlateDecode]", zipped([]byte(zipped([]byte(zipped(zeros))))))).contents("5 0 R")},
		{"a thousand pages", many.file()},
		{"400 pages that are drawn", few.file()},
		{"pages that hold themselves", loop},
		{"an object that is itself", self},
		{"a page as large as a town", sheet{page: "/MediaBox [0 0 10000000 10000000] /TrimBox [0 0 10000000 10000000]", content: "0 0 9 9 re f"}.file()},
		{"a card in a page as large as a town", sheet{page: "/MediaBox [-5000000 -5000000 5000000 5000000] /TrimBox [0 0 252 144]", content: "0 0 9 9 re f"}.file()},
		{"numbers without end", card("1e999 -1e999 99999999999999999999 0 re f " + strings.Repeat("9", 100_000) + " 0 0 0 re f").file()},
		{"a deep array", card(strings.Repeat("[", 200_000)).file()},
		{"a deep dictionary", pdfFile([]string{"<< /Type /Catalog /Pages 2 0 R /X " + strings.Repeat("<< /X ", 50_000) + strings.Repeat(">>", 50_000) + " >>", "<< /Type /Pages /Kids [] /Count 0 >>"})},
		{"saves that are never undone", card(strings.Repeat("q ", 500_000)).file()},
		{"a shading of a million steps", card("/S sh").with("/Shading << /S << /ShadingType 1 /ColorSpace /DeviceGray /Domain [0 1000000 0 1000000] /Function 5 0 R >> >>").plus(stream("/FunctionType 4 /Domain [0 1000000 0 1000000] /Range [0 1]", "{ "+strings.Repeat("dup mul sqrt ", 20_000)+"pop }")).file()},
	} {
		t.Run(tt.name, func(t *testing.T) { survive(t, tt.file) })
	}
}

// contents is the file with its pages' drawing instructions in another object.
func (s sheet) contents(ref string) []byte {
	return bytes.Replace(s.file(), []byte("/Contents 4 0 R"), []byte("/Contents "+ref), 1)
}

func TestHostilePictures(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long, in one goroutine")
	}
	ihdr := func(w, h uint32) string { return chunk("IHDR", be(w, h)+"\x08\x02\x00\x00\x00") }
	const signature = "\x89PNG\r\n\x1a\n"
	zeros := zipped(make([]byte, 50<<20))
	cyclic := tiffFile(append(greyFields(100, 100), resolution(2, 300)...))
	link := len(cyclic) - 4
	copy(cyclic[link:], cyclic[4:8]) // the next directory is the first
	vast := greyFields(10, 10)
	vast[0].data, vast[1].data = word(4_000_000_000), word(4_000_000_000)
	strips := append(greyFields(100, 100)[:5:5], field{273, long, strings.Repeat(word(8), 100_000)}, field{279, long, strings.Repeat(word(1), 100_000)})
	webp := slices.Concat([]byte("RIFF\xff\xff\xff\x7fWEBPVP8 \xff\xff\xff\x7f\x00\x00\x00\x9d\x01\x2a\xff\x3f\xff\x3f"), make([]byte, 100))
	for _, tt := range []struct {
		name string
		file []byte
	}{
		{"PNG of 60,000 × 60,000", []byte(signature + ihdr(60_000, 60_000) + chunk("IDAT", zeros) + chunk("IEND", ""))},
		{"PNG of 2³¹ × 2³¹", []byte(signature + ihdr(1<<31-1, 1<<31-1) + chunk("IDAT", zeros) + chunk("IEND", ""))},
		{"PNG of 12,000 × 12,000, true", []byte(signature + ihdr(12_000, 12_000) + chunk("IDAT", zipped(make([]byte, 12_000*(3*12_000+1)))) + chunk("IEND", ""))},
		{"PNG with a text of 50 MB", pngFile(t, greyPicture(9, 9), chunk("zTXt", "Comment\x00\x00"+zeros))},
		{"PNG with a profile of 50 MB", pngFile(t, greyPicture(9, 9), chunk("iCCP", "p\x00\x00"+zeros))},
		{"PNG with 100,000 chunks", pngFile(t, greyPicture(9, 9), strings.Repeat(chunk("tEXt", "a\x00b"), 100_000))},
		{"TIFF in a ring", cyclic},
		{"TIFF that says it is vast", tiffFile(vast)},
		{"TIFF of 100,000 strips", tiffFile(strips)},
		{"TIFF of 10,000 pages", tiffFile(slices.Repeat([][]field{greyFields(4, 4)}, 10_000)...)},
		{"GIF of nonsense", []byte("GIF89a\xff\xff\xff\xff\xff\x00\x00" + strings.Repeat("\xfe", 5000))},
		{"GIF of 65,535 × 65,535", []byte("GIF89a\xff\xff\xff\xff\x80\x00\x00\x00\x00\x00\xff\xff\xff,\x00\x00\x00\x00\xff\xff\xff\xff\x00\x02\x16" + strings.Repeat("\x8c\x2d", 11) + "\x00;")},
		{"WebP of nonsense", webp},
		{"BMP of less than nothing", []byte("BM\x00\x00\x00\x00\x00\x00\x00\x00\x36\x00\x00\x00\x28\x00\x00\x00\x00\x00\x00\x80\x00\x00\x00\x80\x01\x00\x18\x00" + strings.Repeat("\x00", 24))},
		{"JPEG of 65,535 × 65,535", []byte("\xff\xd8" + segment(0xc0, "\x08\xff\xff\xff\xff\x01\x01\x11\x00") + segment(0xda, "\x01\x01\x00\x00\x3f\x00") + "\xff\xd9")},
		{"JPEG of ten thousand scans", scans(t, 10_000)},
		{"JPEG of a million empty segments", jpegFile(t, greyPicture(9, 9), strings.Repeat(segment(0xe5, ""), 1_000_000))},
	} {
		t.Run(tt.name, func(t *testing.T) { survive(t, tt.file) })
	}
}

// scans is a JPEG whose one scan is written many times.
func scans(t *testing.T, n int) []byte {
	b := jpegFile(t, greyPicture(600, 400))
	sos := bytes.Index(b, []byte("\xff\xda"))
	return slices.Concat(b[:sos], bytes.Repeat(b[sos:len(b)-2], n), b[len(b)-2:])
}

// A file that overruns its deadline fails, and the next one is judged rightly. Where it
// is the renderer that does not come back this holds for files judged apart alone, and
// is tested there.
func TestHostileDeadline(t *testing.T) {
	j := checktest.NewJudge(t, rules.Order{}, checks.All()...)
	j.Ceilings.Deadline = time.Millisecond
	b := card(strings.Repeat("1 1 9 9 re f ", 100_000)).file()
	r := j.File(context.Background(), kept(t, "card.pdf", b))
	if verdicts(r, "file-opens") != "fail" || !strings.Contains(words(r), "within 1ms") {
		t.Errorf("want a word of the deadline:\n%s", words(r))
	}
	stillSound(t)
}

// tinyTile is a pattern whose tiles are a ten-thousandth of a point apart.
var tinyTile = stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 1 1] /XStep 0.0001 /YStep 0.0001 /Resources << >>", "0 0 1 1 re f")

// Two hundred small changes to a sound file of each kind: no panic, and always a
// report.
func TestHostileMutations(t *testing.T) {
	each := 200
	if testing.Short() {
		each = 20
	}
	whole := samples(t)
	whole["pdf"] = slices.Concat(lettered(inside(rules.Left, 1)+"q 96 0 0 96 20 20 cm /X Do Q", tone(40)).with("/XObject << /X 7 0 R >>").file())
	for kind, b := range whole {
		t.Run(kind, func(t *testing.T) {
			r := rand.New(rand.NewPCG(20, 26))
			for range each {
				b := mutated(r, b)
				judgeHostile(t, kept(t, "card"+ending(b), b))
			}
		})
	}
	stillSound(t)
}

// mutated is b with a few bytes changed, a stretch taken out or doubled, or a
// number made large.
func mutated(r *rand.Rand, b []byte) []byte {
	b = bytes.Clone(b)
	at := func() int { return r.IntN(len(b)) }
	for range 1 + r.IntN(6) {
		switch i := at(); r.IntN(5) {
		case 0:
			b[i] = byte(r.Uint32())
		case 1:
			b[i] ^= 1 << r.IntN(8)
		case 2:
			j := min(len(b), i+r.IntN(200))
			if j-i < len(b)-20 {
				b = slices.Delete(b, i, j)
			}
		case 3:
			b = slices.Insert(b, i, b[i:min(len(b), i+r.IntN(200))]...)
		case 4:
			if i+4 < len(b) {
				binary.LittleEndian.PutUint32(b[i:], r.Uint32()|1<<31)
			}
		}
	}
	return b
}
