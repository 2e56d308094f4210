package raster

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// codingCase is a flat JPEG, and what its components are to be read as.
type codingCase struct {
	name   string
	jpeg   flatJPEG
	space  Space
	rgb    [3]byte
	ink    []byte
	claims []string // source and text
	wrong  []string // a word of each contradiction
}

func codingCases() []codingCase {
	return []codingCase{
		{name: "gray", jpeg: flatJPEG{ids: "\x01", values: []byte{77}}, space: Gray, rgb: [3]byte{77, 77, 77}},
		{name: "JFIF is YCbCr", jpeg: flatJPEG{ids: "\x01\x02\x03", values: []byte{100, 128, 228}, apps: [][]byte{jfif(1, 300, 300)}},
			space: RGB, rgb: [3]byte{240, 29, 100}, claims: []string{"JFIF gray or YCbCr"}},
		{name: "no marker is YCbCr", jpeg: flatJPEG{ids: "\x01\x02\x03", values: []byte{100, 128, 228}}, space: RGB, rgb: [3]byte{240, 29, 100}},
		{name: "Adobe 0 is RGB", jpeg: flatJPEG{ids: "\x01\x02\x03", values: []byte{10, 20, 30}, apps: [][]byte{adobe(0)}},
			space: RGB, rgb: [3]byte{10, 20, 30}, claims: []string{"Adobe RGB or CMYK"}},
		{name: "names R G B are RGB", jpeg: flatJPEG{ids: "RGB", values: []byte{10, 20, 30}}, space: RGB, rgb: [3]byte{10, 20, 30}},
		{name: "names give way to Adobe 1", jpeg: flatJPEG{ids: "RGB", values: []byte{100, 128, 228}, apps: [][]byte{adobe(1)}},
			space: RGB, rgb: [3]byte{240, 29, 100}, claims: []string{"Adobe YCbCr"}},
		{name: "JFIF goes before Adobe", jpeg: flatJPEG{ids: "\x01\x02\x03", values: []byte{100, 128, 228}, apps: [][]byte{jfif(0, 1, 1), adobe(0)}},
			space: RGB, rgb: [3]byte{240, 29, 100}, claims: []string{"JFIF gray or YCbCr", "Adobe RGB or CMYK"}, wrong: []string{"Adobe marker says RGB"}},
		{name: "Adobe CMYK is inverted", jpeg: flatJPEG{ids: "\x01\x02\x03\x04", values: []byte{255, 200, 55, 155}, apps: [][]byte{adobe(0)}},
			space: CMYK, ink: []byte{0, 55, 200, 100}, rgb: [3]byte{155, 122, 33}, claims: []string{"Adobe RGB or CMYK"}},
		{name: "CMYK without a marker is inverted too", jpeg: flatJPEG{ids: "CMYK", values: []byte{255, 200, 55, 155}},
			space: CMYK, ink: []byte{0, 55, 200, 100}, rgb: [3]byte{155, 122, 33}},
		{name: "YCCK", jpeg: flatJPEG{ids: "\x01\x02\x03\x04", values: []byte{100, 128, 228, 155}, apps: [][]byte{adobe(2)}},
			space: CMYK, ink: []byte{240, 29, 100, 100}, rgb: [3]byte{9, 137, 94}, claims: []string{"Adobe YCCK"}},
		{name: "transform 1 on four channels", jpeg: flatJPEG{ids: "\x01\x02\x03\x04", values: []byte{100, 128, 228, 155}, apps: [][]byte{adobe(1)}},
			space: CMYK, ink: []byte{240, 29, 100, 100}, rgb: [3]byte{9, 137, 94}, claims: []string{"Adobe YCbCr"}, wrong: []string{"does not fit 4 channels"}},
		{name: "transform 2 on three channels", jpeg: flatJPEG{ids: "\x01\x02\x03", values: []byte{100, 128, 228}, apps: [][]byte{adobe(2)}},
			space: RGB, rgb: [3]byte{240, 29, 100}, claims: []string{"Adobe YCCK"}, wrong: []string{"does not fit 3 channels"}},
		{name: "JFIF with four channels", jpeg: flatJPEG{ids: "\x01\x02\x03\x04", values: []byte{255, 255, 255, 0}, apps: [][]byte{jfif(1, 72, 72), adobe(0)}},
			space: CMYK, ink: []byte{0, 0, 0, 255}, claims: []string{"JFIF gray or YCbCr", "Adobe RGB or CMYK"}},
		{name: "a thumbnail extension is no JFIF", jpeg: flatJPEG{ids: "\x01\x02\x03", values: []byte{100, 128, 228}, apps: [][]byte{jfif(1, 300, 300), app(0, "JFXX\x00\x13\x00\x00"), adobe(0)}},
			space: RGB, rgb: [3]byte{240, 29, 100}, claims: []string{"JFIF gray or YCbCr", "Adobe RGB or CMYK"}, wrong: []string{"Adobe marker says RGB"}},
	}
}

