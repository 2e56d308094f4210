package render

import (
	"fmt"
	"image"
	"math"

	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/structs"
)

// A page is a loaded page whose visible area is its whole MediaBox.
type page struct {
	number int // from 1; 0 when none is loaded
	media  [4]float64
	ref    references.FPDF_PAGE
	w, h   float64 // as displayed
}

func (p *page) request() requests.Page { return requests.Page{ByReference: &p.ref} }

// draw makes the picture.
func (d *Doc) draw(number int, v View, c canvas) error {
	if err := d.load(number, v.Media); err != nil {
		return err
	}
	if reach := v.reach(d.page.w, d.page.h); reach > mostReach {
		return fmt.Errorf("%w: the page reaches %.0f pixels from the window's corner, more than %d", ErrTooBig, reach, mostReach)
	}
	clip := v.inside(d.page.w, d.page.h)
	if clip.Empty() {
		c.leaveBare()
		return nil
	}
	bitmap, err := d.blank(v.PxW, v.PxH, c)
	if err != nil {
		return err
	}
	if err := d.paint(bitmap, v, clip); err != nil {
		return err // the instance goes, and the bitmap with it
	}
	if err := d.pixels(bitmap, v.PxW, v.PxH, c); err != nil {
		return err
	}
	if _, err := d.instance.FPDFBitmap_Destroy(&requests.FPDFBitmap_Destroy{Bitmap: bitmap}); err != nil {
		return fmt.Errorf("%w: %w", ErrUnreadable, err)
	}
	return nil
}

// load loads a page, unless it is the one loaded last.
func (d *Doc) load(number int, media [4]float64) error {
	if d.page.number == number && d.page.media == media {
		return nil
	}
	count, err := d.instance.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: d.document})
	if err != nil {
		return fmt.Errorf("%w: %w", ErrUnreadable, err)
	}
	if number < 1 || number > count.PageCount {
		return fmt.Errorf("%w: page %d of %d", ErrView, number, count.PageCount)
	}
	if err := d.loadWhole(number, media); err != nil {
		return fmt.Errorf("page %d %w: %w", number, ErrUnreadable, err)
	}
	return nil
}

// loadWhole loads a page with its MediaBox for visible area. The renderer takes
// the area from the boxes at loading, and cuts shadings to it; so a page whose
// CropBox says otherwise has its boxes set and is loaded again.
func (d *Doc) loadWhole(number int, media [4]float64) error {
	if err := d.loadOnce(number, media); err != nil || d.isWhole(media) {
		return err
	}
	box := requests.FPDFPage_SetMediaBox{
		Page: d.page.request(),
		Left: float32(media[0]), Bottom: float32(media[1]), Right: float32(media[2]), Top: float32(media[3]),
	}
	if _, err := d.instance.FPDFPage_SetMediaBox(&box); err != nil {
		return err
	}
	crop := requests.FPDFPage_SetCropBox(box)
	if _, err := d.instance.FPDFPage_SetCropBox(&crop); err != nil {
		return err
	}
	return d.loadOnce(number, media)
}

func (d *Doc) loadOnce(number int, media [4]float64) error {
	if d.page.number != 0 {
		if _, err := d.instance.FPDF_ClosePage(&requests.FPDF_ClosePage{Page: d.page.ref}); err != nil {
			return err
		}
		d.page = page{}
	}
	loaded, err := d.instance.FPDF_LoadPage(&requests.FPDF_LoadPage{Document: d.document, Index: number - 1})
	if err != nil {
		return err
	}
	p := page{number: number, media: media, ref: loaded.Page}
	w, err := d.instance.FPDF_GetPageWidthF(&requests.FPDF_GetPageWidthF{Page: p.request()})
	if err != nil {
		return err
	}
	h, err := d.instance.FPDF_GetPageHeightF(&requests.FPDF_GetPageHeightF{Page: p.request()})
	if err != nil {
		return err
	}
	p.w, p.h = float64(w.PageWidth), float64(h.PageHeight)
	d.page = p
	return nil
}

// isWhole tells whether the loaded page's visible area is its MediaBox.
func (d *Doc) isWhole(media [4]float64) bool {
	box, err := d.instance.FPDF_GetPageBoundingBox(&requests.FPDF_GetPageBoundingBox{Page: d.page.request()})
	if err != nil {
		return false
	}
	r := box.Rect
	for i, edge := range []float32{r.Left, r.Bottom, r.Right, r.Top} {
		if math.Abs(float64(edge)-media[i]) > 1e-3 {
			return false
		}
	}
	return true
}

// blank makes a bitmap with nothing but the canvas's ground.
func (d *Doc) blank(w, h int, c canvas) (references.FPDF_BITMAP, error) {
	made, err := d.instance.FPDFBitmap_CreateEx(&requests.FPDFBitmap_CreateEx{
		Width: w, Height: h, Format: c.format, Pointer: uint64(0),
	})
	if err != nil {
		return "", fmt.Errorf("%w: %w", ErrUnreadable, err)
	}
	_, err = d.instance.FPDFBitmap_FillRect(&requests.FPDFBitmap_FillRect{Bitmap: made.Bitmap, Width: w, Height: h, Color: c.ground})
	if err != nil {
		return "", fmt.Errorf("%w: %w", ErrMemory, err)
	}
	return made.Bitmap, nil
}

// paint draws the loaded page into the bitmap, within clip.
func (d *Doc) paint(bitmap references.FPDF_BITMAP, v View, clip image.Rectangle) error {
	sx, sy := v.scale()
	var flags enums.FPDF_RENDER_FLAG
	if v.Printing {
		flags = enums.FPDF_RENDER_FLAG_PRINTING | enums.FPDF_RENDER_FLAG_ANNOT
	}
	_, err := d.instance.FPDF_RenderPageBitmapWithMatrix(&requests.FPDF_RenderPageBitmapWithMatrix{
		Bitmap: bitmap,
		Page:   d.page.request(),
		Matrix: structs.FPDF_FS_MATRIX{
			A: float32(sx), D: float32(sy), // on the page as displayed, y down
			E: float32(-v.X * sx), F: float32(-v.Y * sy),
		},
		Clipping: structs.FPDF_FS_RECTF{
			Left: float32(clip.Min.X), Top: float32(clip.Min.Y),
			Right: float32(clip.Max.X), Bottom: float32(clip.Max.Y),
		},
		Flags: flags,
	})
	if err != nil {
		return fmt.Errorf("page %d %w: %w", d.page.number, ErrUnreadable, err)
	}
	return nil
}

// pixels copies the bitmap out of the sandbox. What the renderer returns is a
// view of its memory, valid until the next call; its rows may be padded.
func (d *Doc) pixels(bitmap references.FPDF_BITMAP, w, h int, c canvas) error {
	stride, err := d.instance.FPDFBitmap_GetStride(&requests.FPDFBitmap_GetStride{Bitmap: bitmap})
	if err != nil {
		return fmt.Errorf("%w: %w", ErrUnreadable, err)
	}
	got, err := d.instance.FPDFBitmap_GetBuffer(&requests.FPDFBitmap_GetBuffer{Bitmap: bitmap})
	if err != nil {
		return fmt.Errorf("%w: %w", ErrUnreadable, err)
	}
	// A bitmap that found no room is no error to the renderer, and empty.
	row := c.pixel * w
	if stride.Stride < row || len(got.Buffer) != stride.Stride*h {
		return ErrMemory
	}
	for y := range h {
		c.take(c.pix[y*row:(y+1)*row], got.Buffer[y*stride.Stride:])
	}
	return nil
}
