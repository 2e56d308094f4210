package raster

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/gif"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// gifOf is a GIF of frames on a screen of 4 × 3 pixels.
func gifOf(t testing.TB, frames ...*image.Paletted) []byte {
	t.Helper()
	var b bytes.Buffer
	g := gif.GIF{Image: frames, Delay: make([]int, len(frames)), Config: image.Config{Width: 4, Height: 3}}
	if err := gif.EncodeAll(&b, &g); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func paletted(r image.Rectangle, second color.Color) *image.Paletted {
	m := image.NewPaletted(r, color.Palette{color.RGBA{9, 8, 7, 255}, second})
	m.SetColorIndex(r.Min.X, r.Min.Y, 1)
	return m
}

func TestGIF(t *testing.T) {
	whole, red := image.Rect(0, 0, 4, 3), color.RGBA{255, 0, 0, 255}
	for _, c := range []struct {
		name   string
		b      []byte
		first  []byte
		last   []byte
		alpha  bool
		opaque bool
		notes  []string
	}{
		{"still", gifOf(t, paletted(whole, red)), []byte{255, 0, 0, 255}, []byte{9, 8, 7, 255}, false, true, nil},
		{"transparent", gifOf(t, paletted(whole, color.RGBA{})), []byte{0, 0, 0, 0}, []byte{9, 8, 7, 255}, true, false, nil},
		{"animated", gifOf(t, paletted(whole, red), paletted(whole, color.Black)), []byte{255, 0, 0, 255}, []byte{9, 8, 7, 255}, false, true, []string{"animated"}},
		{"smaller than the screen", gifOf(t, paletted(image.Rect(2, 1, 4, 3), red)), []byte{0, 0, 0, 0}, []byte{9, 8, 7, 255}, true, false, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, px := open(t, c.b)
			if h.Width != 4 || h.Height != 3 || !h.Palette || h.Alpha != c.alpha || px.Opaque != c.opaque || h.Density.Stated() {
				t.Errorf("header %+v, opaque %v", h, px.Opaque)
			}
			if diff := cmp.Diff(c.first, px.Pix[:4]); diff != "" {
				t.Errorf("first pixel (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(c.last, px.Pix[4*11:]); diff != "" {
				t.Errorf("last pixel (-want +got):\n%s", diff)
			}
			sameWords(t, "notes", h.Notes, c.notes)
		})
	}
}

// TestGIFUnknownExtension has a block that image/gif does not know.
func TestGIFUnknownExtension(t *testing.T) {
	b := gifOf(t, paletted(image.Rect(0, 0, 4, 3), color.White))
	at := bytes.Index(b, []byte{gifPicture, 0, 0, 0, 0, 4, 0, 3, 0})
	open(t, append(append(bytes.Clone(b[:at]), gifExtension, 0x42, 1, 7, 0), b[at:]...))
}

// bmpOf is a bitmap of 2 × 2 pixels. info are numbers put into its second
// header, by offset; what follows the headers begins with the colour table, of
// which info gives the entries.
func bmpOf(headerSize, bits int, info map[int]uint32, rest ...[]byte) []byte {
	header := make([]byte, headerSize)
	put := func(at int, v uint32) { binary.LittleEndian.PutUint32(header[at:], v) }
	put(0, uint32(headerSize))
	put(4, 2)
	put(8, 2)
	binary.LittleEndian.PutUint16(header[12:], 1)
	binary.LittleEndian.PutUint16(header[14:], uint16(bits))
	for at, v := range info {
		put(at, v)
	}
	b := append([]byte("BM\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00"), header...)
	binary.LittleEndian.PutUint32(b[10:], uint32(len(b))+4*info[32])
	for _, r := range rest {
		b = append(b, r...)
	}
	return b
}

func TestBMP(t *testing.T) {
	pixels := []byte{1, 2, 3, 0, 5, 6, 7, 128, 9, 10, 11, 255, 13, 14, 15, 16} // B, G, R, A; the lower row first
	masks := map[int]uint32{40: 0xff0000, 44: 0xff00, 48: 0xff, 52: 0xff000000, 16: 3}
	noAlpha := map[int]uint32{40: 0xff0000, 44: 0xff00, 48: 0xff, 52: 0, 16: 3}
	topDown := map[int]uint32{8: 0xfffffffe, 24: 11811, 28: 11811}
	for _, c := range []struct {
		name  string
		b     []byte
		first []byte
		alpha bool
		ppi   float64
	}{
		{"alpha", bmpOf(bmpV4, 32, masks, pixels), []byte{11, 10, 9, 255}, true, 0},
		{"no alpha mask", bmpOf(bmpV5, 32, noAlpha, pixels), []byte{11, 10, 9, 255}, false, 0},
		{"plain 32 bits have no alpha", bmpOf(bmpInfo, 32, nil, pixels), []byte{11, 10, 9, 255}, false, 0},
		{"from the top, 300 ppi", bmpOf(bmpInfo, 32, topDown, pixels), []byte{3, 2, 1, 255}, false, 299.9994},
		{"24 bits, rows padded", bmpOf(bmpInfo, 24, nil, []byte{1, 2, 3, 4, 5, 6, 0, 0, 7, 8, 9, 10, 11, 12, 0, 0}), []byte{9, 8, 7, 255}, false, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, px := open(t, c.b)
			if diff := cmp.Diff(c.first, px.Pix[:4]); diff != "" {
				t.Errorf("first pixel (-want +got):\n%s", diff)
			}
			if h.Alpha != c.alpha || px.Opaque == c.alpha {
				t.Errorf("alpha %v, opaque %v", h.Alpha, px.Opaque)
			}
			if diff := cmp.Diff(c.ppi, h.Density.X, near4()); diff != "" || h.Density.Source != "BMP" {
				t.Errorf("density %+v", h.Density)
			}
		})
	}
}

