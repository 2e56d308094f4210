package render

import (
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"stoneproof/checks/checktest/outside"
)

// What two other renderers make of a page, at the card's usual 300 ppi.
var foreign = map[string][]string{
	"pdftoppm": {"-r", "300", "-png", "-singlefile", "in.pdf", "out"},
	"gs": {
		"-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=png16m", "-r300",
		"-dGraphicsAlphaBits=4", "-dTextAlphaBits=4", "-sOutputFile=out.png", "in.pdf",
	},
}

// Our picture of shapes, strokes, shadings, transparency and an image agrees
// with theirs: on the whole, and nearly everywhere.
func TestAgreesWithOtherRenderers(t *testing.T) {
	s := card(quarters(20, 20, 120, 80) + `
		q 1 0 0 1 150 20 cm 0 0 100 50 re W n /fade sh Q
		/half gs 0 0 0 rg 60 60 m 230 90 l 120 150 l f
		0.2 0.5 0.3 RG 3 w 10 10 m 80 150 160 0 260 150 c S
		q 60 20 -20 60 190 85 cm BI /W 2 /H 2 /CS /RGB /BPC 8 ID ` + "\xff\x00\x00\x00\xff\x00\x00\x00\xff\xff\xff\x00" + ` EI Q`)
	s.resources = "/ExtGState<</half<</ca .5>>>>" +
		"/Shading<</fade<</ShadingType 2/ColorSpace/DeviceRGB/Coords[0 0 100 0]" +
		"/Function<</FunctionType 2/Domain[0 1]/C0[1 .5 0]/C1[0 .5 1]/N 1>>>>>>"
	file := pdf("", nil, s)
	ours := onWhite(renderOne(t, file, View{Media: cardMedia, W: 270, H: 162, PxW: 1125, PxH: 675}))
	for name, args := range foreign {
		t.Run(name, func(t *testing.T) {
			mean, far := difference(t, ours, run(t, name, args, file))
			t.Logf("mean difference %.3f levels, %.2f %% of the pixels far off", mean, far)
			if mean > 1.5 || far > 1.5 {
				t.Errorf("mean difference %.3f levels, %.2f %% of the pixels far off", mean, far)
			}
		})
	}
}

// run lets another program draw the file.
func run(t *testing.T, name string, args []string, file []byte) image.Image {
	t.Helper()
	cmd := exec.Command(outside.Tool(t, name), args...)
	cmd.Dir = t.TempDir()
	if err := os.WriteFile(filepath.Join(cmd.Dir, "in.pdf"), file, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	f, err := os.Open(filepath.Join(cmd.Dir, "out.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func onWhite(img *image.NRGBA) *image.NRGBA {
	out := image.NewNRGBA(img.Rect)
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, img, image.Point{}, draw.Over)
	return out
}

// difference is the mean difference of a component, in levels of 255, and the
// share of pixels, in percent, with a component more than 48 levels off.
func difference(t *testing.T, a *image.NRGBA, b image.Image) (mean, far float64) {
	t.Helper()
	if a.Rect.Size() != b.Bounds().Size() {
		t.Fatalf("ours is %v, theirs %v", a.Rect, b.Bounds())
	}
	theirs := image.NewNRGBA(a.Rect)
	draw.Draw(theirs, theirs.Rect, b, b.Bounds().Min, draw.Src)
	pixels := float64(len(a.Pix) / 4)
	for i := 0; i < len(a.Pix); i += 4 {
		worst := 0.0
		for k := range 3 {
			d := math.Abs(float64(a.Pix[i+k]) - float64(theirs.Pix[i+k]))
			mean += d / 3 / pixels
			worst = max(worst, d)
		}
		if worst > 48 {
			far += 100 / pixels
		}
	}
	return mean, far
}
