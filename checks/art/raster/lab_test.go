package raster

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"stoneproof/checks/checktest/outside"
)

// TestLabToSRGB checks sRGB colours under D50, computed and confirmed by a
// reference colour engine to 0.05.
func TestLabToSRGB(t *testing.T) {
	for _, c := range []struct {
		name    string
		l, a, b float64
		want    [3]byte
	}{
		{"red", 54.29, 80.80, 69.89, [3]byte{255, 0, 0}},
		{"green", 87.82, -79.27, 80.99, [3]byte{0, 255, 0}},
		{"blue", 29.57, 68.29, -112.03, [3]byte{0, 0, 255}},
		{"gray", 53.585, 0, 0, [3]byte{128, 128, 128}},
		{"white", 100, 0, 0, [3]byte{255, 255, 255}},
		{"black", 0, 0, 0, [3]byte{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			for i, v := range labToLight(c.l, c.a, c.b) {
				got := int(encodeSRGB(min(max(v, 0), 1)))
				if d := got - int(c.want[i]); d < -1 || d > 1 {
					t.Errorf("channel %d is %d, want %d", i, got, c.want[i])
				}
			}
		})
	}
}

// TestLabAgainstLittleCMS converts the same bytes with a reference colour
// engine, and compares what it places inside sRGB.
func TestLabAgainstLittleCMS(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	var pix []byte
	var ask strings.Builder
	for range 400 {
		l, a, b := byte(20+random.IntN(220)), int8(random.IntN(80)-40), int8(random.IntN(80)-40)
		pix = append(pix, l, byte(a), byte(b), 255)
		fmt.Fprintf(&ask, "%.4f %d %d\n", float64(l)*100/255, a, b)
	}
	cmd := exec.Command(outside.Tool(t, "transicc"), "-t1", "-i*Lab", "-o*sRGB", "-n")
	cmd.Stdin = strings.NewReader(ask.String())
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	px := Pixels{Pix: pix}
	px.viewLab(signed)
	answers, compared := bytes.NewReader(out), 0
	for i := range 400 {
		var want [3]float64
		if _, err := fmt.Fscan(answers, &want[0], &want[1], &want[2]); err != nil {
			t.Fatal(err)
		}
		if min(want[0], want[1], want[2]) < 1 || max(want[0], want[1], want[2]) > 254 {
			continue // it clips otherwise than we do
		}
		compared++
		for c, v := range want {
			if d := float64(px.Pix[4*i+c]) - v; d < -1.5 || d > 1.5 {
				t.Errorf("Lab %d: channel %d is %d, want %.2f", i, c, px.Pix[4*i+c], v)
			}
		}
	}
	if compared < 200 {
		t.Errorf("only %d colours were compared", compared)
	}
}

// TestLabStorage reads one Lab colour in each of the ways TIFF stores it.
func TestLabStorage(t *testing.T) {
	red := []byte{138, 81, 70} // 54.1, 81, 70
	plus := []byte{138, 81 + 128, 70 + 128}
	wide := func(b []byte) (out []byte) {
		for _, v := range b {
			out = binary.LittleEndian.AppendUint16(out, uint16(v)<<8)
		}
		return out
	}
	deep := map[uint16]any{tagBitsPerSample: []uint16{16, 16, 16}, tagSamplesPerPixel: uint16(3)}
	for name, page := range map[string]madePage{
		"CIELab 8":  plainPage(1, 1, photoCIELab, red),
		"ICCLab 8":  plainPage(1, 1, photoICCLab, plus),
		"CIELab 16": plainPage(1, 1, photoCIELab, wide(red)).with(deep),
		"ICCLab 16": plainPage(1, 1, photoICCLab, wide(plus)).with(deep),
	} {
		t.Run(name, func(t *testing.T) {
			h, px := open(t, littleTIFF(page))
			if h.Space != Lab || furthest(t, px.Pix, []byte{255, 0, 0, 255}) > 2 {
				t.Errorf("%s %v, want red", h.Space, px.Pix)
			}
		})
	}
}
