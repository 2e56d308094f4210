package raster

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/bits"
)

// JPEG markers (ITU-T T.81, Table B.1).
const (
	markerSOF0 = 0xc0 // start of frame, baseline; SOF1 to SOF15 follow, but for the three below
	markerDHT  = 0xc4
	markerJPG  = 0xc8
	markerDAC  = 0xcc
	markerRST0 = 0xd0
	markerRST7 = 0xd7
	markerSOI  = 0xd8
	markerEOI  = 0xd9
	markerSOS  = 0xda
	markerDQT  = 0xdb
	markerDNL  = 0xdc
	markerDRI  = 0xdd
	markerAPP0 = 0xe0
	markerAPPF = 0xef
	markerLS   = 0xf7 // start of frame of JPEG-LS (ITU-T T.87)
	markerTEM  = 0x01
)

// jpegFrame is a frame header (T.81, B.2.2).
type jpegFrame struct {
	process       byte // its marker
	precision     int
	width, height int
	ids           []byte
	sampling      []byte // horizontal in the high half, vertical in the low
	quants        []byte // numbers of quantisation tables
}

// jpegData is one JPEG data stream, walked from marker to marker.
type jpegData struct {
	frame  jpegFrame
	tables []byte   // the segments that a decoder needs before the first scan, one after the other
	quant  [][]byte // contents of the segments of quantisation tables before the first scan
	app    []jpegSegment
	scans  int
	body   []byte // from the first scan on, to the end marker and with it
}

// jpegSegment is an application segment's marker and contents.
type jpegSegment struct {
	marker byte
	data   []byte
}

// kind names the application segments that are read, by the name that their
// contents begin with. Others are not kept: a file may have millions.
func (s jpegSegment) kind() string {
	for _, k := range []struct {
		marker byte
		name   string
		least  int // bytes, name included
	}{
		{markerAPP0, "JFIF\x00", 12},
		{markerAPP0 + 1, "Exif\x00", 7},
		{markerAPP0 + 2, "ICC_PROFILE\x00", 14},
		{markerAPP0 + 14, "Adobe", 12},
	} {
		if s.marker == k.marker && len(s.data) >= k.least && string(s.data[:len(k.name)]) == k.name {
			return k.name
		}
	}
	return ""
}

// jpegWalker is the state of a walk through a stream.
type jpegWalker struct {
	b       []byte
	at      int
	covered uint // a bit for each component whose coarse picture some scan brings
	jpegData
}

// walkJPEG reads a stream from SOI to EOI; what follows is no part of it. The
// walk is what shows a file that is cut off: entropy-coded data may end
// anywhere, but the end marker is then missing.
func walkJPEG(b []byte) (jpegData, error) {
	w := jpegWalker{b: b, at: 2}
	body := 0
	for {
		start, marker, ok := w.marker()
		if !ok {
			return w.jpegData, w.cutOff()
		}
		if marker == markerEOI {
			w.body = b[body:w.at]
			return w.jpegData, w.complete(body)
		}
		if marker == markerTEM || marker == markerSOI || marker >= markerRST0 && marker <= markerRST7 {
			continue // these stand alone
		}
		data, ok := w.segment()
		if !ok {
			return w.jpegData, w.cutOff()
		}
		if marker == markerSOS && body == 0 {
			body = start
		}
		if err := w.take(marker, b[start:w.at], data); err != nil {
			return w.jpegData, err
		}
	}
}

// marker finds the next marker, and where it begins. Fill bytes, stuffed
// bytes and, as common decoders do, stray bytes are passed over.
func (w *jpegWalker) marker() (start int, marker byte, ok bool) {
	for {
		skip := bytes.IndexByte(w.b[w.at:], 0xff)
		if skip < 0 {
			return 0, 0, false
		}
		w.at += skip
		start = w.at
		for w.at < len(w.b) && w.b[w.at] == 0xff {
			w.at++
		}
		if w.at == len(w.b) {
			return 0, 0, false
		}
		w.at++
		if m := w.b[w.at-1]; m != 0 {
			return start, m, true
		}
	}
}