func TestBMPColour(t *testing.T) {
	pixels := make([]byte, 16)
	const space, place, size = 56, 112, 116
	for _, c := range []struct {
		name    string
		b       []byte
		profile string
		trouble string
		claims  []Claim
	}{
		{"sRGB", bmpOf(bmpV4, 32, map[int]uint32{space: 0x73524742}, pixels), "", "", []Claim{{Source: "BMP", Kind: ClaimSRGB, Space: RGB}}},
		{"embedded", bmpOf(bmpV5, 32, map[int]uint32{space: 0x4d424544, place: bmpV5 + 16, size: 3}, pixels, []byte("icc")), "icc", "", nil},
		{"embedded outside", bmpOf(bmpV5, 32, map[int]uint32{space: 0x4d424544, place: bmpV5 + 16, size: 4}, pixels, []byte("icc")), "", "beyond the end", nil},
		{"embedded too long", bmpOf(bmpV5, 32, map[int]uint32{space: 0x4d424544, place: bmpV5 + 16, size: 17 << 20}, pixels, []byte("icc")), "", "more than", nil},
		{"embedded with a header that has no place for it", bmpOf(bmpV4, 32, map[int]uint32{space: 0x4d424544}, pixels), "", "too short", nil},
		{"linked", bmpOf(bmpV5, 32, map[int]uint32{space: 0x4c494e4b, place: bmpV5 + 16, size: 3}, pixels, []byte("a.b")), "", "not in the file", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, _ := open(t, c.b)
			if string(h.Profile) != c.profile || !strings.Contains(h.ProfileTrouble, c.trouble) {
				t.Errorf("profile %q, trouble %q", h.Profile, h.ProfileTrouble)
			}
			if diff := cmp.Diff(c.claims, h.Claims); diff != "" {
				t.Errorf("claims (-want +got):\n%s", diff)
			}
		})
	}
}

func TestBMPRefused(t *testing.T) {
	for _, c := range []struct {
		name string
		b    []byte
		is   error
		says string
	}{
		{"RLE", bmpOf(bmpInfo, 8, map[int]uint32{16: 1}), ErrUnsupported, "run-length"},
		{"JPEG inside", bmpOf(bmpInfo, 24, map[int]uint32{16: 4}), ErrUnsupported, "unusual storage"},
		{"16 bits", bmpOf(bmpInfo, 16, nil), ErrUnsupported, "16 bits"},
		{"an old header", bmpOf(64, 24, nil), ErrUnsupported, "64 bytes"},
		{"no width", bmpOf(bmpInfo, 24, map[int]uint32{4: 0}), ErrDamaged, "0 × 2"},
		{"a long palette", bmpOf(bmpInfo, 8, map[int]uint32{32: 257}), ErrDamaged, "257 entries"},
		{"no palette", bmpOf(bmpInfo, 8, nil), ErrCutOff, "before the picture"},
		{"no pixels", bmpOf(bmpInfo, 24, nil, make([]byte, 15)), ErrCutOff, "middle of the picture"},
		{"too large", bmpOf(bmpInfo, 24, map[int]uint32{4: 1 << 30}), ErrTooLarge, "pixels"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Open(c.b, DefaultLimits())
			if !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want %v and %q", err, c.is, c.says)
			}
		})
	}
}