func TestJPEGCodings(t *testing.T) {
	for _, c := range codingCases() {
		t.Run(c.name, func(t *testing.T) {
			c.jpeg.w, c.jpeg.h = 11, 9
			h, px := open(t, c.jpeg.encode())
			if h.Space != c.space || h.Width != 11 || h.Height != 9 || h.Bits != 8 || h.Alpha || !px.Opaque {
				t.Errorf("header %+v", h)
			}
			if c.ink != nil && furthest(t, px.Ink, bytes.Repeat(c.ink, 11*9)) > 1 {
				t.Errorf("ink %v, want %v", px.Ink[:4], c.ink)
			}
			if want := bytes.Repeat([]byte{c.rgb[0], c.rgb[1], c.rgb[2], 255}, 11*9); furthest(t, px.Pix, want) > 1 {
				t.Errorf("pixels %v, want %v", px.Pix[:4], c.rgb)
			}
			var claims []string
			for _, claim := range h.Claims {
				claims = append(claims, claim.Source+" "+claim.Text)
			}
			if diff := cmp.Diff(c.claims, claims); diff != "" {
				t.Errorf("claims (-want +got):\n%s", diff)
			}
			sameWords(t, "contradictions", h.Contradictions, c.wrong)
			if doubt := c.space == CMYK && len(claims) == 0; doubt != (len(h.Notes) == 1) {
				t.Errorf("notes %q", h.Notes)
			}
		})
	}
}

// sameWords checks that each text holds the words wanted of it.
func sameWords(t *testing.T, what string, got, want []string) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s %q, want %q", what, got, want)
		return
	}
	for i := range got {
		if !strings.Contains(got[i], want[i]) {
			t.Errorf("%s %q, want %q", what, got, want)
		}
	}
}

func TestJPEGRefused(t *testing.T) {
	plain := flatJPEG{w: 8, h: 8, ids: "\x01\x02\x03", values: []byte{1, 2, 3}}
	with := func(change func(*flatJPEG)) []byte {
		j := plain
		change(&j)
		return j.encode()
	}
	for _, c := range []struct {
		name string
		b    []byte
		is   error
		says string
	}{
		{"arithmetic", with(func(j *flatJPEG) { j.process = 0xc9 }), ErrUnsupported, "arithmetic coding"},
		{"progressive arithmetic", with(func(j *flatJPEG) { j.process = 0xca }), ErrUnsupported, "arithmetic coding"},
		{"lossless", with(func(j *flatJPEG) { j.process = 0xc3 }), ErrUnsupported, "lossless coding"},
		{"hierarchical", with(func(j *flatJPEG) { j.process = 0xc5 }), ErrUnsupported, "hierarchical coding"},
		{"JPEG-LS", with(func(j *flatJPEG) { j.process = markerLS }), ErrUnsupported, "JPEG-LS"},
		{"12 bits", with(func(j *flatJPEG) { j.process, j.bits = 0xc1, 12 }), ErrUnsupported, "12 bits"},
		{"two channels", with(func(j *flatJPEG) { j.ids = "\x01\x02" }), ErrUnsupported, "2 colour channels"},
		{"height later", with(func(j *flatJPEG) { j.h = 0 }), ErrUnsupported, "height"},
		{"no width", with(func(j *flatJPEG) { j.w = 0 }), ErrDamaged, "0 pixels wide"},
		{"a channel without data", with(func(j *flatJPEG) { j.scan = "\x01\x03" }), ErrDamaged, "1 of its 3 colour channels"},
		{"no frame", []byte("\xff\xd8\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00\xff\xd9"), ErrDamaged, "no frame header"},
		{"no scan", slices.Concat([]byte("\xff\xd8"), plain.frame(), []byte("\xff\xd9")), ErrDamaged, "no picture data"},
		{"two frames", bytes.Replace(plain.encode(), plain.frame(), slices.Concat(plain.frame(), plain.frame()), 1), ErrDamaged, "two frame headers"},
		{"a short frame", bytes.Replace(plain.encode(), []byte("\xff\xc0\x00\x11"), []byte("\xff\xc0\x00\x0e"), 1), ErrDamaged, "frame header is too short"},
		{"a short scan header", []byte("\xff\xd8\xff\xda\x00\x03\x01\xff\xd9"), ErrDamaged, "scan header is too short"},
		{"uneven sampling", bytes.Replace(plain.encode(), []byte("\x01\x11\x00\x02\x11\x00"), []byte("\x01\x31\x00\x02\x11\x00"), 1), ErrUnsupported, "sampling"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Open(c.b, DefaultLimits())
			if !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want %v and %q", err, c.is, c.says)
			}
		})
	}
}

