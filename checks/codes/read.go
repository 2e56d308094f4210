package codes

import (
	"image"
	"math"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/common"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/detector"
)

// message is what a symbol says.
type message struct {
	printed  bool // it reads as printed
	mirrored bool
	text     string
	level    string
	modules  int // on a side
}

// read reads the printed picture of a symbol as a telephone would: by two ways of
// telling dark from light, and at last by the symbol's known grid. The library misses
// one sound symbol in some fifty by how it is turned; that is not the symbol's fault.
func (p *Plane) read(f *frame) (message, bool) {
	seen := *p
	if !f.dark {
		seen = p.inverted()
	}
	for _, binarizer := range []func(gozxing.LuminanceSource) gozxing.Binarizer{gozxing.NewHybridBinarizer, gozxing.NewGlobalHistgramBinarizer} {
		if m, ok := seen.detect(binarizer, f); ok {
			m.printed = true
			return m, true
		}
	}
	m, ok := p.text(f)
	m.printed = ok
	return m, ok
}

// detect has the library find and read the symbol in the picture. It is made for
// camera pictures and has its own idea of where the symbol lies; another one that
// reaches into the picture is not taken for it.
func (p *Plane) detect(binarizer func(gozxing.LuminanceSource) gozxing.Binarizer, f *frame) (m message, ok bool) {
	defer recovered(&m, &ok)
	grey := &image.Gray{Pix: p.Pix, Stride: p.W, Rect: image.Rect(0, 0, p.W, p.H)}
	bits, err := binarizer(gozxing.NewLuminanceSourceFromImage(grey)).GetBlackMatrix()
	if err != nil {
		return message{}, false
	}
	found, err := detector.NewDetector(bits).Detect(map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil || !p.same(found.GetPoints(), f) {
		return message{}, false
	}
	return decode(found.GetBits())
}

// same reports whether three finder patterns that the library found, in dots, are
// those of the frame: their mean lies as near as three modules.
func (p *Plane) same(points []gozxing.ResultPoint, f *frame) bool {
	if len(points) < 3 {
		return false
	}
	var x, y float64
	for _, q := range points[:3] {
		x += q.GetX() * p.PxW / 3
		y += q.GetY() * p.PxH / 3
	}
	third := float64(f.modules-7)/3 + 3.5
	own := f.at(third, third)
	return math.Hypot(x-own.X, y-own.Y) < 3*f.module
}

// text reads a symbol whose grid is known. Dark and light are parted half way
// between those of the nearest finder patterns.
func (p *Plane) text(f *frame) (m message, ok bool) {
	defer recovered(&m, &ok)
	bits, err := gozxing.NewBitMatrix(f.modules, f.modules)
	if err != nil {
		return message{}, false
	}
	half := p.halfway(f)
	for j := range f.modules {
		for i := range f.modules {
			if (p.module(f, i, j) < half(i, j)) == f.dark {
				bits.Set(i, j)
			}
		}
	}
	return decode(bits)
}

// module is the light of a module: the mean about its middle.
func (p *Plane) module(f *frame, i, j int) float64 {
	const off = 0.2
	sum := 0.0
	for _, d := range [5]Point{{0, 0}, {off, off}, {off, -off}, {-off, off}, {-off, -off}} {
		sum += p.light(f.at(float64(i)+0.5+d.X, float64(j)+0.5+d.Y))
	}
	return sum / 5
}

// halfway tells the light between dark and light at a module: a plane through those
// of the three finder patterns, for a ground may grow darker across the symbol.
func (p *Plane) halfway(f *frame) func(i, j int) float64 {
	n := float64(f.modules)
	at := func(x, y float64) float64 {
		ring := 0.0
		for _, d := range [4]Point{{2, 0}, {-2, 0}, {0, 2}, {0, -2}} {
			ring += p.light(f.at(x+d.X, y+d.Y)) / 4
		}
		return (p.light(f.at(x, y)) + ring) / 2
	}
	corner, right, below := at(3.5, 3.5), at(n-3.5, 3.5), at(3.5, n-3.5)
	return func(i, j int) float64 {
		x, y := (float64(i)-3)/(n-7), (float64(j)-3)/(n-7)
		return corner + x*(right-corner) + y*(below-corner)
	}
}

func decode(bits *gozxing.BitMatrix) (message, bool) {
	if n := bits.GetWidth(); n < fewest || n > most || n%step != 1 {
		return message{}, false
	}
	r, err := decoder.NewDecoder().Decode(bits, nil)
	if err != nil {
		return message{}, false
	}
	return told(r, bits.GetWidth()), true
}

func told(r *common.DecoderResult, modules int) message {
	m := message{text: r.GetText(), level: r.GetECLevel(), modules: modules}
	if meta, ok := r.GetOther().(*decoder.QRCodeDecoderMetaData); ok {
		m.mirrored = meta.IsMirrored()
	}
	return m
}

// recovered makes a panic of the library a symbol that does not read.
func recovered(m *message, ok *bool) {
	if recover() != nil {
		*m, *ok = message{}, false
	}
}
