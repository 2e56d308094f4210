package raster

import (
	"bytes"
	"encoding/binary"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// grayPage is 4 × 3 pixels of rising gray.
func grayPage() madePage {
	return plainPage(4, 3, photoBlackIsZero, []byte{0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 110})
}

func TestTIFFDensity(t *testing.T) {
	const x, y, unit = tagXResolution, tagYResolution, tagResolutionUnit
	for _, c := range []struct {
		name string
		tags map[uint16]any
		want Density
	}{
		{"none", nil, Density{Silence: "no TIFF resolution"}},
		{"inch", map[uint16]any{x: ratio{300, 1}, y: ratio{1200, 2}, unit: uint16(2)}, Density{X: 300, Y: 600, Source: "TIFF"}},
		{"inch unless stated", map[uint16]any{x: ratio{300, 1}, y: ratio{300, 1}}, Density{X: 300, Y: 300, Source: "TIFF"}},
		{"centimetre", map[uint16]any{x: ratio{1181, 10}, y: ratio{1181, 10}, unit: uint16(3)}, Density{X: 299.974, Y: 299.974, Source: "TIFF"}},
		{"unit 1", map[uint16]any{x: ratio{300, 1}, y: ratio{300, 1}, unit: uint16(1)}, Density{Source: "TIFF", Silence: "TIFF ResolutionUnit 1: no unit"}},
		{"unit 7", map[uint16]any{x: ratio{300, 1}, y: ratio{300, 1}, unit: uint16(7)}, Density{Source: "TIFF", Silence: "TIFF ResolutionUnit is none of the standard's"}},
		{"one direction", map[uint16]any{x: ratio{300, 1}}, Density{X: 300, Y: 300, Source: "TIFF"}},
		{"over nothing", map[uint16]any{x: ratio{300, 0}, y: ratio{300, 0}}, Density{Source: "TIFF", Silence: "TIFF density is zero"}},
		{"turned", map[uint16]any{x: ratio{300, 1}, y: ratio{150, 1}, tagOrientation: uint16(6)}, Density{X: 150, Y: 300, Source: "TIFF"}},
	} {
		for name, b := range map[string][]byte{
			"little": littleTIFF(grayPage().with(c.tags)), "big": bigEndianTIFF(grayPage().with(c.tags)), "BigTIFF": bigTIFF(grayPage().with(c.tags)),
		} {
			t.Run(c.name+"/"+name, func(t *testing.T) {
				h, _ := open(t, b)
				if diff := cmp.Diff(c.want, h.Density, near4()); diff != "" {
					t.Errorf("density (-want +got):\n%s", diff)
				}
			})
		}
	}
}

func TestTIFFPages(t *testing.T) {
	front := grayPage()
	thumbnail := plainPage(1, 1, photoBlackIsZero, []byte{9}).with(map[uint16]any{tagNewSubfileType: uint32(1)})
	oldThumbnail := plainPage(1, 1, photoBlackIsZero, []byte{9}).with(map[uint16]any{tagSubfileType: uint16(2)})
	mask := plainPage(4, 3, photoBlackIsZero, make([]byte, 12)).with(map[uint16]any{tagNewSubfileType: uint32(4)})
	back := plainPage(2, 1, photoRGB, []byte{1, 2, 3, 4, 5, 6}).with(map[uint16]any{tagNewSubfileType: uint32(2)})

	f, err := Open(littleTIFF(front, thumbnail, oldThumbnail, mask, back), DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Pages) != 2 || f.Pages[0].Width != 4 || f.Pages[1].Width != 2 {
		t.Fatalf("pages %+v", f.Pages)
	}
	px, err := f.Decode(1)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]byte{1, 2, 3, 255, 4, 5, 6, 255}, px.Pix); diff != "" {
		t.Errorf("back (-want +got):\n%s", diff)
	}
	for _, n := range []int{-1, 2} {
		if _, err := f.Decode(n); err == nil {
			t.Errorf("page %d was decoded", n)
		}
	}
	if _, err := Open(littleTIFF(thumbnail, mask), DefaultLimits()); !errors.Is(err, ErrDamaged) {
		t.Errorf("without a full page: %v", err)
	}
}

func TestTIFFCircle(t *testing.T) {
	b := littleTIFF(grayPage())
	copy(b[len(b)-4:], b[4:8]) // the last directory leads to the first
	if _, err := Open(b, DefaultLimits()); !errors.Is(err, ErrTooLarge) || !strings.Contains(err.Error(), "circle") {
		t.Errorf("error %v", err)
	}
}