// segment takes the contents of the segment whose marker was just read.
func (w *jpegWalker) segment() ([]byte, bool) {
	rest := w.b[w.at:]
	if len(rest) < 2 {
		return nil, false
	}
	n := int(binary.BigEndian.Uint16(rest))
	if n > len(rest) {
		return nil, false
	}
	w.at += max(n, 2)
	return rest[2:max(n, 2)], true
}

// take files a segment; whole is the segment with its marker.
func (w *jpegWalker) take(marker byte, whole, data []byte) error {
	switch {
	case marker >= markerAPP0 && marker <= markerAPPF:
		if s := (jpegSegment{marker, data}); s.kind() != "" {
			w.app = append(w.app, s)
		}
	case marker == markerDHT || marker == markerDQT || marker == markerDRI:
		w.keep(whole)
		if marker == markerDQT && w.scans == 0 {
			w.quant = append(w.quant, data)
		}
	case isFrame(marker):
		w.keep(whole)
		return w.readFrame(marker, data)
	case marker == markerSOS:
		w.scans++
		return w.readScan(data)
	case marker == markerDNL:
		return fmt.Errorf("%w: this JPEG states its height at its end (DNL): export it again", ErrUnsupported)
	}
	return nil
}

// keep files a segment that the decoder needs; those between scans stay in
// the body.
func (w *jpegWalker) keep(whole []byte) {
	if w.scans == 0 {
		w.tables = append(w.tables, whole...)
	}
}

func isFrame(marker byte) bool {
	switch marker {
	case markerDHT, markerJPG, markerDAC:
		return false
	case markerLS:
		return true
	}
	return marker >= markerSOF0 && marker <= 0xcf
}

func (w *jpegWalker) readFrame(marker byte, data []byte) error {
	if w.frame.process != 0 {
		return fmt.Errorf("%w: the JPEG has two frame headers", ErrDamaged)
	}
	if len(data) < 6 || len(data) < 6+3*int(data[5]) {
		return fmt.Errorf("%w: the JPEG frame header is too short", ErrDamaged)
	}
	f := jpegFrame{
		process: marker, precision: int(data[0]),
		height: int(binary.BigEndian.Uint16(data[1:])),
		width:  int(binary.BigEndian.Uint16(data[3:])),
	}
	for i := range int(data[5]) {
		f.ids = append(f.ids, data[6+3*i])
		f.sampling = append(f.sampling, data[7+3*i])
		f.quants = append(f.quants, data[8+3*i])
	}
	w.frame = f
	return nil
}

// readScan notes which components a scan (T.81, B.2.3) brings. In progressive
// mode the first scan of the DC coefficient counts, without which a component
// would come out as flat grey.
func (w *jpegWalker) readScan(data []byte) error {
	if len(data) < 1 || len(data) < 4+2*int(data[0]) {
		return fmt.Errorf("%w: a JPEG scan header is too short", ErrDamaged)
	}
	n := int(data[0])
	if from := data[1+2*n]; from != 0 {
		return nil
	}
	for i := range n {
		if c := bytes.IndexByte(w.frame.ids, data[1+2*i]); c >= 0 {
			w.covered |= 1 << c
		}
	}
	return nil
}

// complete checks a stream that has reached its end marker.
func (w *jpegWalker) complete(body int) error {
	switch n := len(w.frame.ids); {
	case w.frame.process == 0:
		return fmt.Errorf("%w: the JPEG has no frame header", ErrDamaged)
	case body == 0:
		return fmt.Errorf("%w: the JPEG holds no picture data", ErrDamaged)
	case bits.OnesCount(w.covered) < n:
		return fmt.Errorf("%w: the JPEG lacks the data of %d of its %d colour channels", ErrDamaged, n-bits.OnesCount(w.covered), n)
	}
	return nil
}

func (w *jpegWalker) cutOff() error {
	if w.scans > 0 {
		return fmt.Errorf("%w: the JPEG data end in the middle of the picture", ErrCutOff)
	}
	return fmt.Errorf("%w: the JPEG data end before the picture begins", ErrCutOff)
}
