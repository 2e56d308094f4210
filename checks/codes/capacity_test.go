package codes_test

import (
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"

	"stoneproof/checks/codes"
)

// TestCapacity holds numbers of ISO/IEC 18004:2015, Table 7 (from memory).
func TestCapacity(t *testing.T) {
	const digits, capitals, bytes = "1", "A", "a"
	for _, tt := range []struct {
		version int
		level   string
		text    string
		want    int
	}{
		{1, "L", digits, 41}, {1, "M", digits, 34}, {1, "Q", digits, 27}, {1, "H", digits, 17},
		{1, "L", capitals, 25}, {1, "M", capitals, 20}, {1, "Q", capitals, 16}, {1, "H", capitals, 10},
		{1, "L", bytes, 17}, {1, "M", bytes, 14}, {1, "Q", bytes, 11}, {1, "H", bytes, 7},
		{2, "L", bytes, 32}, {2, "M", bytes, 26}, {2, "Q", bytes, 20}, {2, "H", bytes, 14},
		{3, "L", bytes, 53}, {3, "M", bytes, 42}, {3, "Q", bytes, 32}, {3, "H", bytes, 24},
		{4, "L", bytes, 78}, {4, "M", bytes, 62}, {4, "Q", bytes, 46}, {4, "H", bytes, 34},
		{10, "L", bytes, 271}, {10, "M", bytes, 213}, {10, "Q", bytes, 151}, {10, "H", bytes, 119},
		{40, "L", digits, 7089}, {40, "L", capitals, 4296}, {40, "L", bytes, 2953}, {40, "H", bytes, 1273},
	} {
		if got, err := codes.Capacity(tt.version, tt.level, tt.text); err != nil || got != tt.want {
			t.Errorf("version %d, level %s, %q: %d, %v; want %d", tt.version, tt.level, tt.text, got, err, tt.want)
		}
	}
	if _, err := codes.Capacity(41, "L", ""); err == nil {
		t.Error("there is a version 41")
	}
	if _, err := codes.Capacity(1, "", ""); err == nil {
		t.Error("there is a level without a name")
	}
}

// TestCapacityIsWhatFits: the encoder takes a text of just so many characters in the
// version, and not one more.
func TestCapacityIsWhatFits(t *testing.T) {
	for _, kind := range []string{"7", "Q", "q"} {
		for _, level := range []string{"L", "M", "Q", "H"} {
			for version := 1; version < 40; version += 3 {
				n, err := codes.Capacity(version, level, kind)
				if err != nil {
					t.Fatal(err)
				}
				if a, b := versionOf(t, strings.Repeat(kind, n), level), versionOf(t, strings.Repeat(kind, n+1), level); a != version || b != version+1 {
					t.Errorf("%d × %q at %s need version %d, one more %d; want %d and one more", n, kind, level, a, b, version)
				}
			}
		}
	}
}

func versionOf(t *testing.T, text, level string) int {
	t.Helper()
	ec, err := decoder.ErrorCorrectionLevel_ValueOf(level)
	if err != nil {
		t.Fatal(err)
	}
	code, werr := encoder.Encoder_encode(text, ec, nil)
	if werr != nil {
		t.Fatal(werr)
	}
	return code.GetVersion().GetVersionNumber()
}

func TestVersions(t *testing.T) {
	for version := 1; version <= 40; version++ {
		if n := codes.Modules(version); codes.Version(n) != version {
			t.Errorf("version %d has %d modules, which are version %d", version, n, codes.Version(n))
		}
	}
	for _, n := range []int{0, 17, 20, 22, 181} {
		if v := codes.Version(n); v != 0 {
			t.Errorf("%d modules are version %d", n, v)
		}
	}
}