// TestTIFFSamples reads pixels that are known, in kinds that no tool writes.
func TestTIFFSamples(t *testing.T) {
	tags := func(kv ...any) map[uint16]any {
		m := map[uint16]any{}
		for i := 0; i < len(kv); i += 2 {
			m[uint16(kv[i].(int))] = kv[i+1]
		}
		return m
	}
	colours := make([]uint16, 3*16)
	colours[5], colours[16+5], colours[32+5] = 0xffff, 0x8080, 0
	old := make([]uint16, 3*16)
	old[5], old[16+5], old[32+5] = 255, 128, 0
	four := tags(tagBitsPerSample, uint16(4), tagSamplesPerPixel, uint16(1))
	for _, c := range []struct {
		name  string
		page  madePage
		pix   []byte
		ink   []byte
		extra int
	}{
		{name: "CMYK is ink", page: plainPage(1, 1, photoCMYK, []byte{0, 255, 51, 0}), pix: []byte{255, 0, 204, 255}, ink: []byte{0, 255, 51, 0}},
		{name: "CMYK with alpha", page: plainPage(1, 1, photoCMYK, []byte{0, 0, 0, 255, 77}).with(tags(tagExtraSamples, uint16(2))), pix: []byte{0, 0, 0, 77}, ink: []byte{0, 0, 0, 255}},
		{name: "CMYK with spot inks", page: plainPage(1, 1, photoCMYK, []byte{0, 0, 0, 0, 200, 100}).with(tags(tagExtraSamples, []uint16{0, 0})), pix: []byte{255, 255, 255, 255}, ink: []byte{0, 0, 0, 0}, extra: 2},
		{name: "an extra sample of no meaning is no alpha", page: plainPage(1, 1, photoRGB, []byte{1, 2, 3, 0}).with(tags(tagExtraSamples, uint16(0))), pix: []byte{1, 2, 3, 255}, extra: 1},
		{name: "an extra sample not spoken of is no alpha", page: plainPage(1, 1, photoRGB, []byte{1, 2, 3, 0}), pix: []byte{1, 2, 3, 255}, extra: 1},
		{name: "associated alpha", page: plainPage(2, 1, photoRGB, []byte{50, 25, 0, 128, 0, 0, 0, 0}).with(tags(tagExtraSamples, uint16(1))), pix: []byte{100, 50, 0, 128, 0, 0, 0, 0}},
		{name: "associated alpha of ink", page: plainPage(1, 1, photoCMYK, []byte{50, 25, 0, 0, 128}).with(tags(tagExtraSamples, uint16(1))), pix: []byte{155, 205, 255, 128}, ink: []byte{100, 50, 0, 0}},
		{name: "unassociated alpha", page: plainPage(1, 1, photoRGB, []byte{50, 25, 0, 128}).with(tags(tagExtraSamples, uint16(2))), pix: []byte{50, 25, 0, 128}},
		{name: "palette of 16 bits", page: plainPage(1, 1, photoPalette, []byte{0x50}).with(four).with(tags(tagColorMap, colours)), pix: []byte{255, 128, 0, 255}},
		{name: "palette of 8 bits", page: plainPage(1, 1, photoPalette, []byte{0x50}).with(four).with(tags(tagColorMap, old)), pix: []byte{255, 128, 0, 255}},
		{name: "LZW", page: madePage{tags: plainPage(2, 1, photoRGB, make([]byte, 6)).with(tags(tagCompression, uint16(packLZW))).tags, data: [][]byte{lzwLiterals([]byte{1, 2, 3, 4, 5, 6})}}, pix: []byte{1, 2, 3, 255, 4, 5, 6, 255}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, px := open(t, bigEndianTIFF(c.page))
			if diff := cmp.Diff(c.pix, px.Pix); diff != "" {
				t.Errorf("pixels (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(c.ink, px.Ink); diff != "" {
				t.Errorf("ink (-want +got):\n%s", diff)
			}
			if h.Extra != c.extra || (c.extra > 0) != (len(h.Notes) == 1) {
				t.Errorf("%d extra channels, want %d; notes %q", h.Extra, c.extra, h.Notes)
			}
		})
	}
}

