package plates

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"stoneproof/checks/checktest/outside"
	"stoneproof/checks/checktest/press"
)

// A made file is one that some program made, by its name and its maker's.
type made struct {
	name, producer string
	file           []byte
}

// TestCoverage compares the mean ink of each plate with what Ghostscript's ink_cov
// device finds, on pages by four producers. Pages that are only approximate do
// not count, nor do pages with spot colours, which ink_cov turns into process inks.
func TestCoverage(t *testing.T) {
	producers, pages := map[string]bool{}, 0
	worst := 0.0
	for _, m := range allMade(t) {
		doc := openDoc(t, m.file)
		for page := 1; page <= doc.PageCount; page++ {
			job, err := Separate(doc, page, Options{Limits: DefaultLimits()})
			if err != nil {
				t.Fatalf("%s: %v", m.name, err)
			}
			if len(job.Approximate) > 0 || len(job.Names) > 4 {
				t.Logf("%-40s page %d of %s left out: %q, plates %q", m.name, page, m.producer, job.Approximate, job.Names)
				continue
			}
			want := inkCov(t, m.file, page)
			off := coverageOff(t, job, m.file, page, want)
			t.Logf("%-40s page %d of %-12s off by %+.2f", m.name, page, m.producer, off)
			for _, x := range off {
				worst = max(worst, math.Abs(x))
			}
			producers[m.producer] = true
			pages++
		}
	}
	t.Logf("%d pages of %d producers, at most %.2f percentage points off", pages, len(producers), worst)
	if worst > 0.5 || pages < 20 || len(producers) < 4 {
		t.Errorf("%d pages of %d producers, %.2f points off", pages, len(producers), worst)
	}
}

func coverageOff(t *testing.T, job *Job, file []byte, number int, want [4]float64) [4]float64 {
	page, err := openDoc(t, file).Page(number)
	if err != nil {
		t.Fatal(err)
	}
	w := Window{W: page.Media.W(), H: page.Media.H()}
	w.PxW, w.PxH = int(math.Round(w.W*300/72)), int(math.Round(w.H*300/72))
	p := job.draw(t, w)
	var off [4]float64
	for i := range off {
		sum := 0
		for _, v := range p.Ink[i] {
			sum += int(v)
		}
		off[i] = float64(sum)/float64(len(p.Ink[i]))/2.55 - want[i]
	}
	return off
}

