package syntax

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"

	"github.com/pdfcpu/pdfcpu/pkg/filter"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// Why a stream cannot be decoded whole.
var (
	ErrNoStream = errors.New("it is not a stream")
	ErrBigger   = errors.New("it decodes to more than is read")
)

// StreamBytes decodes a stream, up to most bytes. What could be decoded before a
// fault comes along with the error: a reader shows that much, too.
func (d *Objects) StreamBytes(o types.Object, most int64) ([]byte, error) {
	sd, ok := d.Get(o).(types.StreamDict)
	if !ok {
		return nil, ErrNoStream
	}
	return Decode(sd, most)
}

// Decode undoes a stream's filters but stops before one that holds a whole image
// (JPEG, JPEG 2000, JBIG2). It never panics.
func Decode(sd types.StreamDict, most int64) (b []byte, err error) {
	defer func() {
		if r := recover(); r != nil {
			b, err = nil, fmt.Errorf("its filter fails: %v", r)
		}
	}()
	if most <= 0 || int64(len(sd.Raw)) > most {
		return nil, ErrBigger
	}
	fp := sd.FilterPipeline
	if len(fp) == 1 && fp[0].Name == filter.Flate && fp[0].DecodeParms == nil {
		return inflate(sd.Raw, most)
	}
	if err := sd.DecodeWithLimit(most); err != nil {
		if errors.Is(err, filter.ErrDecodeLimitExceeded) {
			err = ErrBigger
		}
		return nil, err
	}
	return sd.Content, nil
}

// inflate is the common case, kept apart because it can give what comes before a
// fault. A wrong checksum at the end is no fault to a reader.
func inflate(raw []byte, most int64) ([]byte, error) {
	z, err := zlib.NewReader(bytes.NewReader(raw))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	n, err := io.Copy(&out, io.LimitReader(z, most+1))
	switch {
	case n > most:
		return nil, ErrBigger
	case errors.Is(err, zlib.ErrChecksum):
		err = nil
	}
	return out.Bytes(), err
}

// ImageCodec names the filter that [Decode] leaves in place, "" for none.
func ImageCodec(fp []types.PDFFilter) string {
	if len(fp) == 0 {
		return ""
	}
	switch n := fp[len(fp)-1].Name; n {
	case filter.DCT, filter.JPX, filter.JBIG2:
		return n
	}
	return ""
}