func TestTIFFRefused(t *testing.T) {
	set := func(tag uint16, v any) []byte { return littleTIFF(grayPage().with(map[uint16]any{tag: v})) }
	cmyk := plainPage(1, 1, photoCMYK, []byte{1, 2, 3, 4})
	for _, c := range []struct {
		name string
		b    []byte
		is   error
		says string
	}{
		{"Group 3", set(tagCompression, uint16(3)), ErrUnsupported, "Group 3"},
		{"CCITT RLE", set(tagCompression, uint16(2)), ErrUnsupported, "CCITT RLE"},
		{"Group 4 of grays", set(tagCompression, uint16(4)), ErrUnsupported, "more than black and white"},
		{"old JPEG", set(tagCompression, uint16(6)), ErrUnsupported, "old form of JPEG"},
		{"JPEG 2000", set(tagCompression, uint16(34712)), ErrUnsupported, "JPEG 2000"},
		{"unknown compression", set(tagCompression, uint16(999)), ErrUnsupported, "compression 999"},
		{"floating point", set(tagSampleFormat, uint16(3)), ErrUnsupported, "whole numbers"},
		{"32 bits", set(tagBitsPerSample, uint16(32)), ErrUnsupported, "32 bits"},
		{"predictor 3", set(tagPredictor, uint16(3)), ErrUnsupported, "predictor 3"},
		{"linear raw", set(tagPhotometric, uint16(34892)), ErrUnsupported, "colour space 34892"},
		{"YCbCr", littleTIFF(plainPage(1, 1, photoYCbCr, []byte{1, 2, 3})), ErrUnsupported, "YCbCr without JPEG"},
		{"YCbCr in planes", littleTIFF(plainPage(1, 1, photoYCbCr, []byte{1, 2, 3}).with(map[uint16]any{tagCompression: uint16(packJPEG), tagPlanar: uint16(2)})), ErrUnsupported, "together"},
		{"other inks", littleTIFF(cmyk.with(map[uint16]any{tagInkSet: uint16(2)})), ErrUnsupported, "not CMYK"},
		{"uneven bits", littleTIFF(cmyk.with(map[uint16]any{tagBitsPerSample: []uint16{8, 8, 8, 1}})), ErrUnsupported, "differ in bits"},
		{"too many channels", set(tagSamplesPerPixel, uint16(33)), ErrUnsupported, "33 channels"},
		{"too few channels", littleTIFF(cmyk.with(map[uint16]any{tagSamplesPerPixel: uint16(3)})), ErrDamaged, "3 channels, its colours need 4"},
		{"a short palette", littleTIFF(grayPage().with(map[uint16]any{tagPhotometric: uint16(photoPalette), tagColorMap: []uint16{1, 2, 3}})), ErrDamaged, "too few entries"},
		{"no size", set(tagWidth, uint16(0)), ErrDamaged, "width and height"},
		{"too many pixels", set(tagHeight, uint32(1<<30)), ErrTooLarge, "pixels"},
		{"tiles without size", set(tagTileWidth, uint16(0)), ErrDamaged, "no size"},
		{"a tile too large", littleTIFF(grayPage().with(map[uint16]any{tagTileWidth: uint32(1 << 31), tagTileHeight: uint32(1 << 31)})), ErrTooLarge, "pixels"},
		{"no order", set(tagPlanar, uint16(3)), ErrDamaged, "order"},
		{"too few strips", set(tagRowsPerStrip, uint16(1)), ErrDamaged, "3 pieces"},
		{"a strip outside", littleTIFF(grayPage().with(map[uint16]any{tagStripOffsets: uint32(9999), tagStripByteCounts: uint32(12)})), ErrCutOff, "beyond the end"},
		{"an empty strip", littleTIFF(grayPage().with(map[uint16]any{tagStripOffsets: uint32(8), tagStripByteCounts: uint32(0)})), ErrDamaged, "missing"},
		{"a short strip", littleTIFF(grayPage().with(map[uint16]any{tagStripOffsets: uint32(8), tagStripByteCounts: uint32(11)})), ErrDamaged, "too short"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Open(c.b, DefaultLimits())
			if !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want %v and %q", err, c.is, c.says)
			}
		})
	}
}

// TestTIFFSharedData has very many strips of the same bytes.
func TestTIFFSharedData(t *testing.T) {
	const n = 500
	page := plainPage(1, n, photoBlackIsZero, make([]byte, n))
	page = page.with(map[uint16]any{
		tagRowsPerStrip: uint16(1), tagCompression: uint16(packBits),
		tagStripOffsets: slices.Repeat([]uint32{8}, n), tagStripByteCounts: slices.Repeat([]uint32{n}, n),
	})
	if _, err := Open(littleTIFF(page), DefaultLimits()); !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), "overlap") {
		t.Errorf("error %v", err)
	}
}

