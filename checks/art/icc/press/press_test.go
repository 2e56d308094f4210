package press

import (
	"fmt"
	"os/exec"
	"strings"
	"testing"

	"stoneproof/checks/art/icc"
	"stoneproof/checks/checktest/outside"
)

func TestProfiles(t *testing.T) {
	if p := Coated(); p.Space != icc.CMYK || p.Class != icc.Output || p.PCS != icc.Lab || len(p.Trouble) > 0 || p != Coated() {
		t.Errorf("the carried profile is %+v", p)
	}
	if !SRGB().SRGB() {
		t.Error("SRGB is not sRGB")
	}
}

// every calls f for a grid of colours of n components, levels of each.
func every(n, levels int, f func([]byte)) {
	c := make([]byte, n)
	var walk func(int)
	walk = func(i int) {
		if i == n {
			f(c)
			return
		}
		for k := range levels {
			c[i] = byte(255 * k / (levels - 1))
			walk(i + 1)
		}
	}
	walk(0)
}

// White is bare paper, and paper white. Inks are what they are called: most of
// the ink for a light ground is the one it looks like.
func TestInksAndScreen(t *testing.T) {
	rgb := []byte{255, 255, 255, 0, 0, 0, 255, 255, 0}
	cmyk := make([]byte, 12)
	Inks(cmyk, rgb)
	if white := [4]byte(cmyk); white != [4]byte{} {
		t.Errorf("white costs %v", white)
	}
	if black := [4]byte(cmyk[4:]); black[3] < 240 || black[0] < 150 {
		t.Errorf("black costs %v", black)
	}
	if yellow := [4]byte(cmyk[8:]); yellow[2] < 200 || yellow[0] > 40 || yellow[3] > 5 {
		t.Errorf("yellow costs %v", yellow)
	}
	Screen(rgb, []byte{0, 0, 0, 0, 0, 0, 0, 255, 0, 0, 255, 0})
	if [3]byte(rgb) != [3]byte{255, 255, 255} || rgb[3] < 30 || rgb[3] > 60 || rgb[6] < 240 || rgb[8] > 60 {
		t.Errorf("paper, black ink and yellow ink look like %v", rgb)
	}
}

// The largest sum of inks for any sRGB colour (52 levels of each component,
// every fifth), and that of black: as the doc of Inks tells.
func TestInkSum(t *testing.T) {
	largest, of := 0.0, [3]byte{}
	cmyk := make([]byte, 4)
	sum := func(rgb []byte) (percent float64) {
		Inks(cmyk, rgb)
		for _, v := range cmyk {
			percent += float64(v) / 2.55
		}
		return percent
	}
	every(3, 52, func(rgb []byte) {
		if s := sum(rgb); s > largest {
			largest, of = s, [3]byte(rgb)
		}
	})
	black := sum(make([]byte, 3))
	t.Logf("largest %.1f %% for %v; black %.1f %%", largest, of, black)
	if largest > 318 || black < 316 || black > 317 {
		t.Error("Inks tells of other sums")
	}
}

// Both ways agree with transicc (Debian liblcms2-utils), sRGB being its own.
func TestAgreesWithEngine(t *testing.T) {
	engine := outside.Tool(t, "transicc")
	for _, c := range []struct {
		name     string
		args     []string
		n, m     int
		levels   int
		in, out  float64 // what it calls full
		ours     func(dst, src []byte)
		farthest float64
	}{
		{"inks", []string{"-t1", "-b", "-i*sRGB", "-oFOGRA39L_coated.icc"}, 3, 4, 16, 255, 100, Inks, 12},
		{"screen", []string{"-t1", "-iFOGRA39L_coated.icc", "-o*sRGB"}, 4, 3, 7, 100, 255, Screen, 20},
	} {
		var src []byte
		var text strings.Builder
		every(c.n, c.levels, func(p []byte) {
			src = append(src, p...)
			for _, v := range p {
				fmt.Fprintf(&text, "%.9f ", float64(v)*c.in/255)
			}
			text.WriteByte('\n')
		})
		cmd := exec.Command(engine, append([]string{"-n", "-c0"}, c.args...)...)
		cmd.Stdin = strings.NewReader(text.String())
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		dst := make([]byte, len(src)/c.n*c.m)
		c.ours(dst, src)
		fields := strings.Fields(string(out))
		if len(fields) != len(dst) {
			t.Fatalf("%s: %d numbers, not %d", c.name, len(fields), len(dst))
		}
		mean, largest := 0.0, 0.0
		for i, f := range fields {
			var want float64
			if _, err := fmt.Sscan(f, &want); err != nil {
				t.Fatal(err)
			}
			want = min(max(want*255/c.out, 0), 255)
			d := max(float64(dst[i])-want, want-float64(dst[i]))
			mean += d / float64(len(fields))
			largest = max(largest, d)
		}
		t.Logf("%s: %d colours, mean %.3f, largest %.2f of 255", c.name, len(src)/c.n, mean, largest)
		if mean > 0.3 || largest > c.farthest {
			t.Errorf("%s: off by %.3f in the mean, %.2f at most", c.name, mean, largest)
		}
	}
}
