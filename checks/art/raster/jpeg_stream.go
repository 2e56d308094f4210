package raster

// JPEGStream is a JPEG file as it is stored, for formats that hold JPEG whole.
type JPEGStream struct {
	Bytes         []byte
	Width, Height int  // before Orientation
	Channels      int  // 1 gray, 3 RGB, 4 CMYK, stored inverted
	Transformed   bool // the channels are YCbCr, or YCCK
}

// JPEG gives the file's own bytes, if it is a JPEG.
func (f *File) JPEG() (s JPEGStream, ok bool) {
	if len(f.pages) == 0 || f.pages[0].jpeg == nil {
		return JPEGStream{}, false
	}
	return *f.pages[0].jpeg, true
}

func (c jpegCoding) stream(b []byte, f jpegFrame) *JPEGStream {
	return &JPEGStream{
		Bytes: b, Width: f.width, Height: f.height, Channels: len(f.ids),
		Transformed: c == codedYCbCr || c == codedYCCK,
	}
}
