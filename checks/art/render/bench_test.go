package render

import "testing"

// photo is a card with an image of 1125 × 675 pixels under lines and type.
func photo() []byte {
	s := card("q 270 0 0 162 0 0 cm /photo Do Q 1 w 10 10 m 80 150 160 0 260 150 c S BT /F 12 Tf 20 60 Td (Wendlebury Cross) Tj ET")
	s.resources = "/XObject<</photo 100 0 R>>/Font<</F<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>"
	samples := make([]byte, 1125*675*3)
	for i := range samples {
		samples[i] = byte(i * i >> 9)
	}
	image := "<</Type/XObject/Subtype/Image/Width 1125/Height 675/ColorSpace/DeviceRGB/BitsPerComponent 8/Length 2278125>>stream\n"
	return pdf("", []string{image + string(samples) + "\nendstream"}, s)
}

func BenchmarkRenderCard(b *testing.B) {
	d := open(b, photo())
	v := View{Media: cardMedia, W: 270, H: 162, PxW: 1125, PxH: 675}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := d.Render(b.Context(), 1, v); err != nil {
			b.Fatal(err)
		}
	}
}

// Opening takes an instance of the renderer, and gives it back.
func BenchmarkOpen(b *testing.B) {
	file := photo()
	open(b, file).Close()
	for b.Loop() {
		d, err := shared().Open(b.Context(), file)
		if err != nil {
			b.Fatal(err)
		}
		d.Close()
	}
}

// A start with the code in the cache, up to the first document.
func BenchmarkStart(b *testing.B) {
	file := pdf("", nil, card(""))
	open(b, file)
	for b.Loop() {
		e := Start(Options{})
		d, err := e.Open(b.Context(), file)
		if err != nil {
			b.Fatal(err)
		}
		d.Close()
		e.Close()
	}
}
