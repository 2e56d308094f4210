package render

import (
	"context"
	"errors"
	"testing"
	"time"
)

// Whatever the bytes and the window, the answer is a picture of the size asked for or one of
// the package's errors.
func FuzzRender(f *testing.F) {
	add := func(file []byte) { f.Add(file, -3.0, -3.0, 276.0, 168.0) }
	s := card("/half gs q 60 20 -20 60 190 85 cm BI /W 1 /H 1 /CS /G /BPC 8 ID \x00 EI Q /F gs BT /F 9 Tf (bread) Tj ET /fade sh")
	s.crop = "[9 9 261 153]"
	s.resources = "/ExtGState<</half<</ca .5/BM/Multiply>>>>/Font<</F<</Type/Font/Subtype/Type1/BaseFont/Courier>>>>" +
		"/Shading<</fade<</ShadingType 2/ColorSpace/DeviceRGB/Coords[0 0 9 0]/Function<</FunctionType 2/Domain[0 1]/N 1>>>>>>"
	add(pdf("", nil, s))
	add(pdf("", nil, card(quarters(0, 0, 270, 162)), card("")))
	add(pdf("/OCProperties<</OCGs[100 0 R]/D<</OFF[100 0 R]>>>>", []string{"<</Type/OCG/Name(off)>>"}, card("/OC/off BDC 0 0 9 9 re f EMC")))
	add(pdf("", []string{"<</Filter/FlateDecode/Length 4>>stream\nx\x9c\x03\x00\nendstream"}, sheet{media: "[0 0 1e9 0]", rotate: 17, content: "q q q"}))
	add([]byte("%PDF-1.7\n"))
	f.Fuzz(func(t *testing.T, file []byte, x, y, w, h float64) {
		ctx, cancel := context.WithTimeout(t.Context(), 2*time.Second)
		defer cancel()
		d, err := shared().Open(ctx, file)
		if err == nil {
			defer d.Close()
			v := View{Media: cardMedia, X: x, Y: y, W: w, H: h, PxW: 92, PxH: 56, Printing: true}
			img, drawErr := d.Render(ctx, 1, v)
			if drawErr == nil && len(img.Pix) != 4*92*56 {
				t.Fatalf("the picture is %v", img.Rect)
			}
			err = drawErr
		}
		for _, known := range []error{nil, ErrMemory, ErrTooBig, ErrUnreadable, ErrView, context.DeadlineExceeded} {
			if errors.Is(err, known) {
				return
			}
		}
		t.Fatalf("an error of no known kind: %v", err)
	})
}
