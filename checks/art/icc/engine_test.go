package icc

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"stoneproof/checks/checktest/outside"
)

// coatedFile is the profile of a real press that the project carries.
const coatedFile = "press/FOGRA39L_coated.icc"

// An engine is transicc (Debian liblcms2-utils), an independent one: it works
// out each colour by itself (-c0) and prints it (-n).
type engine struct {
	t    testing.TB
	path string
}

func newEngine(t testing.TB) engine { return engine{t, outside.Tool(t, "transicc")} }

// full is what the engine calls full light or full ink.
var full = map[Space]float64{Gray: 255, RGB: 255, CMYK: 100, Lab: 1}

// An end is a profile as both sides have it: a file for the engine.
type end struct {
	file    string // or a name that the engine has built in
	profile *Profile
}

var labEnd = end{"*Lab2", ConnectionLab()}

func fileEnd(t testing.TB, file string) end {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Parse(b)
	if err != nil {
		t.Fatal(err)
	}
	return end{file, p}
}

func draftEnd(t testing.TB, d draft) end {
	t.Helper()
	file := filepath.Join(t.TempDir(), "draft.icc")
	if err := os.WriteFile(file, d.bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return fileEnd(t, file)
}

// A way is a link of two ends; both are asked for it.
type way struct {
	from, to    end
	intent      Intent
	compensated bool
}

func (w way) String() string {
	name := w.intent.String()
	if w.compensated {
		name = "compensated"
	}
	return fmt.Sprintf("%s to %s, %s", filepath.Base(w.from.file), filepath.Base(w.to.file), name)
}

func (w way) transform() (*Transform, error) {
	if w.compensated {
		return NewCompensated(w.from.profile, w.to.profile)
	}
	return NewTransform(w.from.profile, w.to.profile, w.intent)
}

// ask gives the engine's results in our numbers.
func (e engine) ask(w way, colours [][]float64) [][]float64 {
	e.t.Helper()
	var in strings.Builder
	for _, c := range colours {
		for _, v := range c {
			fmt.Fprintf(&in, "%.9f ", v*full[w.from.profile.Space])
		}
		in.WriteByte('\n')
	}
	args := []string{"-n", "-c0", fmt.Sprintf("-t%d", w.intent), "-i" + w.from.file, "-o" + w.to.file}
	if w.compensated {
		args = append(args, "-b")
	}
	cmd := exec.Command(e.path, args...)
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	if err != nil {
		e.t.Fatalf("%s: %v", w, err)
	}
	fields := strings.Fields(string(out))
	n := w.to.profile.Space.Components()
	if len(fields) != n*len(colours) {
		e.t.Fatalf("%s: %d numbers for %d colours", w, len(fields), len(colours))
	}
	results := make([][]float64, len(colours))
	for i := range fields {
		v, err := strconv.ParseFloat(fields[i], 64)
		if err != nil {
			e.t.Fatal(err)
		}
		results[i/n] = append(results[i/n], v/full[w.to.profile.Space])
	}
	return results
}

// colours are a grid over all bytes of a space, as floats: 16 levels of each
// component (256 of grey, 6 of CMYK).
func colours(s Space) [][]float64 {
	step := map[int]int{1: 1, 3: 17, 4: 51}[s.Components()]
	list := [][]float64{nil}
	for range s.Components() {
		var more [][]float64
		for _, c := range list {
			for v := 0; v <= 255; v += step {
				more = append(more, append(c[:len(c):len(c)], float64(v)/255))
			}
		}
		list = more
	}
	if s == Lab {
		for _, c := range list {
			c[0], c[1], c[2] = 100*c[0], 255*c[1]-128, 255*c[2]-128
		}
	}
	return list
}

// apart are the differences of many numbers, in steps of a byte.
type apart struct {
	mean, largest float64
	far           float64 // share that is more than two steps off
}

func (a apart) String() string {
	return fmt.Sprintf("mean %.4f, largest %.3f, %.3f %% more than 2", a.mean, a.largest, 100*a.far)
}

func compare(got, want [][]float64, s Space) (a apart) {
	n := 0.0
	for i := range got {
		for k := range got[i] {
			d := 255 * math.Abs(got[i][k]-min(max(want[i][k], 0), 1)) // the engine has light below 0 and above 1
			if s == Lab {
				d = math.Abs(got[i][k] - want[i][k])
			}
			a.mean += d
			a.largest = max(a.largest, d)
			if d > 2 {
				a.far++
			}
			n++
		}
	}
	a.mean, a.far = a.mean/n, a.far/n
	return a
}

// exact and bytes are the colours by both paths.
func exact(t *Transform, list [][]float64) [][]float64 {
	got := make([][]float64, len(list))
	for i, c := range list {
		got[i] = make([]float64, t.to.Components())
		t.Floats(got[i], c)
	}
	return got
}

func bytes8(t *Transform, list [][]float64) [][]float64 {
	n, m := t.from.Components(), t.to.Components()
	src, dst := make([]byte, n*len(list)), make([]byte, m*len(list))
	for i, c := range list {
		for k, v := range c {
			src[i*n+k] = toByte(v, k, t.from)
		}
	}
	t.Bytes(dst, src)
	got := make([][]float64, len(list))
	for i := range got {
		for k := range m {
			got[i] = append(got[i], fromByte(dst[i*m+k], k, t.to))
		}
	}
	return got
}

func toByte(v float64, component int, s Space) byte {
	switch {
	case s != Lab:
		v *= 255
	case component == 0:
		v *= 2.55
	default:
		v += 128
	}
	return byte(math.Round(v))
}

func fromByte(b byte, component int, s Space) float64 {
	switch {
	case s != Lab:
		return float64(b) / 255
	case component == 0:
		return float64(b) / 2.55
	}
	return float64(b) - 128
}

// The press's profile and sRGB, both ways, with every intent. The exact path
// differs by what the engine's 16 bits round. The path of bytes adds the
// rounding to a byte (a quarter in the mean) and what is lost between the
// crossings of its lattice, which is most where a colour leaves the gamut.
func TestAgreesWithEngine(t *testing.T) {
	e := newEngine(t)
	coated, rgb := fileEnd(t, coatedFile), draftEnd(t, screen())
	var ways []way
	for intent := range AbsoluteColorimetric + 1 {
		ways = append(ways, way{rgb, coated, intent, false}, way{coated, rgb, intent, false}, way{coated, labEnd, intent, false},
			way{labEnd, coated, intent, false}, way{rgb, labEnd, intent, false})
	}
	ways = append(ways, way{rgb, coated, RelativeColorimetric, true}, way{coated, rgb, RelativeColorimetric, true})
	for _, w := range ways {
		tr, err := w.transform()
		if err != nil {
			t.Fatalf("%s: %v", w, err)
		}
		list := colours(tr.from)
		want := e.ask(w, list)
		slow, fast := compare(exact(tr, list), want, tr.to), compare(bytes8(tr, list), want, tr.to)
		t.Logf("%s: %d colours; floats %s; bytes %s", w, len(list), slow, fast)
		if slow.mean > 0.01 || slow.largest > 0.2 {
			t.Errorf("%s: floats are off by %s", w, slow)
		}
		if fast.mean > 0.35 || fast.largest > 24 || fast.far > 0.02 {
			t.Errorf("%s: bytes are off by %s", w, fast)
		}
	}
}

// levelTop are profiles with curves that are level at the top. On the level
// stretch any answer is right, and the engine's differ by channel for one white.
var levelTop = regexp.MustCompile(`CineonLog|esrgb`)

// Whatever profile is installed on this machine, to Lab and from sRGB.
func TestAgreesOnInstalledProfiles(t *testing.T) {
	e := newEngine(t)
	rgb := draftEnd(t, screen())
	rng := rand.New(rand.NewPCG(1, 2))
	for _, file := range installed(t) {
		p := fileEnd(t, file)
		ways := []way{{p, labEnd, RelativeColorimetric, false}, {p, labEnd, AbsoluteColorimetric, false}}
		if !levelTop.MatchString(file) {
			ways = append(ways, way{rgb, p, RelativeColorimetric, false})
		}
		for _, w := range ways {
			tr, err := w.transform()
			var unsupported UnsupportedError
			if errors.As(err, &unsupported) {
				continue // of abstract and named colours, and in XYZ
			}
			if err != nil {
				t.Errorf("%s: %v", w, err)
				continue
			}
			list := colours(tr.from)
			rng.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
			list = list[:min(len(list), 200)]
			if a := compare(exact(tr, list), e.ask(w, list), tr.to); a.largest > 0.5 {
				t.Errorf("%s: %s", w, a)
			}
		}
	}
}

// Every kind of table, written here and read by both. Colours stay within what
// a table takes: beyond, the engine's floats run on through a parametric curve,
// where ICC.1 has its numbers end at 0 and 1 (10.12.1).
func TestAgreesOnTables(t *testing.T) {
	e := newEngine(t)
	rgb := draftEnd(t, screen())
	for name, d := range tables() {
		p := draftEnd(t, d)
		for _, w := range []way{{p, labEnd, RelativeColorimetric, false}, {p, rgb, AbsoluteColorimetric, false}, {rgb, p, RelativeColorimetric, false}, {labEnd, p, RelativeColorimetric, false}} {
			tr, err := w.transform()
			if err != nil {
				t.Fatalf("%s: %s: %v", name, w, err)
			}
			list := colours(tr.from)
			a := compare(exact(tr, list), e.ask(w, list), tr.to)
			t.Logf("%s: %s: %s", name, w, a)
			if a.mean > 0.05 || a.largest > 0.5 {
				t.Errorf("%s: %s: off by %s", name, w, a)
			}
		}
	}
}