// inkCov runs Ghostscript's device, which prints the mean of each process ink in
// percent. It paints every pixel that a shape touches, so pixels have to be small.
func inkCov(t *testing.T, file []byte, page int) (ink [4]float64) {
	t.Helper()
	in := filepath.Join(t.TempDir(), "in.pdf")
	if err := os.WriteFile(in, file, 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(outside.Tool(t, "gs"), "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-r2400", "-sDEVICE=ink_cov",
		fmt.Sprintf("-dFirstPage=%d", page), fmt.Sprintf("-dLastPage=%d", page), "-sOutputFile=-", in)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	fields := strings.Fields(string(out))
	if len(fields) < 4 {
		t.Fatalf("ink_cov says %q", out)
	}
	for i := range ink {
		if ink[i], err = strconv.ParseFloat(fields[i], 64); err != nil {
			t.Fatal(err)
		}
	}
	return ink
}

func allMade(t *testing.T) []made {
	list := kept(t)
	for i, maker := range press.Makers() {
		style := []press.Style{press.Dark, press.Gradient, press.Striped, press.Patterned, press.Photographic, press.Portrait, press.Framed, press.Textured}[i%8]
		if i < 8 {
			list = append(list, made{maker + " " + string(style), "the tests' press", press.Card{Maker: maker, Style: style, Size: "us-business"}.PDF()})
		}
	}
	list = append(list, fromPostScript(t)...)
	list = append(list, fromTeX(t)...)
	return append(list, fromTIFF(t)...)
}

// kept are the files that the project ships.
func kept(t *testing.T) []made {
	var list []made
	for _, folder := range []string{"good", "sizes", "foreign"} {
		files, err := filepath.Glob(filepath.Join("../../../testdata", folder, "*.pdf"))
		if err != nil || len(files) == 0 {
			t.Fatalf("no files in %s: %v", folder, err)
		}
		for _, f := range files {
			b, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			producer := "the tests' press"
			if folder == "foreign" {
				producer = map[string]string{"herbalist.pdf": "Ghostscript", "kitemaker.pdf": "cairo", "scrivener.pdf": "pdfTeX"}[filepath.Base(f)]
			}
			list = append(list, made{filepath.Base(f), producer, b})
		}
	}
	return list
}

// run runs a program in a folder of its own and reads the file that it makes.
func run(t *testing.T, input, content, output string, program string, args ...string) []byte {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, input), []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(outside.Tool(t, program), args...)
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%s: %v\n%s", program, err, out)
	}
	b, err := os.ReadFile(filepath.Join(dir, output))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func fromPostScript(t *testing.T) []made {
	pages := []string{
		"0.8 0.3 0 0.1 setcmykcolor 0 0 135 162 rectfill 0 0 0 1 setcmykcolor /Helvetica findfont 30 scalefont setfont 20 60 moveto (Cooper) show",
		"20 { 0 0.05 0.4 0 setcmykcolor 10 setlinewidth 10 10 moveto 260 150 lineto stroke 8 0 translate } repeat 0.4 setgray 0 0 30 30 rectfill",
		"<< /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [0 0 270 0] /Function << /FunctionType 2 /Domain [0 1] /C0 [1 0 0 0] /C1 [0 1 0 .2] /N 1 >> >> shfill",
		cmykPicture(), "1 0 0 0 setcmykcolor 200 100 scale 96 64 true [96 0 0 64 0 0] { <" + strings.Repeat("ffffff00f0f00fffaaaa0000", 64) + "> } imagemask",
		"200 100 scale 96 64 1 [96 0 0 64 0 0] { <" + strings.Repeat("ffffff00f0f00fffaaaa0000", 64) + "> } image",
	}
	var list []made
	for i, p := range pages {
		ps := "%!PS\n<< /PageSize [270 162] >> setpagedevice\n" + p + "\nshowpage\n"
		list = append(list, made{fmt.Sprint("PostScript ", i+1), "Ghostscript", run(t, "in.ps", ps, "out.pdf", "gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite",
			"-dAutoFilterColorImages=false", "-dColorImageFilter=/DCTEncode", "-dMonoImageFilter=/CCITTFaxEncode", "-sOutputFile=out.pdf", "in.ps")})
	}
	return list
}

// cmykPicture is a page that Ghostscript writes as a CMYK JPEG.
func cmykPicture() string {
	return fmt.Sprintf("/DeviceCMYK setcolorspace 200 100 scale /data <%x> def << /ImageType 1 /Width 64 /Height 64 /BitsPerComponent 8 /ImageMatrix [64 0 0 64 0 0] /Decode [0 1 0 1 0 1 0 1] /DataSource data >> image", ramp(64, 64, 4))
}

func fromTeX(t *testing.T) []made {
	bodies := []string{
		`\pdfliteral page{.1 .9 .7 .1 k 0 0 270 80 re f 0 0 0 1 k}\hbox{The Wheelwright of Wendlebury Cross}`,
		`\pdfliteral page{0 .2 .4 0 k 0 0 270 162 re f 1 .6 0 .3 k}\hbox{Spokes, felloes and hubs}\vskip 9pt\hbox{\vrule height 30pt width 120pt}`,
		`\hbox{$\displaystyle\sum_{i=0}^\infty {1\over i!}=e$}\vskip 20pt\hbox{\pdfliteral{.5 0 .5 0 k 2 J 5 w 0 0 m 100 40 l S}}`,
	}
	var list []made
	for i, body := range bodies {
		tex := `\pdfoutput=1 \pdfpagewidth=270bp \pdfpageheight=162bp \pdfhorigin=20bp \pdfvorigin=20bp \hoffset=0pt \voffset=0pt \nopagenumbers \shipout\vbox{` + body + `}\end`
		list = append(list, made{fmt.Sprint("TeX ", i+1), "pdfTeX", run(t, "in.tex", tex, "in.pdf", "pdftex", "-interaction=batchmode", "in.tex")})
	}
	return list
}

func fromTIFF(t *testing.T) []made {
	var list []made
	for _, maker := range []string{"potter", "beekeeper"} {
		tif := string(press.Card{Maker: maker, Style: press.Photographic, Size: "us-business"}.TIFF(300, press.In(press.CMYK), press.NoProfile()))
		list = append(list, made{maker + " picture", "tiff2pdf", run(t, "in.tif", tif, "out.pdf", "tiff2pdf", "-o", "out.pdf", "in.tif")})
	}
	return list
}
