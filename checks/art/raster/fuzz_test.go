package raster

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"testing"
)

// smallLimits keep a fuzzing process small.
func smallLimits() Limits {
	return Limits{Pixels: 1 << 16, Memory: 1 << 21, ScanPixels: 1 << 20, Pages: 4, Entries: 64, ProfileBytes: 1 << 12}
}

// sentinels counts which of the package's errors err wraps.
func sentinels(err error) (n int) {
	for _, is := range []error{ErrCutOff, ErrDamaged, ErrUnsupported, ErrTooLarge} {
		if errors.Is(err, is) {
			n++
		}
	}
	return n
}

// checkFile holds what every opened file keeps.
func checkFile(t *testing.T, f *File, lim Limits) {
	t.Helper()
	var pixels int64
	for _, h := range f.Pages {
		pixels += int64(h.Width) * int64(h.Height)
		if h.Width < 1 || h.Height < 1 || h.Orientation < 1 || h.Orientation > 8 || h.Bits < 1 || h.Bits > 16 || h.Extra < 0 {
			t.Errorf("header %+v", h)
		}
		if len(h.Profile) > lim.ProfileBytes || h.Profile != nil && h.ProfileTrouble != "" {
			t.Errorf("profile of %d bytes, trouble %q", len(h.Profile), h.ProfileTrouble)
		}
		if h.Density.Stated() != (h.Density.Silence == "") || h.Density.X < 0 || h.Density.Y < 0 {
			t.Errorf("density %+v", h.Density)
		}
	}
	if len(f.Pages) == 0 || len(f.Pages) > lim.Pages || pixels > lim.Pixels {
		t.Errorf("%d pages of %d pixels", len(f.Pages), pixels)
	}
}

func FuzzOpen(f *testing.F) {
	for _, b := range samples(f) {
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		file, err := Open(b, smallLimits())
		if err != nil {
			if sentinels(err) != 1 || file != nil {
				t.Errorf("error %v", err)
			}
			return
		}
		if file.Format != Sniff(b) {
			t.Errorf("format %q", file.Format)
		}
		checkFile(t, file, smallLimits())
	})
}

// mendChecksums makes those of a PNG fit, so that its chunks' contents reach
// the decoder.
func mendChecksums(b []byte) {
	if Sniff(b) != PNG {
		return
	}
	for at := 8; len(b)-at >= 12; {
		size := binary.BigEndian.Uint32(b[at:])
		if int64(size) > int64(len(b)-at-12) {
			return
		}
		end := at + 8 + int(size)
		binary.BigEndian.PutUint32(b[end:], crc32.ChecksumIEEE(b[at+4:end]))
		at = end + 4
	}
}

func FuzzDecode(f *testing.F) {
	for _, b := range samples(f) {
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		b = bytes.Clone(b)
		mendChecksums(b)
		file, err := Open(b, smallLimits())
		if err != nil {
			return
		}
		for i, h := range file.Pages {
			px, err := file.Decode(i)
			if err != nil {
				if sentinels(err) != 1 {
					t.Errorf("error %v", err)
				}
				continue
			}
			if px.Width != h.Width || px.Height != h.Height || len(px.Pix) != 4*h.Width*h.Height {
				t.Errorf("%d × %d pixels in %d bytes, header says %d × %d", px.Width, px.Height, len(px.Pix), h.Width, h.Height)
			}
			if h.Space == CMYK && len(px.Ink) != len(px.Pix) || h.Space != CMYK && px.Ink != nil {
				t.Errorf("%d bytes of ink in %s", len(px.Ink), h.Space)
			}
			if px.Opaque != px.opaque() {
				t.Errorf("opaque is %v", px.Opaque)
			}
		}
	})
}
