package raster

import (
	"encoding/binary"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// flatVP8L is a lossless picture of one colour: five prefix codes of a single
// symbol each, so that the pixels take no bits at all (RFC 9649, 3.7.2.1.1).
func flatVP8L(w, h int, r, g, b, a byte) []byte {
	var bits uint64
	out, n := []byte{0x2f}, 0
	put := func(v uint64, size int) {
		for bits, n = bits|v<<n, n+size; n >= 8; n -= 8 {
			out = append(out, byte(bits))
			bits >>= 8
		}
	}
	put(uint64(w-1), 14)
	put(uint64(h-1), 14)
	alpha := uint64(0)
	if a != 255 {
		alpha = 1
	}
	put(alpha, 1)
	put(0, 3) // version
	put(0, 3) // no transform, no colour cache, no groups of codes
	for _, symbol := range []byte{g, r, b, a} {
		put(0b101, 3) // a simple code, of one symbol, of 8 bits
		put(uint64(symbol), 8)
	}
	put(0b001, 3) // distances: a simple code, of one symbol, of 1 bit
	put(0, 1)
	put(0, 16)
	return out
}

// riff is a WebP file of chunks, given as name and contents in turn.
func riff(chunks ...string) []byte {
	body := "WEBP"
	for i := 0; i < len(chunks); i += 2 {
		data := chunks[i+1]
		body += chunks[i] + string(binary.LittleEndian.AppendUint32(nil, uint32(len(data)))) + data
		if len(data)%2 == 1 {
			body += "\x00"
		}
	}
	return []byte("RIFF" + string(binary.LittleEndian.AppendUint32(nil, uint32(len(body)))) + body)
}

// vp8x is an extended header for 3 × 2 pixels.
func vp8x(flags byte) string { return string([]byte{flags, 0, 0, 0, 2, 0, 0, 1, 0, 0}) }

func TestWebP(t *testing.T) {
	opaque, glassy := string(flatVP8L(3, 2, 10, 20, 30, 255)), string(flatVP8L(3, 2, 10, 20, 30, 99))
	exif := string(exifOf(map[uint16]any{
		tagXResolution: ratio{300, 1}, tagYResolution: ratio{150, 1}, tagOrientation: uint16(8), tagColorSpace: uint16(1)}))
	for _, c := range []struct {
		name string
		b    []byte
		want Header
		rgba [4]byte
	}{
		{"plain", riff("VP8L", opaque), Header{Width: 3, Height: 2, Orientation: 1}, [4]byte{10, 20, 30, 255}},
		{"alpha", riff("VP8L", glassy), Header{Width: 3, Height: 2, Orientation: 1, Alpha: true}, [4]byte{10, 20, 30, 99}},
		{"profile", riff("VP8X", vp8x(1<<5), "ICCP", "icc", "VP8L", opaque), Header{Width: 3, Height: 2, Orientation: 1, Profile: []byte("icc")}, [4]byte{10, 20, 30, 255}},
		{"Exif", riff("VP8X", vp8x(1<<3), "VP8L", opaque, "EXIF", exif), Header{Width: 2, Height: 3, Orientation: 8,
			Density: Density{X: 150, Y: 300, Source: "Exif"}, Claims: []Claim{{Source: "Exif", Kind: ClaimSRGB, Space: RGB}}}, [4]byte{10, 20, 30, 255}},
		{"Exif as JPEG has it", riff("VP8X", vp8x(1<<3), "VP8L", opaque, "EXIF", "Exif\x00\x00"+exif), Header{Width: 2, Height: 3, Orientation: 8,
			Density: Density{X: 150, Y: 300, Source: "Exif"}, Claims: []Claim{{Source: "Exif", Kind: ClaimSRGB, Space: RGB}}}, [4]byte{10, 20, 30, 255}},
		{"alpha that the header denies", riff("VP8X", vp8x(0), "VP8L", glassy), Header{Width: 3, Height: 2, Orientation: 1, Alpha: true}, [4]byte{10, 20, 30, 99}},
		{"bytes behind the file", append(riff("VP8L", opaque), "more"...), Header{Width: 3, Height: 2, Orientation: 1}, [4]byte{10, 20, 30, 255}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, px := open(t, c.b)
			c.want.Space, c.want.Bits = RGB, 8
			if !c.want.Density.Stated() {
				c.want.Density.Silence = "WebP has no density field"
			}
			if diff := cmp.Diff(c.want, h); diff != "" {
				t.Errorf("header (-want +got):\n%s", diff)
			}
			for i := 0; i < len(px.Pix); i += 4 {
				if [4]byte(px.Pix[i:]) != c.rgba {
					t.Fatalf("pixel %v, want %v", px.Pix[i:i+4], c.rgba)
				}
			}
		})
	}
}

func TestWebPRefused(t *testing.T) {
	opaque := string(flatVP8L(3, 2, 10, 20, 30, 255))
	for _, c := range []struct {
		name string
		b    []byte
		is   error
		says string
	}{
		{"animated", riff("VP8X", vp8x(webpAnimated), "ANIM", "\x00\x00\x00\x00\x00\x00", "ANMF", "x"), ErrUnsupported, "animated"},
		{"nothing inside", riff("VP8X", vp8x(0)), ErrDamaged, "no picture data"},
		{"a short header", riff("VP8X", "x"), ErrDamaged, "too short"},
		{"two sizes", riff("VP8X", vp8x(0), "VP8L", string(flatVP8L(4, 2, 1, 2, 3, 255))), ErrDamaged, "differ in size"},
		{"no lossless picture", riff("VP8L", "nothing"), ErrDamaged, "begin"},
		{"no lossy picture", riff("VP8 ", "nothing at all"), ErrDamaged, "begin"},
		{"no width", riff("VP8 ", "\x00\x00\x00\x9d\x01\x2a\x00\x00\x02\x00"), ErrDamaged, "0 × 2"},
		{"a chunk too long", append(riff("VP8L", opaque)[:16], 0xff, 0xff, 0xff, 0x7f), ErrCutOff, "should have"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Open(c.b, DefaultLimits())
			if !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want %v and %q", err, c.is, c.says)
			}
		})
	}
}

// TestVideoRange checks BT.601's corners: black is Y 16, white Y 235, and red
// is Y 81, Cb 90, Cr 240 (ITU-R BT.601, 75 and 100 % colour bars; from memory).
func TestVideoRange(t *testing.T) {
	for _, c := range []struct{ ycc, rgb [3]byte }{
		{[3]byte{16, 128, 128}, [3]byte{0, 0, 0}},
		{[3]byte{235, 128, 128}, [3]byte{255, 255, 255}},
		{[3]byte{255, 128, 128}, [3]byte{255, 255, 255}},
		{[3]byte{81, 90, 240}, [3]byte{254, 0, 0}},
		{[3]byte{41, 240, 110}, [3]byte{0, 0, 255}},
	} {
		r, g, b := videoRGB(c.ycc[0], c.ycc[1], c.ycc[2])
		if furthest(t, []byte{r, g, b}, c.rgb[:]) > 1 {
			t.Errorf("%v becomes %v, want %v", c.ycc, [3]byte{r, g, b}, c.rgb)
		}
	}
}