// TestTIFFDamagedInside has segments of the right size that do not unpack.
func TestTIFFDamagedInside(t *testing.T) {
	broken := func(compression uint16, data []byte) []byte {
		page := plainPage(9, 9, photoBlackIsZero, make([]byte, 81)).with(map[uint16]any{tagCompression: compression})
		page.data = [][]byte{data}
		return littleTIFF(page)
	}
	sum := deflated(t, make([]byte, 81))
	sum[len(sum)-1] ^= 1
	gray := flatJPEG{w: 8, h: 8, ids: "\x01", values: []byte{1}}
	tall := gray
	tall.w, tall.h = 9, 10
	colour := flatJPEG{w: 9, h: 9, ids: "\x01\x02\x03", values: []byte{1, 2, 3}}
	for name, b := range map[string][]byte{
		"LZW ends":         broken(packLZW, lzwLiterals(make([]byte, 80))),
		"LZW invalid":      broken(packLZW, bytes.Repeat([]byte{0xff}, 90)),
		"Deflate ends":     broken(packDeflate, deflated(t, make([]byte, 80))),
		"Deflate invalid":  broken(packDeflate, []byte("no zlib stream")),
		"Deflate checksum": broken(packDeflate, sum),
		"PackBits ends":    broken(packBits, []byte{80, 1, 2, 3}),
		"PackBits no byte": broken(packBits, []byte{200}),
		"JPEG too small":   broken(packJPEG, gray.encode()),
		"JPEG too high":    broken(packJPEG, tall.encode()),
		"JPEG of colours":  broken(packJPEG, colour.encode()),
		"JPEG none":        broken(packJPEG, []byte("no JPEG stream")),
	} {
		t.Run(name, func(t *testing.T) {
			f, err := Open(b, DefaultLimits())
			if err != nil {
				t.Fatal(err)
			}
			if _, err := f.Decode(0); !errors.Is(err, ErrDamaged) {
				t.Errorf("error %v, want one of damage", err)
			}
		})
	}
}

func TestPackBits(t *testing.T) {
	// The worked example of Apple's Technical Note TN1023, which defines
	// PackBits (from memory).
	packed := []byte{0xfe, 0xaa, 0x02, 0x80, 0x00, 0x2a, 0xfd, 0xaa, 0x03, 0x80, 0x00, 0x2a, 0x22, 0xf7, 0xaa}
	want := []byte{0xaa, 0xaa, 0xaa, 0x80, 0x00, 0x2a, 0xaa, 0xaa, 0xaa, 0xaa, 0x80, 0x00, 0x2a, 0x22,
		0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa}
	for size := 1; size <= len(want); size++ {
		r := &packBitsReader{src: packed}
		var got []byte
		for buf := make([]byte, size); len(got) < len(want); {
			n, err := r.Read(buf[:min(size, len(want)-len(got))])
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, buf[:n]...)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("read by %d (-want +got):\n%s", size, diff)
		}
	}
}

// TestTo8 checks the reduction of 16 bits against its definition.
func TestTo8(t *testing.T) {
	for v := range uint32(65536) {
		if want := byte((v*255*2 + 65535) / (2 * 65535)); to8(v) != want {
			t.Fatalf("%d is reduced to %d, want %d", v, to8(v), want)
		}
	}
}

func TestTIFFExifColour(t *testing.T) {
	page := plainPage(1, 1, photoCMYK, []byte{1, 2, 3, 4}).with(map[uint16]any{tagColorSpace: uint16(1), tagExifDirectory: uint32(0)})
	first := binary.LittleEndian.Uint32(littleTIFF(page)[4:])
	h, _ := open(t, littleTIFF(page.with(map[uint16]any{tagExifDirectory: first}))) // its own Exif directory
	if diff := cmp.Diff([]Claim{{Source: "Exif", Kind: ClaimSRGB, Space: RGB}}, h.Claims); diff != "" {
		t.Errorf("claims (-want +got):\n%s", diff)
	}
	sameWords(t, "contradictions", h.Contradictions, []string{"but the picture is CMYK"})
}

func TestTIFFProfile(t *testing.T) {
	profile := bytes.Repeat([]byte("icc"), 50)
	b := littleTIFF(grayPage().with(map[uint16]any{tagICC: profile}))
	h, _ := open(t, b)
	if !bytes.Equal(h.Profile, profile) || h.ProfileTrouble != "" {
		t.Errorf("profile %q, trouble %q", h.Profile, h.ProfileTrouble)
	}
	lim := DefaultLimits()
	lim.ProfileBytes = 149
	f, err := Open(b, lim)
	if err != nil {
		t.Fatal(err)
	}
	if h := f.Pages[0]; h.Profile != nil || !strings.Contains(h.ProfileTrouble, "more than 149") {
		t.Errorf("profile %q, trouble %q", h.Profile, h.ProfileTrouble)
	}
	at := bytes.Index(b, binary.LittleEndian.AppendUint16(nil, tagICC))
	binary.LittleEndian.PutUint32(b[at+8:], 1<<20)
	if h, _ = open(t, b); h.Profile != nil || !strings.Contains(h.ProfileTrouble, "beyond the end") {
		t.Errorf("profile %q, trouble %q", h.Profile, h.ProfileTrouble)
	}
}
