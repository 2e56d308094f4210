package checks_test

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// What the four processes make of colours without a profile: RGB is anybody's
// guess everywhere, CMYK prints as it stands on a press, grey needs none. A tag
// that contradicts its image, or cannot be read, fails everywhere.
func TestColourTagsByProcess(t *testing.T) {
	const good, guess, inks, broken = "pass pass pass pass", "warn warn warn warn", "warn pass pass pass", "fail fail fail fail"
	srgb, coated := stream("/N 3", string(press.SRGB())), stream("/N 4", string(press.Coated()))
	const icc = "[/ICCBased 5 0 R]"
	rgbIntent := func(s sheet) []byte { return s.intent("5 0 R") }
	for _, tt := range []struct {
		name string
		file []byte
		want string // desktop, digital, offset-coated, offset-uncoated
	}{
		{"DeviceRGB", inOperator("1 0 0 rg").file(), guess},
		{"DeviceCMYK", inOperator("1 0 0 0 k").file(), inks},
		{"DeviceGray", inOperator("0.3 g").file(), good},
		{"CalRGB tells its colours itself", inSpace("[/CalRGB << /WhitePoint [0.95 1 1.09] >>]", "1 0 0").file(), good},
		{"Lab does so", inSpace("[/Lab << /WhitePoint [0.95 1 1.09] >>]", "50 20 20").file(), good},
		{"a spot ink", inSpace("[/Separation /Gold /DeviceCMYK "+tint+"]", "1").file(), good},
		{"Indexed into DeviceRGB", inSpace("[/Indexed /DeviceRGB 1 <ff000000ff00>]", "1").file(), guess},
		{"Indexed into ICC RGB", inSpace("[/Indexed [/ICCBased 5 0 R] 1 <ff000000ff00>]", "1", srgb).file(), good},
		{"ICC RGB", inSpace(icc, "1 0 0", srgb).file(), good},
		{"ICC CMYK", inSpace(icc, "1 0 0 0", coated).file(), good},
		{"ICC grey", inSpace(icc, "1", stream("/N 1", string(press.GreyProfile()))).file(), good},
		// An ICCBased space may have a Lab profile, of 3 components (ISO 32000-1, Table 67).
		{"ICC Lab", inSpace(icc, "50 0 0", stream("/N 3", string(labProfile()))).file(), good},
		{"an RGB profile for 4 components", inSpace(icc, "1 0 0 0", stream("/N 4", string(press.SRGB()))).file(), broken},
		{"a CMYK profile for 3", inSpace(icc, "1 0 0", stream("/N 3", string(press.Coated()))).file(), broken},
		{"a grey profile for 3", inSpace(icc, "1 0 0", stream("/N 3", string(press.GreyProfile()))).file(), broken},
		{"a link in place of a profile", inSpace(icc, "1 0 0", stream("/N 3", string(respaced(press.SRGB(), "RGB ", "link")))).file(), broken},
		{"a profile cut off", inSpace(icc, "1 0 0", stream("/N 3", string(press.SRGB()[:200]))).file(), broken},
		{"an empty profile", inSpace(icc, "1 0 0", stream("/N 3", "")).file(), broken},
		{"a profile of noise", inSpace(icc, "1 0 0", stream("/N 3", strings.Repeat("paint", 100))).file(), broken},
		{"a profile that cannot be unpacked", inSpace(icc, "1 0 0", stream("/N 3 /Filter /FlateDecode", "not zlib")).file(), broken},
		{"a broken profile that nothing uses", inOperator("0.5 g").with("/ColorSpace << /S [/ICCBased 5 0 R] >>").also("").plus(stream("/N 3", "x")).file(), good},
		// An intent covers the colours of its own kind (ISO 32000-1, 14.11.5).
		{"DeviceCMYK under a CMYK intent", inOperator("1 0 0 0 k").plus(coated).intent("5 0 R"), good},
		{"DeviceRGB under a CMYK intent", inOperator("1 0 0 rg").plus(coated).intent("5 0 R"), guess},
		{"DeviceRGB under an RGB intent", rgbIntent(inOperator("1 0 0 rg").plus(srgb)), good},
		{"DeviceCMYK under an RGB intent", rgbIntent(inOperator("1 0 0 0 k").plus(srgb)), inks},
		{"DeviceCMYK under an intent by name", inOperator("1 0 0 0 k").intent(""), good},
		{"DeviceRGB under an intent by name", inOperator("1 0 0 rg").intent(""), guess},
		{"a broken intent", inOperator("1 0 0 0 k").plus(stream("/N 4", "no profile")).intent("5 0 R"), "fail; warn fail fail fail"},
		// Default spaces stand in the place of device spaces (ISO 32000-1, 8.6.5.6).
		{"DefaultRGB", inOperator("1 0 0 rg").with("/ColorSpace << /DefaultRGB [/ICCBased 5 0 R] >>").plus(srgb).file(), good},
		{"DefaultCMYK", inOperator("1 0 0 0 k").with("/ColorSpace << /DefaultCMYK [/ICCBased 5 0 R] >>").plus(coated).file(), good},
		{"DefaultRGB with a broken profile", inOperator("1 0 0 rg").with("/ColorSpace << /DefaultRGB [/ICCBased 5 0 R] >>").plus(stream("/N 3", "x")).file(), broken},
		{"DefaultCMYK does nothing for RGB", inOperator("1 0 0 rg").with("/ColorSpace << /DefaultCMYK [/ICCBased 5 0 R] >>").plus(coated).file(), guess},
	} {
		t.Run(tt.name, func(t *testing.T) { tagsByProcess(t, tt.file, tt.want) })
	}
}

