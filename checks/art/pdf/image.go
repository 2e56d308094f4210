package pdf

import (
	"fmt"
	"strconv"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// MaskKind tells how an image masks or is masked (8.9.6, 11.6.5.3).
type MaskKind string

// Kinds of mask.
const (
	NoMask   MaskKind = ""
	Stencil  MaskKind = "stencil"    // the image is one bit deep and paints the fill colour
	Explicit MaskKind = "explicit"   // /Mask is another image
	SoftMask MaskKind = "soft"       // /SMask is another image
	ColorKey MaskKind = "colour key" // /Mask is a range of colours
)

// Image is one use of an image. An image used twice is listed twice; its soft or
// explicit mask is listed after it, with IsMask set.
type Image struct {
	Item
	Name   string // for people: "image 2", in paint order; masks "mask of image 2"
	Object int    // object number, 0 for an inline image

	W, H        int // pixels
	Bits        int // per component; 0 where only the image data can tell (JPEG 2000)
	Space       *Space
	Mask        MaskKind
	IsMask      bool // this is the mask of the image before it
	Inline      bool
	Interpolate bool
	Filters     []string  // as in the file: "FlateDecode", "DCTDecode" …
	Codec       string    // the filter that Raw leaves in place: "DCTDecode", "JPXDecode", "JBIG2Decode" or ""
	Decode      []float64 // the Decode array, nil for the default
	ColorKey    []float64 // the ranges of a colour key mask

	Matrix     Matrix  // unit square of the image → display space
	Quad       Quad    // its corners: bottom left, bottom right, top right, top left of the picture
	PPIX, PPIY float64 // pixels per inch as printed, along the image's own axes

	stream types.StreamDict
	most   int64
}

// Raw gives the image's data with all filters undone but Codec's: a JPEG file, a
// JPEG 2000 file, or samples row by row, each row padded to whole bytes.
func (i Image) Raw() ([]byte, error) {
	b, err := syntax.Decode(i.stream, i.most)
	if err != nil {
		return b, fmt.Errorf("%s cannot be decoded: %w", i.Name, err)
	}
	return b, nil
}

// Encoded is the number of bytes that the image takes in the file.
func (i Image) Encoded() int { return len(i.stream.Raw) }

// paintImage lists an image in the unit square of the present matrix, and its mask.
func (in *interp) paintImage(sd types.StreamDict, object int) {
	w := in.w
	order, ok := w.take()
	if !ok {
		return
	}
	it := in.item(order, in.gs.ctm.quad(Rect{0, 0, 1, 1}).Bounds())
	img := in.describe(sd, object)
	img.Item = it
	w.images++
	img.Name = "image " + strconv.Itoa(w.images)
	if img.W <= 0 || img.H <= 0 {
		w.note("%s has no size in pixels", img.Name)
	}
	in.maskOf(&img)
	w.out.Images = append(w.out.Images, img)
	if img.Mask == Stencil {
		w.useColour(img.Fill, it.FillAlpha, UseImage, it)
		in.fillWith(img.Fill, it)
		return
	}
	if it.FillAlpha > 0 {
		w.use(img.Space, UseImage, it)
	}
	in.listMask(img)
}

// describe reads an image dictionary (Table 89).
func (in *interp) describe(sd types.StreamDict, object int) Image {
	d, doc := sd.Dict, in.w.doc
	img := Image{
		Object: object, Inline: object == 0, stream: sd, most: doc.lim.DecodedBytes,
		W: doc.Integer(d["Width"], 0), H: doc.Integer(d["Height"], 0),
		Bits:        doc.Integer(d["BitsPerComponent"], 0),
		Interpolate: doc.Flag(d["Interpolate"], false),
		Decode:      doc.Numbers(d["Decode"], syntax.Few),
		Codec:       syntax.ImageCodec(sd.FilterPipeline),
		Matrix:      in.gs.ctm,
		Quad:        in.gs.ctm.quad(Rect{0, 0, 1, 1}),
	}
	for _, f := range sd.FilterPipeline[:min(len(sd.FilterPipeline), syntax.Few)] {
		img.Filters = append(img.Filters, f.Name)
	}
	sx, sy := in.gs.ctm.Scales()
	img.PPIX, img.PPIY = perInch(img.W, sx), perInch(img.H, sy)
	if doc.Flag(d["ImageMask"], false) {
		img.Mask, img.Bits = Stencil, 1
		return img
	}
	if cs, ok := d["ColorSpace"]; ok {
		img.Space = in.imageSpace(cs, object)
	} else if img.Codec != "JPXDecode" { // JPEG 2000 brings its own (8.9.5.1)
		in.w.note("an image has no colour space")
	}
	return img
}

// imageSpace resolves the colour space of an image once a scope.
func (in *interp) imageSpace(o types.Object, image int) *Space {
	if s, ok := in.sc.images[image]; ok && image != 0 {
		return s
	}
	s := in.w.spaceIn(in.sc, o, 0)
	in.sc.images[image] = s
	return s
}

// perInch is 0 for an image squashed to nothing.
func perInch(pixels int, points float64) float64 {
	const least = 1e-9
	if points < least {
		return 0
	}
	return float64(pixels) * 72 / points
}

// maskOf tells how the image is masked; SMask wins over Mask (Table 89).
func (in *interp) maskOf(img *Image) {
	if img.Mask == Stencil {
		return
	}
	doc, d := in.w.doc, img.stream.Dict
	if _, ok := doc.Get(d["SMask"]).(types.StreamDict); ok {
		img.Mask = SoftMask
		return
	}
	switch doc.Get(d["Mask"]).(type) {
	case types.StreamDict:
		img.Mask = Explicit
	case types.Array:
		img.Mask, img.ColorKey = ColorKey, doc.Numbers(d["Mask"], syntax.Few)
	}
}

// listMask lists the mask of an image as an image of its own in the same place.
// What it is painted in is no colour of the page.
func (in *interp) listMask(of Image) {
	key := map[MaskKind]string{SoftMask: "SMask", Explicit: "Mask"}[of.Mask]
	sd, ok := in.w.doc.Get(of.stream.Dict[key]).(types.StreamDict)
	if !ok {
		return
	}
	order, ok := in.w.take()
	if !ok {
		return
	}
	img := in.describe(sd, syntax.ObjectNumber(of.stream.Dict[key]))
	img.Item, img.IsMask, img.Name = in.item(order, of.Full), true, "mask of "+of.Name
	img.InMask = true
	in.w.out.Images = append(in.w.out.Images, img)
}
