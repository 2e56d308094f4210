package press

import (
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"stoneproof/checks/checktest/outside"
)

// TestSRGBByReference sends colours through a reference colour engine. The Lab
// values are those of sRGB adapted to D50 by Bradford, as that engine's own
// built-in profile gives them.
func TestSRGBByReference(t *testing.T) {
	path := kept(t, "srgb.icc", SRGB())
	for _, tt := range []struct {
		rgb  string
		want [3]float64
	}{
		{"255 0 0", [3]float64{54.29, 80.80, 69.89}},
		{"0 255 0", [3]float64{87.82, -79.27, 80.99}},
		{"0 0 255", [3]float64{29.57, 68.29, -112.03}},
		{"128 128 128", [3]float64{53.585, 0, 0}},
	} {
		got := transformed(t, tt.rgb, "-i"+path, "-o*Lab")
		for i, w := range tt.want {
			if math.Abs(got[i]-w) > .15 {
				t.Errorf("%s is Lab %.2f, want %.2f", tt.rgb, got, tt.want)
				break
			}
		}
	}
}

// TestGreyByReference does the same for one channel of light.
func TestGreyByReference(t *testing.T) {
	got := transformed(t, "128", "-i"+kept(t, "grey.icc", GreyProfile()), "-o*Lab")
	if math.Abs(got[0]-53.585) > .15 || math.Abs(got[1]) > .1 || math.Abs(got[2]) > .1 {
		t.Errorf("middle grey is Lab %.2f", got)
	}
}

func transformed(t *testing.T, in string, args ...string) []float64 {
	t.Helper()
	cmd := exec.Command(outside.Tool(t, "transicc"), append([]string{"-n", "-t1"}, args...)...)
	cmd.Stdin = strings.NewReader(strings.ReplaceAll(in, " ", "\n") + "\n")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var values []float64
	for _, word := range strings.Fields(string(out)) {
		if v, err := strconv.ParseFloat(word, 64); err == nil {
			values = append(values, v)
		}
	}
	if len(values) != 3 {
		t.Fatalf("%v: %q", args, out)
	}
	return values
}

// TestProfilesKeepTheForm checks the header by the letter (ICC.1:2001-04, 6.1).
func TestProfilesKeepTheForm(t *testing.T) {
	for space, icc := range map[string][]byte{"RGB ": SRGB(), "GRAY": GreyProfile(), "CMYK": Coated()} {
		if got := int(be.Uint32(icc)); got != len(icc) {
			t.Errorf("%s tells %d bytes, has %d", space, got, len(icc))
		}
		if string(icc[16:20]) != space || string(icc[36:40]) != "acsp" || icc[8] != 2 {
			t.Errorf("%s: space %q, mark %q, version %d", space, icc[16:20], icc[36:40], icc[8])
		}
		for i := range int(be.Uint32(icc[128:])) {
			e := icc[132+12*i:]
			if at, n := int(be.Uint32(e[4:])), int(be.Uint32(e[8:])); at%4 != 0 || at+n > len(icc) {
				t.Errorf("%s: tag %q lies at %d, %d long", space, e[:4], at, n)
			}
		}
	}
}

// TestSeenIsShown takes colours of light to inks and back.
func TestSeenIsShown(t *testing.T) {
	for _, c := range []rgb{{1, 1, 1}, {.8, .8, .8}, {.5, .5, .5}, {.9, .7, .5}, {.6, .4, .3}, {.5, .6, .7}, {.3, .25, .2}} {
		k := seen(c.r, c.g, c.b)
		got := k.rgb()
		if d := math.Abs(got[0]-c.r) + math.Abs(got[1]-c.g) + math.Abs(got[2]-c.b); d > .35 {
			t.Errorf("%v prints as %v, shown as %.2f", c, k, got)
		}
	}
	for i := range 2000 {
		if k := seen(hash(i, 1, 1), hash(i, 2, 1), hash(i, 3, 1)); k.sum() > 2.4+1e-9 {
			t.Fatalf("%v sums to %.2f", k, k.sum())
		}
	}
}