func tagsByProcess(t *testing.T, file []byte, want string) {
	t.Helper()
	path := kept(t, "card"+ending(file), file)
	var got []string
	var said string
	for _, process := range rules.Processes() {
		r := checktest.JudgeBy(t, path, rules.Order{Process: process}, checks.ColourTags)
		got, said = append(got, verdicts(r, "colour-tags")), words(r)
	}
	if strings.Join(got, " ") != want {
		t.Errorf("says %v, want %v:\n%s", got, want, said)
	}
}

// intent is the file under an output intent for coated paper, with the object of
// its profile, if any.
func (s sheet) intent(profile string) []byte {
	if profile != "" {
		profile = "/DestOutputProfile " + profile
	}
	s.catalog += " /OutputIntents [<< /Type /OutputIntent /S /GTS_PDFX /OutputConditionIdentifier (FOGRA39) " + profile + " >>]"
	return s.file()
}

// plus adds an object to the file.
func (s sheet) plus(objects ...string) sheet { s.objects = append(s.objects, objects...); return s }

// respaced is a profile that says it is of another space and class (ICC.1, 7.2:
// bytes 16 to 19, 12 to 15).
func respaced(profile []byte, space, class string) []byte {
	b := bytes.Clone(profile)
	copy(b[12:], class)
	copy(b[16:], space)
	return b
}

// labProfile is a colour space profile from Lab to Lab, by a table each way that
// changes nothing (ICC.1, 10.10 lut8Type).
func labProfile() []byte {
	ramp := make([]byte, 256)
	for i := range ramp {
		ramp[i] = byte(i)
	}
	table := []byte("mft1\x00\x00\x00\x00\x03\x03\x02\x00" + be(65536, 0, 0, 0, 65536, 0, 0, 0, 65536))
	table = slices.Concat(table, ramp, ramp, ramp)
	for i := range 8 {
		table = append(table, byte(i>>2&1*255), byte(i>>1&1*255), byte(i&1*255))
	}
	table = slices.Concat(table, ramp, ramp, ramp)
	head := respaced(press.SRGB()[:128], "Lab ", "spac")
	copy(head[20:], "Lab ")
	const at = 128 + 4 + 2*12
	directory := be(2) + "A2B0" + be(at, uint32(len(table))) + "B2A0" + be(at, uint32(len(table)))
	copy(head, be(uint32(at+len(table))))
	return slices.Concat(head, []byte(directory), table)
}

