package plates

import "testing"

// TestOverprint holds the rules of Table 149 and of 8.6.7 against plates: does
// paint of the colour leave the plate as it is?
func TestOverprint(t *testing.T) {
	device := &space{family: cmyk, n: 4, device: true}
	icc := &space{family: cmyk, n: 4}
	grey := &space{family: gray, n: 1, device: true}
	spot := &space{family: inks, n: 1, names: []string{"Gold"}}
	all := &space{family: inks, n: 1, names: []string{"All"}, all: true}
	none := &space{family: inks, n: 1, names: []string{"None"}}
	two := &space{family: inks, n: 2, names: []string{"Gold", "Black"}}
	table := &space{family: indexed, n: 1, base: device, table: []byte{0, 0, 0, 255}}
	const off, mode0, mode1 = 0, 1, 2
	cases := []struct {
		why    string
		space  *space
		v      []float64
		mode   int
		image  bool
		spared string // of C, M, Y, K and the spots Gold and Mint
	}{
		{why: "without overprint all is knocked out", space: device, v: []float64{0, 0, 0, 1}, mode: off, spared: "------"},
		{why: "DeviceCMYK, OPM 0: process colorants are painted, spots are not", space: device, v: []float64{0, 0, 0, 1}, mode: mode0, spared: "----xx"},
		{why: "DeviceCMYK, OPM 1: colorants of 0 are not painted", space: device, v: []float64{0, .5, 0, 1}, mode: mode1, spared: "x-x-xx"},
		{why: "DeviceCMYK, OPM 1, nothing at all", space: device, v: []float64{0, 0, 0, 0}, mode: mode1, spared: "xxxxxx"},
		{why: "OPM 1 is not for sampled images", space: device, v: []float64{0, 0, 0, 1}, mode: mode1, image: true, spared: "----xx"},
		{why: "OPM 1 is not for ICCBased", space: icc, v: []float64{0, 0, 0, 1}, mode: mode1, spared: "----xx"},
		{why: "OPM 1 is not for DeviceGray", space: grey, v: []float64{.5}, mode: mode1, spared: "----xx"},
		{why: "OPM 1 is not for Indexed", space: table, v: []float64{0}, mode: mode1, spared: "----xx"},
		{why: "Separation, overprint: only its own colorant", space: spot, v: []float64{.5}, mode: mode0, spared: "xxxx-x"},
		{why: "Separation of 0, OPM 1: it is painted all the same", space: spot, v: []float64{0}, mode: mode1, spared: "xxxx-x"},
		{why: "Separation, no overprint", space: spot, v: []float64{.5}, mode: off, spared: "------"},
		{why: "DeviceN: the colorants that it names", space: two, v: []float64{0, 0}, mode: mode1, spared: "xxx--x"},
		{why: "All is every colorant (8.6.6.4)", space: all, v: []float64{1}, mode: mode0, spared: "------"},
		{why: "None paints nothing ever (8.6.6.4)", space: none, v: []float64{1}, mode: off, spared: "xxxxxx"},
	}
	plates := append(processPlates(), spotPlate("Gold"), spotPlate("Mint"))
	for _, c := range cases {
		got := ""
		for _, p := range plates {
			if p.spares(c.space, c.v, overprint{c.mode != off, c.mode - 1}, !c.image) {
				got += "x"
			} else {
				got += "-"
			}
		}
		if got != c.spared {
			t.Errorf("%s: spared %s, want %s", c.why, got, c.spared)
		}
	}
}

// TestInk holds the conversions of 10.3 against values worked out by hand.
func TestInk(t *testing.T) {
	cases := []struct {
		space *space
		v     []float64
		want  [4]float64
	}{
		{&space{family: gray, n: 1}, []float64{.25}, [4]float64{0, 0, 0, .75}},
		{&space{family: cmyk, n: 4}, []float64{.1, .2, 1.5, -1}, [4]float64{.1, .2, 1, 0}},
		{&space{family: rgb, n: 3}, []float64{1, .5, .25}, [4]float64{0, .5, .75, 0}},
		{&space{family: rgb, n: 3}, []float64{.5, .5, .25}, [4]float64{0, 0, .25, .5}},
		{&space{family: lab, n: 3}, []float64{0, 0, 0}, [4]float64{0, 0, 0, 1}},
		{&space{family: rgb, n: 3, estimate: func(cmyk, rgb []byte) { copy(cmyk, []byte{rgb[0], rgb[1], rgb[2], 51}) }}, []float64{1, 0, .2}, [4]float64{1, 0, .2, .2}},
	}
	for _, c := range cases {
		for i, p := range processPlates() {
			got, named := c.space.ink(c.v, p)
			if !named || got < c.want[i]-.002 || got > c.want[i]+.002 {
				t.Errorf("family %d %v: %s is %.3f (named %v), want %.3f", c.space.family, c.v, p.name, got, named, c.want[i])
			}
		}
	}
}

// TestMaskBrightness holds luminosity against the weights of 11.5.3 and 10.3.
func TestMaskBrightness(t *testing.T) {
	for _, c := range []struct {
		space *space
		v     []float64
		want  float64
	}{
		{&space{family: gray, n: 1}, []float64{.3}, .3},
		{&space{family: rgb, n: 3}, []float64{1, 0, 0}, .3},
		{&space{family: rgb, n: 3}, []float64{0, 1, 1}, .7},
		{&space{family: cmyk, n: 4}, []float64{1, 0, 0, 0}, .7},
		{&space{family: cmyk, n: 4}, []float64{.5, .5, .5, .8}, 0},
	} {
		if got, _ := c.space.ink(c.v, maskPlate()); got < 1-c.want-1e-9 || got > 1-c.want+1e-9 {
			t.Errorf("%v: %v, want %v", c.v, 1-got, c.want)
		}
	}
}
