package art

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"stoneproof/checks/art/pdf"
)

// Unsound looks for damage that a header does not show: a raster's pixels are
// decoded to the last one, a page is drawn if it has to be drawn at all.
func (s *Side) Unsound(ctx context.Context) []*Fault {
	if s.Page == nil {
		if _, err := s.Paint(ctx); err != nil {
			return []*Fault{faultOf(s.art.Kind, err)}
		}
		return nil
	}
	if _, plain := s.PlainBrink(); s.Placed() && !plain {
		if _, err := s.Paint(ctx); err != nil {
			return []*Fault{undrawn(err)}
		}
	}
	return s.brokenPictures()
}

// undrawn tells why a page could not be drawn.
func undrawn(err error) *Fault {
	var f *Fault
	if errors.As(err, &f) {
		return f
	}
	return &Fault{What: "The page cannot be drawn: " + err.Error(), Do: ExportAgain}
}

// brokenPictures finds pictures of the page whose data are not whole: viewers
// leave such a picture out, or paint noise, and say nothing.
func (s *Side) brokenPictures() []*Fault {
	content, err := s.Content()
	if err != nil {
		return []*Fault{{What: "The page's content cannot be read: " + err.Error(), Do: ExportAgain}}
	}
	var faults []*Fault
	checked := map[int]bool{}
	for i := range content.Images {
		im := &content.Images[i]
		if im.Object != 0 && checked[im.Object] {
			continue
		}
		checked[im.Object] = true
		if why := broken(im); why != "" {
			faults = append(faults, &Fault{
				What: fmt.Sprintf("A picture on the page (%s, %d × %d px) is damaged: %s", im.Name, im.W, im.H, why),
				Do:   "Put the picture in again from its original, and export.",
			})
		}
	}
	return faults
}

// broken tells what is missing from a picture's data: samples are counted, a
// JPEG must end as one.
func broken(im *pdf.Image) string {
	raw, err := im.Raw()
	switch {
	case err != nil:
		return "its data cannot be unpacked"
	case im.Codec == "DCTDecode":
		return brokenJPEG(raw)
	case im.Codec != "" || im.Bits == 0:
		return "" // another codec's data: only drawing can tell
	}
	n := 1
	if im.Space != nil && im.Mask != pdf.Stencil {
		n = im.Space.N
	}
	if want := (im.W*n*im.Bits + 7) / 8 * im.H; len(raw) < want {
		return fmt.Sprintf("it has %d of %d bytes", len(raw), want)
	}
	return ""
}

// brokenJPEG looks at both ends of a JPEG: SOI first, EOI within the last bytes
// (some writers pad).
func brokenJPEG(b []byte) string {
	tail := b[max(0, len(b)-64):]
	switch {
	case !bytes.HasPrefix(b, []byte{0xff, 0xd8}):
		return "it does not begin as a JPEG"
	case !bytes.Contains(tail, []byte{0xff, 0xd9}):
		return "it is cut off"
	}
	return ""
}
