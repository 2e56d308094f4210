package raster

// Orientations are numbered as TIFF 6.0 (p. 36) and Exif 2.3 (4.6.4 A, tag
// 274) do: which sides of the picture as seen the first stored row and the
// first stored column are.

// sideways reports whether an orientation swaps width and height.
func sideways(orientation int) bool { return orientation >= 5 && orientation <= 8 }

// orientation reads a stored number; anything but 2 to 8 leaves a picture as
// it is.
func orientation(stored uint64) int {
	if stored >= 2 && stored <= 8 {
		return int(stored)
	}
	return 1
}

// seen is the page's header with sizes and densities as seen.
func (p page) seen() Header {
	h := p.Header
	if sideways(h.Orientation) {
		h.Width, h.Height = h.Height, h.Width
		h.Density.X, h.Density.Y = h.Density.Y, h.Density.X
		h.Outranked.X, h.Outranked.Y = h.Outranked.Y, h.Outranked.X
	}
	return h
}

// route tells where the pixels of a picture as seen lie in the stored one of
// w × h: the one at (x, y) is number first + x·right + y·down.
func route(orientation, w, h int) (first, right, down int) {
	switch orientation {
	case 2: // mirrored left to right
		return w - 1, -1, w
	case 3: // half a turn
		return w*h - 1, -1, -w
	case 4: // mirrored top to bottom
		return w * (h - 1), 1, -w
	case 5: // rows and columns exchanged
		return 0, w, 1
	case 6: // a quarter turn clockwise makes it upright
		return w * (h - 1), -w, 1
	case 7: // exchanged over the other diagonal
		return w*h - 1, -w, -1
	case 8: // a quarter turn anticlockwise makes it upright
		return w - 1, w, -1
	}
	return 0, 1, w
}

// turn makes stored pixels those that are seen.
func (p *Pixels) turn(orientation int) {
	if orientation == 1 {
		return
	}
	first, right, down := route(orientation, p.Width, p.Height)
	if sideways(orientation) {
		p.Width, p.Height = p.Height, p.Width
	}
	p.Pix = rearrange(p.Pix, p.Width, first, right, down)
	if p.Ink != nil {
		p.Ink = rearrange(p.Ink, p.Width, first, right, down)
	}
}

// rearrange copies pixels of 4 bytes into rows of the given width.
func rearrange(src []byte, width, first, right, down int) []byte {
	dst := make([]byte, len(src))
	for i, from := 0, first; i < len(dst); from += down {
		for x, j := 0, from; x < width; x, j, i = x+1, j+right, i+4 {
			*(*[4]byte)(dst[i:]) = [4]byte(src[4*j:])
		}
	}
	return dst
}