func TestColourTagsOfPictures(t *testing.T) {
	const good, guess, inks, broken = "pass pass pass pass", "warn warn warn warn", "warn pass pass pass", "fail fail fail fail"
	srgb, coated, grey := press.SRGB(), press.Coated(), press.GreyProfile()
	png := func(chunks ...string) []byte { return pngFile(t, rgbPicture(1125, 675), chunks...) }
	greyPNG := func(chunks ...string) []byte { return pngFile(t, greyPicture(1125, 675), chunks...) }
	jpg := func(segments ...string) []byte { return jpegFile(t, rgbPicture(1125, 675), segments...) }
	webp, err := os.ReadFile("../testdata/foreign/joiner.webp")
	if err != nil {
		t.Fatal(err)
	}
	third := len(srgb) / 3
	for _, tt := range []struct {
		name string
		file []byte
		want string
	}{
		{"PNG, nothing", png(), guess},
		{"PNG, grey", greyPNG(), good},
		{"PNG, sRGB", png(chunk("sRGB", "\x00")), good},
		{"PNG, gamma and primaries", png(chunk("gAMA", be(45455)), chunk("cHRM", be(31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000))), good},
		{"PNG, gamma alone", png(chunk("gAMA", be(45455))), guess},
		{"PNG, sRGB and its companions", png(chunk("gAMA", be(45455)), chunk("cHRM", be(31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000)), chunk("sRGB", "\x00")), good},
		{"PNG, sRGB with another gamma", png(chunk("gAMA", be(100000)), chunk("sRGB", "\x00")), broken},
		{"PNG, cICP for sRGB", png(chunk("cICP", "\x01\x0d\x00\x01")), good},
		{"PNG, profile", png(iccp(srgb)), good},
		// iCCP must be RGB for colour types 2, 3, 6 and grey for 0, 4 (W3C PNG, 11.3.2.3).
		{"PNG, CMYK profile on RGB", png(iccp(coated)), broken},
		{"PNG, grey profile on RGB", png(iccp(grey)), broken},
		{"PNG, RGB profile on grey", greyPNG(iccp(srgb)), broken},
		{"PNG, grey profile on grey", greyPNG(iccp(grey)), good},
		{"PNG, profile cut off", png(iccp(srgb[:300])), broken},
		{"PNG, profile that cannot be unpacked", png(chunk("iCCP", "p\x00\x00not zlib")), broken},
		{"PNG, two profiles", png(iccp(srgb), iccp(srgb)), broken},
		{"JPEG, nothing", jpg(), guess},
		{"JPEG, grey", jpegFile(t, greyPicture(1125, 675)), good},
		// ICC.1, Annex B: chunks are joined by their numbers, from 1, whatever
		// their order; one that is missing or doubled is bad.
		{"JPEG, one chunk", jpg(iccChunk(1, 1, srgb)), good},
		{"JPEG, three chunks", jpg(iccChunk(1, 3, srgb[:third]), iccChunk(2, 3, srgb[third:2*third]), iccChunk(3, 3, srgb[2*third:])), good},
		{"JPEG, chunks out of order", jpg(iccChunk(3, 3, srgb[2*third:]), iccChunk(1, 3, srgb[:third]), iccChunk(2, 3, srgb[third:2*third])), good},
		{"JPEG, a chunk missing", jpg(iccChunk(1, 3, srgb[:third]), iccChunk(3, 3, srgb[2*third:])), broken},
		{"JPEG, a chunk doubled", jpg(iccChunk(1, 2, srgb[:third]), iccChunk(1, 2, srgb[:third]), iccChunk(2, 2, srgb[third:])), broken},
		{"JPEG, chunks numbered from 0", jpg(iccChunk(0, 2, srgb[:third]), iccChunk(1, 2, srgb[third:])), broken},
		{"JPEG, CMYK profile on RGB", jpg(iccChunk(1, 2, coated[:60000]), iccChunk(2, 2, coated[60000:])), broken},
		{"JPEG, CMYK with its profile", plainCard().JPEG(100, press.In(press.CMYK)), good},
		{"JPEG, CMYK with none", plainCard().JPEG(100, press.In(press.CMYK), press.NoProfile()), inks},
		{"JPEG, CMYK with an RGB profile", plainCard().JPEG(100, press.In(press.CMYK), press.WithProfile(srgb)), broken},
		{"TIFF, CMYK with its profile", plainCard().TIFF(100), good},
		{"TIFF, CMYK with none", plainCard().TIFF(100, press.NoProfile()), inks},
		{"TIFF, RGB with none", plainCard().TIFF(100, press.In(press.RGB), press.NoProfile()), guess},
		{"TIFF, RGB with a link", plainCard().TIFF(100, press.In(press.RGB), press.WithProfile(respaced(srgb, "RGB ", "link"))), broken},
		{"TIFF, RGB with a Lab profile", plainCard().TIFF(100, press.In(press.RGB), press.WithProfile(labProfile())), broken},
		{"TIFF, Lab", labTIFF(1125, 675), good},
		// No profile means sRGB in WebP (WebP container specification).
		{"WebP, nothing", webp, good},
	} {
		t.Run(tt.name, func(t *testing.T) { tagsByProcess(t, tt.file, tt.want) })
	}
}

// iccp is an iCCP chunk: a name, the method, the profile compressed.
func iccp(profile []byte) string {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	z.Write(profile)
	z.Close()
	return chunk("iCCP", "profile\x00\x00"+b.String())
}

// iccChunk is part n of a profile in a JPEG.
func iccChunk(n, of byte, part []byte) string {
	return segment(0xe2, fmt.Sprintf("ICC_PROFILE\x00%c", n)+string([]byte{of})+string(part))
}

func be(values ...uint32) string {
	var b []byte
	for _, v := range values {
		b = binary.BigEndian.AppendUint32(b, v)
	}
	return string(b)
}