// TestJPEGSampling holds the factors that are let in against those that
// image/jpeg decodes.
func TestJPEGSampling(t *testing.T) {
	for _, n := range []int{1, 3, 4} {
		for first := range 5 * 16 {
			for second := range 3 * 16 {
				s := []byte{byte(first), byte(second), byte(second), byte(first)}[:n]
				checkSampling(t, s)
			}
		}
	}
}

// checkSampling lets image/jpeg read a frame without scans: it complains of
// the sampling, or else of the missing picture.
func checkSampling(t *testing.T, s []byte) {
	t.Helper()
	f := jpegFrame{process: markerSOF0, precision: 8, width: 8, height: 8, sampling: s}
	j := flatJPEG{w: 8, h: 8, ids: "\x01\x02\x03\x04"[:len(s)]}
	frame := j.frame()
	for i := range s {
		frame[11+3*i] = s[i]
	}
	d := jpegData{tables: frame, body: []byte{0xff, markerEOI}}
	_, err := d.image(codedYCbCr)
	if ok := strings.Contains(err.Error(), "missing SOS"); ok != f.sampled() {
		t.Errorf("sampling %x: let in %v, image/jpeg says %v", s, f.sampled(), err)
	}
}

func TestJPEGDensity(t *testing.T) {
	exif300 := app(1, "Exif\x00\x00"+string(exifOf(map[uint16]any{
		tagXResolution: ratio{300, 1}, tagYResolution: ratio{600, 2}, tagResolutionUnit: uint16(2)})))
	for _, c := range []struct {
		name            string
		apps            [][]byte
		want, outranked Density
	}{
		{"none", nil, Density{Silence: "no JFIF density"}, Density{}},
		{"units 0", [][]byte{jfif(0, 300, 300)}, Density{Source: "JFIF", Silence: "JFIF units 0: no unit"}, Density{}},
		{"per inch", [][]byte{jfif(1, 300, 150)}, Density{X: 300, Y: 150, Source: "JFIF"}, Density{}},
		{"per centimetre", [][]byte{jfif(2, 118, 118)}, Density{X: 299.72, Y: 299.72, Source: "JFIF"}, Density{}},
		{"zero", [][]byte{jfif(1, 0, 300)}, Density{Source: "JFIF", Silence: "JFIF density is zero"}, Density{}},
		{"Exif alone", [][]byte{exif300}, Density{X: 300, Y: 300, Source: "Exif"}, Density{}},
		{"Exif where JFIF has no unit", [][]byte{jfif(0, 1, 1), exif300}, Density{X: 300, Y: 300, Source: "Exif"}, Density{}},
		{"JFIF before Exif", [][]byte{jfif(1, 72, 72), exif300}, Density{X: 72, Y: 72, Source: "JFIF"}, Density{X: 300, Y: 300, Source: "Exif"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, _ := open(t, flatJPEG{w: 8, h: 8, ids: "\x01", values: []byte{9}, apps: c.apps}.encode())
			if diff := cmp.Diff(c.want, h.Density, near4()); diff != "" {
				t.Errorf("density (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(c.outranked, h.Outranked); diff != "" {
				t.Errorf("outranked (-want +got):\n%s", diff)
			}
		})
	}
}

// TestProfileJoin cuts a profile into chunks and shuffles them: their numbers
// alone tell the order (ICC.1:2010, B.4).
func TestProfileJoin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(rapid.SliceOfN(rapid.Byte(), 0, 5), 1, 12).Draw(t, "parts")
		var chunks [][]byte
		for i, p := range parts {
			chunks = append(chunks, append([]byte{byte(i + 1), byte(len(parts))}, p...))
		}
		got, trouble := joinProfile(rapid.Permutation(chunks).Draw(t, "order"), 1000)
		if want := slices.Concat(parts...); !bytes.Equal(got, want) || trouble != "" {
			t.Fatalf("joined %v, want %v: %s", got, want, trouble)
		}
		drop := rapid.IntRange(0, len(chunks)-1).Draw(t, "drop")
		if len(chunks) > 1 {
			if got, trouble := joinProfile(slices.Delete(slices.Clone(chunks), drop, drop+1), 1000); got != nil || trouble == "" {
				t.Fatalf("joined %v without chunk %d", got, drop+1)
			}
		}
		if got, trouble := joinProfile(append(chunks, chunks[drop]), 1000); got != nil || trouble == "" {
			t.Fatalf("joined %v with chunk %d doubled", got, drop+1)
		}
	})
}

