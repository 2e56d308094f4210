package plates

import (
	"fmt"
	"image/jpeg"
	"strings"
	"testing"

	"stoneproof/checks/checktest/press"
)

// photoCard is a card that is one CMYK JPEG.
func photoCard(b *testing.B) []byte {
	w := &writer{}
	j := cmykJPEG()
	c, err := jpeg.DecodeConfig(strings.NewReader(j))
	if err != nil {
		b.Fatal(err)
	}
	x := w.stream(fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace/DeviceCMYK/Filter/DCTDecode/Decode[1 0 1 0 1 0 1 0]", c.Width, c.Height), j)
	return w.card(card{resources: "/XObject<</X " + x + ">>", content: "q 270 0 0 162 0 0 cm /X Do Q"})
}

func BenchmarkSeparate(b *testing.B) {
	for name, file := range benchFiles(b) {
		b.Run(name, func(b *testing.B) {
			doc := openDoc(b, file)
			for b.Loop() {
				if _, err := Separate(doc, 1, Options{Limits: DefaultLimits()}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkRender(b *testing.B) {
	for name, file := range benchFiles(b) {
		b.Run(name, func(b *testing.B) {
			job := separate(b, file)
			for b.Loop() {
				job.draw(b, cardWindow)
			}
		})
	}
}

func benchFiles(b *testing.B) map[string][]byte {
	return map[string][]byte{
		"photo":  photoCard(b),
		"vector": press.Card{Maker: "potter", Style: press.Patterned, Size: "us-business"}.PDF(),
	}
}
