package raster

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// takeColour reads the chunks that speak of colour (W3C PNG, 11.3.2).
func (f *pngFacts) takeColour(name string, d []byte, lim Limits) {
	claim := func(kind ClaimKind, values ...float64) {
		if _, twice := f.claim(kind); twice {
			return // no chunk of these may be there twice (W3C PNG, 5.6, Table 7); the first counts
		}
		f.claims = append(f.claims, Claim{Source: "PNG " + name, Kind: kind, Values: values})
	}
	switch {
	case name == "iCCP" && f.profiled:
		f.profile, f.trouble = nil, "the PNG has two profiles"
	case name == "iCCP":
		f.profiled = true
		f.profile, f.trouble = inflateProfile(d, lim.ProfileBytes)
	case name == "sRGB" && len(d) == 1:
		claim(ClaimSRGB, float64(d[0]))
	case name == "gAMA" && len(d) == 4:
		claim(ClaimGamma, hundredThousandths(d)...)
	case name == "cHRM" && len(d) == 32:
		claim(ClaimPrimaries, hundredThousandths(d)...)
	case name == "cICP" && len(d) == 4:
		claim(ClaimCodePoints, float64(d[0]), float64(d[1]), float64(d[2]), float64(d[3]))
	}
}

// hundredThousandths reads numbers that gAMA and cHRM store times 100000.
func hundredThousandths(d []byte) (v []float64) {
	for ; len(d) >= 4; d = d[4:] {
		v = append(v, float64(binary.BigEndian.Uint32(d))/1e5)
	}
	return v
}

// inflateProfile takes the profile out of an iCCP chunk (W3C PNG, 11.3.2.3):
// a name of 1 to 79 bytes, a zero, the method 0, a zlib stream.
func inflateProfile(d []byte, most int) (profile []byte, trouble string) {
	name := bytes.IndexByte(d, 0)
	if name < 1 || name > 79 || len(d) < name+2 || d[name+1] != 0 {
		return nil, "the iCCP chunk does not begin as it must"
	}
	z, err := zlib.NewReader(bytes.NewReader(d[name+2:]))
	if err != nil {
		return nil, "its compressed data cannot be read"
	}
	profile, err = io.ReadAll(io.LimitReader(z, int64(most)+1))
	switch {
	case err != nil:
		return nil, "its compressed data cannot be read"
	case len(profile) > most:
		return nil, fmt.Sprintf("it has more than %d bytes", most)
	case len(profile) == 0:
		return nil, "it is empty"
	}
	return profile, ""
}

// contradictions are colour chunks that do not go together. Their order of
// precedence is cICP, iCCP, sRGB, then cHRM with gAMA (W3C PNG, 4.3); a profile
// or sRGB beside cICP is there for older readers and is no contradiction.
func (f *pngFacts) contradictions() []string {
	srgb, says := f.claim(ClaimSRGB)
	var said []string
	if says && f.profiled {
		said = append(said, "the PNG carries a profile and calls itself sRGB as well; the profile goes first")
	}
	if says && srgb.Values[0] > 3 {
		said = append(said, fmt.Sprintf("the sRGB chunk gives rendering intent %.0f; there are 0 to 3", srgb.Values[0]))
	}
	if says {
		said = append(said, f.companions()...)
	}
	return said
}

// companions checks gAMA and cHRM beside sRGB, which fixes both (W3C PNG,
// 11.3.2.5).
func (f *pngFacts) companions() []string {
	var said []string
	for _, want := range []struct {
		kind   ClaimKind
		values []float64
	}{
		{ClaimGamma, []float64{.45455}},
		{ClaimPrimaries, []float64{.3127, .329, .64, .33, .3, .6, .15, .06}},
	} {
		got, ok := f.claim(want.kind)
		if ok && !near(got.Values, want.values) {
			said = append(said, fmt.Sprintf("the PNG calls itself sRGB, but its %s chunk is not that of sRGB", got.Source[len("PNG "):]))
		}
	}
	return said
}

// near allows for writers that round: one unit of the fourth decimal place.
func near(a, b []float64) bool {
	for i := range b {
		if math.Abs(a[i]-b[i]) > 1e-4 {
			return false
		}
	}
	return true
}

func (f *pngFacts) claim(kind ClaimKind) (Claim, bool) {
	for _, c := range f.claims {
		if c.Kind == kind {
			return c, true
		}
	}
	return Claim{}, false
}