func TestJPEGProfile(t *testing.T) {
	for _, c := range []struct {
		name    string
		apps    [][]byte
		want    string
		trouble string
	}{
		{"out of order", [][]byte{iccChunk(2, 3, "bb"), iccChunk(3, 3, "c"), iccChunk(1, 3, "aaa")}, "aaabbc", ""},
		{"missing", [][]byte{iccChunk(1, 3, "aaa"), iccChunk(3, 3, "c")}, "", "chunk 2 of 3 is missing"},
		{"doubled", [][]byte{iccChunk(1, 2, "aaa"), iccChunk(1, 2, "aaa"), iccChunk(2, 2, "b")}, "", "chunk 1 of 2 is there twice"},
		{"number 0", [][]byte{iccChunk(0, 1, "aaa")}, "", "number 0 of 1"},
		{"number too high", [][]byte{iccChunk(4, 3, "aaa")}, "", "number 4 of 3"},
		{"two counts", [][]byte{iccChunk(1, 2, "a"), iccChunk(2, 3, "b")}, "", "2 or 3"},
		{"too long", [][]byte{iccChunk(1, 1, strings.Repeat("x", 101))}, "", "more than 100 bytes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			lim := DefaultLimits()
			lim.ProfileBytes = 100
			f, err := Open(flatJPEG{w: 8, h: 8, ids: "\x01", values: []byte{9}, apps: c.apps}.encode(), lim)
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

func TestJPEGExifColour(t *testing.T) {
	for value, kind := range map[uint16]ClaimKind{1: ClaimSRGB, 65535: ClaimUncalibrated} {
		block := app(1, "Exif\x00\x00"+string(exifOf(map[uint16]any{tagColorSpace: value})))
		h, _ := open(t, flatJPEG{w: 8, h: 8, ids: "\x01\x02\x03", values: []byte{1, 2, 3}, apps: [][]byte{block}}.encode())
		if diff := cmp.Diff([]Claim{{Source: "Exif", Kind: kind, Space: RGB}}, h.Claims); diff != "" {
			t.Errorf("claims (-want +got):\n%s", diff)
		}
		h, _ = open(t, flatJPEG{w: 8, h: 8, ids: "\x01\x02\x03\x04", values: []byte{1, 2, 3, 4}, apps: [][]byte{block}}.encode())
		if (kind == ClaimSRGB) != (len(h.Contradictions) == 1) {
			t.Errorf("%s on CMYK: contradictions %q", kind, h.Contradictions)
		}
	}
}

// TestGoCMYK checks facts computed from a picture in Go's own test data.
func TestGoCMYK(t *testing.T) {
	h, px := open(t, goTestdata(t, "video-001.cmyk.jpeg"))
	if h.Width != 150 || h.Height != 103 || h.Space != CMYK {
		t.Errorf("header %+v", h)
	}
	if want := (Density{X: 72, Y: 72, Source: h.Density.Source}); h.Density != want {
		t.Errorf("density %+v, want %+v", h.Density, want)
	}
	var sum [4]float64
	most := 0
	for i := 0; i < len(px.Ink); i += 4 {
		total := 0
		for c := range 4 {
			sum[c] += float64(px.Ink[i+c])
			total += int(px.Ink[i+c])
		}
		most = max(most, total)
	}
	for c, want := range []float64{15.70, 133.64, 163.22, 155.46} {
		if mean := sum[c] / (150 * 103); math.Abs(mean-want) > .005 {
			t.Errorf("mean of ink %d is %.2f, want %.2f", c, mean, want)
		}
	}
	if diff := cmp.Diff([]byte{0, 250, 255, 204}, px.Ink[:4]); diff != "" {
		t.Errorf("first pixel (-want +got):\n%s", diff)
	}
	if got := float64(most) / 2.55; math.Abs(got-301.18) > .005 {
		t.Errorf("largest ink sum is %.2f %%, want 301.18", got)
	}
}
