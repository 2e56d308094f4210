package raster

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestPNGDensity(t *testing.T) {
	plain := pngBytes(t, picture(4, 3))
	exif300 := chunk("eXIf", exifOf(map[uint16]any{tagXResolution: ratio{300, 1}, tagYResolution: ratio{300, 1}}))
	for _, c := range []struct {
		name            string
		chunks          [][]byte
		want, outranked Density
	}{
		{"none", nil, Density{Silence: "no pHYs chunk"}, Density{}},
		{"unit 0", [][]byte{phys(2, 1, 0)}, Density{Source: "pHYs", Silence: "pHYs unit 0: no unit"}, Density{}},
		// 300 ppi does not survive the way through whole pixels per metre.
		{"300 ppi", [][]byte{phys(11811, 11811, 1)}, Density{X: 299.9994, Y: 299.9994, Source: "pHYs"}, Density{}},
		{"zero", [][]byte{phys(0, 0, 1)}, Density{Source: "pHYs", Silence: "pHYs density is zero"}, Density{}},
		{"Exif", [][]byte{exif300}, Density{X: 300, Y: 300, Source: "Exif"}, Density{}},
		{"both", [][]byte{phys(2835, 2835, 1), exif300}, Density{X: 72.009, Y: 72.009, Source: "pHYs"}, Density{X: 300, Y: 300, Source: "Exif"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, _ := open(t, pngWith(plain, c.chunks...))
			if diff := cmp.Diff(c.want, h.Density, near4()); diff != "" {
				t.Errorf("density (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(c.outranked, h.Outranked); diff != "" {
				t.Errorf("outranked (-want +got):\n%s", diff)
			}
		})
	}
}

func TestPNGProfile(t *testing.T) {
	plain := pngBytes(t, picture(4, 3))
	broken := chunk("iCCP", []byte("press\x00\x00\x78\x9cnothing that inflates"))
	for _, c := range []struct {
		name    string
		chunk   [][]byte
		want    string
		trouble string
	}{
		{"whole", [][]byte{iccp(t, []byte("profile"))}, "profile", ""},
		{"broken", [][]byte{broken}, "", "cannot be read"},
		{"no zlib", [][]byte{chunk("iCCP", []byte("press\x00\x00"))}, "", "cannot be read"},
		{"no name", [][]byte{chunk("iCCP", []byte("press"))}, "", "does not begin"},
		{"unknown method", [][]byte{chunk("iCCP", []byte("press\x00\x01x"))}, "", "does not begin"},
		{"empty", [][]byte{iccp(t, nil)}, "", "empty"},
		{"too long", [][]byte{iccp(t, make([]byte, 1<<20))}, "", "more than 1000 bytes"},
		{"two", [][]byte{iccp(t, []byte("a")), iccp(t, []byte("b"))}, "", "two profiles"},
	} {
		t.Run(c.name, func(t *testing.T) {
			lim := DefaultLimits()
			lim.ProfileBytes = 1000
			f, err := Open(pngWith(plain, c.chunk...), lim)
			if err != nil {
				t.Fatal(err)
			}
			h := f.Pages[0]
			if string(h.Profile) != c.want || !strings.Contains(h.ProfileTrouble, c.trouble) || (c.trouble == "") != (h.ProfileTrouble == "") {
				t.Errorf("profile %q, trouble %q; want %q, %q", h.Profile, h.ProfileTrouble, c.want, c.trouble)
			}
		})
	}
}

func TestPNGClaims(t *testing.T) {
	plain := pngBytes(t, picture(4, 3))
	var (
		srgb = chunk("sRGB", []byte{1})
		gama = chunk("gAMA", numbers(45455))
		chrm = chunk("cHRM", numbers(31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000))
		wide = chunk("cHRM", numbers(31270, 32900, 68000, 32000, 26500, 69000, 15000, 6000))
		dark = chunk("gAMA", numbers(100000))
		cicp = chunk("cICP", []byte{1, 13, 0, 1})
	)
	for _, c := range []struct {
		name   string
		chunks [][]byte
		want   []Claim
		wrong  []string
	}{
		{"none", nil, nil, nil},
		{"sRGB with its companions", [][]byte{srgb, gama, chrm}, []Claim{
			{Source: "PNG sRGB", Kind: ClaimSRGB, Values: []float64{1}},
			{Source: "PNG gAMA", Kind: ClaimGamma, Values: []float64{.45455}},
			{Source: "PNG cHRM", Kind: ClaimPrimaries, Values: []float64{.3127, .329, .64, .33, .3, .6, .15, .06}},
		}, nil},
		{"gamma and primaries of its own", [][]byte{dark, wide}, []Claim{
			{Source: "PNG gAMA", Kind: ClaimGamma, Values: []float64{1}},
			{Source: "PNG cHRM", Kind: ClaimPrimaries, Values: []float64{.3127, .329, .68, .32, .265, .69, .15, .06}},
		}, nil},
		{"code points", [][]byte{cicp}, []Claim{{Source: "PNG cICP", Kind: ClaimCodePoints, Values: []float64{1, 13, 0, 1}}}, nil},
		{"sRGB with the gamma of another", [][]byte{srgb, dark}, []Claim{
			{Source: "PNG sRGB", Kind: ClaimSRGB, Values: []float64{1}},
			{Source: "PNG gAMA", Kind: ClaimGamma, Values: []float64{1}},
		}, []string{"gAMA chunk is not that of sRGB"}},
		{"sRGB with the primaries of another", [][]byte{srgb, wide}, []Claim{
			{Source: "PNG sRGB", Kind: ClaimSRGB, Values: []float64{1}},
			{Source: "PNG cHRM", Kind: ClaimPrimaries, Values: []float64{.3127, .329, .68, .32, .265, .69, .15, .06}},
		}, []string{"cHRM chunk is not that of sRGB"}},
		{"sRGB and a profile", [][]byte{srgb, iccp(t, []byte("x"))}, []Claim{
			{Source: "PNG sRGB", Kind: ClaimSRGB, Values: []float64{1}},
		}, []string{"calls itself sRGB as well"}},
		{"code points and a profile", [][]byte{cicp, iccp(t, []byte("x"))}, []Claim{
			{Source: "PNG cICP", Kind: ClaimCodePoints, Values: []float64{1, 13, 0, 1}},
		}, nil},
		{"an intent that does not exist", [][]byte{chunk("sRGB", []byte{9})}, []Claim{
			{Source: "PNG sRGB", Kind: ClaimSRGB, Values: []float64{9}},
		}, []string{"intent 9"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, _ := open(t, pngWith(plain, c.chunks...))
			if diff := cmp.Diff(c.want, h.Claims); diff != "" {
				t.Errorf("claims (-want +got):\n%s", diff)
			}
			sameWords(t, "contradictions", h.Contradictions, c.wrong)
		})
	}
}

func TestPNGTransparency(t *testing.T) {
	gray := chunk("IHDR", []byte{0, 0, 0, 2, 0, 0, 0, 1, 8, pngGray, 0, 0, 0})
	rgb := chunk("IHDR", []byte{0, 0, 0, 2, 0, 0, 0, 1, 8, pngRGB, 0, 0, 0})
	indexed := chunk("IHDR", []byte{0, 0, 0, 2, 0, 0, 0, 1, 1, pngPalette, 0, 0, 0})
	end := chunk("IEND", nil)
	// Each picture is two pixels, of which the second is transparent.
	for _, c := range []struct {
		name   string
		chunks [][]byte
		want   []byte
	}{
		{"gray", [][]byte{gray, chunk("tRNS", []byte{0, 9}), chunk("IDAT", deflated(t, []byte{0, 5, 9})), end}, []byte{5, 5, 5, 255, 9, 9, 9, 0}},
		{"rgb", [][]byte{rgb, chunk("tRNS", []byte{0, 4, 0, 5, 0, 6}), chunk("IDAT", deflated(t, []byte{0, 1, 2, 3, 4, 5, 6})), end}, []byte{1, 2, 3, 255, 4, 5, 6, 0}},
		{"palette", [][]byte{indexed, chunk("PLTE", []byte{1, 2, 3, 4, 5, 6}), chunk("tRNS", []byte{255, 128}), chunk("IDAT", deflated(t, []byte{0, 0x40})), end}, []byte{1, 2, 3, 255, 4, 5, 6, 128}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, px := open(t, append([]byte("\x89PNG\r\n\x1a\n"), bytes.Join(c.chunks, nil)...))
			if !h.Alpha || px.Opaque {
				t.Errorf("alpha %v, opaque %v", h.Alpha, px.Opaque)
			}
			if diff := cmp.Diff(c.want, px.Pix); diff != "" {
				t.Errorf("pixels (-want +got):\n%s", diff)
			}
		})
	}
}

