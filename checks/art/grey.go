package art

import (
	"context"
	"fmt"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
)

// Grey is the lightness of a picture's own pixels, as many as it has and as they are
// stored, whatever the size and the turn at which it prints. A raster side is turned as
// its orientation tells, like all that is known of it.
type Grey struct {
	Pix  []byte // W × H, from black to white, rows from the top; only to be read
	W, H int
	JPEG []byte // the JPEG file that the pixels come from; nil for data of another kind
}

// greys are the pictures of a page that were looked at, and how many pixels they have.
type greys struct {
	made   map[greyKey]grey
	pixels int
}

// greyKey tells pictures apart: by object number, or inline by themselves.
type greyKey struct {
	object int
	inline *pdf.Image
}

type grey struct {
	plane *Grey
	err   error
}

// Grey is the picture that a raster side is. It shares pixels with Paint.
func (s *Side) Grey(ctx context.Context) (*Grey, error) {
	paint, err := s.Paint(ctx)
	if err != nil {
		return nil, err
	}
	g := &Grey{Pix: paint.Luma(), W: paint.W, H: paint.H}
	if file, ok := s.art.Raster.JPEG(); ok {
		g.JPEG = file.Bytes
	}
	return g, nil
}

// GreyOf is a picture of the page, one of its Content's Images. It is made once, and
// once for all uses of an image.
func (s *Side) GreyOf(im *pdf.Image) (*Grey, error) {
	key := greyKey{object: im.Object}
	if im.Object == 0 {
		key.inline = im
	}
	had, ok := s.greys.made[key]
	if !ok {
		had.plane, had.err = s.makeGrey(im)
		if s.greys.made == nil {
			s.greys.made = map[greyKey]grey{}
		}
		s.greys.made[key] = had
		if had.err == nil {
			s.greys.pixels += len(had.plane.Pix)
		}
	}
	return had.plane, had.err
}

// makeGrey decodes a picture if the page's pictures together stay under the ceiling.
func (s *Side) makeGrey(im *pdf.Image) (*Grey, error) {
	left := s.art.ceilings.GreyPixels - s.greys.pixels
	if im.W <= 0 || im.H <= 0 || im.W > left/im.H {
		return nil, fmt.Errorf("%s has %d × %d px: the page's pictures have more than the %d million that are looked at",
			im.Name, im.W, im.H, s.art.ceilings.GreyPixels/1e6)
	}
	if im.Codec == "DCTDecode" {
		limits := s.art.ceilings.Raster
		limits.Pixels = int64(left)
		return greyJPEG(im, limits)
	}
	pix, err := greySamples(im)
	if err != nil {
		return nil, err
	}
	return &Grey{Pix: pix, W: im.W, H: im.H}, nil
}

func greyJPEG(im *pdf.Image, limits raster.Limits) (*Grey, error) {
	b, err := im.Raw()
	if err != nil {
		return nil, err
	}
	// Whoever puts a JPEG file of inverted ink into a page turns it by a Decode array.
	plain := !(len(im.Decode) > 1 && im.Decode[0] > im.Decode[1])
	l, err := raster.JPEGLuma(b, plain, limits)
	if err != nil {
		return nil, err
	}
	return &Grey{Pix: l.Pix, W: l.Width, H: l.Height, JPEG: b}, nil
}