func TestPNGRefused(t *testing.T) {
	plain := pngBytes(t, picture(4, 3))
	flipped := func(at int) []byte {
		b := bytes.Clone(plain)
		b[at] ^= 1
		return b
	}
	header := func(w byte, depth, colour byte) []byte {
		return append(append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", []byte{0, 0, 0, w, 0, 0, 0, 3, depth, colour, 0, 0, 0})...), plain[33:]...)
	}
	for _, c := range []struct {
		name string
		b    []byte
		says string
	}{
		{"a flipped bit of the picture", flipped(len(plain) - 20), "checksum"},
		{"a flipped bit of the header", flipped(19), "checksum"},
		{"no picture", pngWith(plain[:33], chunk("IEND", nil)), "no picture data"},
		{"another chunk first", append([]byte("\x89PNG\r\n\x1a\n"), chunk("gAMA", numbers(45455))...), "begin with its header"},
		{"no width", header(0, 8, pngRGBA), "0 × 3"},
		{"no such depth", header(4, 4, pngRGB), "colour type 2 with 4 bits"},
		{"no such colour", header(4, 8, 5), "colour type 5"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Open(c.b, DefaultLimits())
			if !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want %q", err, c.says)
			}
		})
	}
}

// TestPNGDamagedInside has checksums that fit around data that do not: only
// decoding can tell.
func TestPNGDamagedInside(t *testing.T) {
	b := bytes.Join([][]byte{
		[]byte("\x89PNG\r\n\x1a\n"),
		chunk("IHDR", []byte{0, 0, 0, 9, 0, 0, 0, 9, 8, pngGray, 0, 0, 0}),
		chunk("IDAT", deflated(t, make([]byte, 50))), chunk("IEND", nil),
	}, nil)
	f, err := Open(b, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Decode(0); !errors.Is(err, ErrDamaged) {
		t.Errorf("error %v, want one of damage", err)
	}
}

func TestAnimatedPNG(t *testing.T) {
	h, _ := open(t, pngWith(pngBytes(t, picture(4, 3)), chunk("acTL", numbers(2, 0))))
	sameWords(t, "notes", h.Notes, []string{"animated"})
}
