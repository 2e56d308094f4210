package plates

import (
	"fmt"
	"math"
	"testing"
)

// functionOf reads a function that is written as the tint transform of a page's
// only colour space.
func functionOf(t *testing.T, w *writer, object string) function {
	t.Helper()
	doc := openDoc(t, w.card(card{resources: "/ColorSpace<</F[/Separation/X/DeviceGray " + object + "]>>"}))
	page, err := doc.Page(1)
	if err != nil {
		t.Fatal(err)
	}
	j := newSeparation(doc, page, Options{Limits: DefaultLimits()})
	o, _ := doc.Find(page.Resources(), "ColorSpace", "F")
	return j.functionAt(doc.Array(o)[3], 0)
}

// TestCalculator runs operators of 7.10.5 on values that follow from the PostScript
// Language Reference, chapter 8.
func TestCalculator(t *testing.T) {
	for program, want := range map[string]float64{
		"{ 3 4 add }": 7, "{ 3 4 sub }": -1, "{ 7 2 idiv }": 3, "{ -5 3 mod }": -2, "{ 9 0.5 exp }": 3, "{ 0 1 atan }": 0, "{ -100 0 atan }": 270,
		"{ 100 log }": 2, "{ 30 sin }": 0.5, "{ -4.8 truncate }": -4, "{ 6.5 round }": 7, "{ -6.5 round }": -6, "{ 3.2 ceiling }": 4, "{ -4.8 floor }": -5,
		"{ 7 3 bitshift }": 56, "{ 142 -3 bitshift }": 17, "{ 99 1 and }": 1, "{ 17 5 or }": 21, "{ 7 3 xor }": 4,
		"{ 1 2 3 3 -1 roll }": 1, "{ 1 2 3 3 1 roll }": 2, "{ 5 6 7 2 index }": 5, "{ 5 6 2 copy add add add }": 22, "{ 5 6 exch pop }": 6,
		"{ pop 1 2 lt { 10 } { 20 } ifelse }": 10, "{ pop 5 2 1 gt { neg } if }": -5, "{ 1 0 div }": 0, "{ add add add }": 0.25, "{ }": 0.25, "{ pop true }": 1,
	} {
		w := &writer{}
		f := functionOf(t, w, w.stream("/FunctionType 4/Domain[0 1]/Range[-500 500]", program))
		if f == nil {
			t.Errorf("%s is not read", program)
			continue
		}
		if got := f([]float64{0.25})[0]; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s gives %v, want %v", program, got, want)
		}
	}
	for _, program := range []string{"", "1", "{ { 1 } }", "{ 1 if }", "{ { 1 } if", "{ { } { } { } ifelse }"} {
		w := &writer{}
		if functionOf(t, w, w.stream("/FunctionType 4/Domain[0 1]/Range[0 1]", program)) != nil {
			t.Errorf("%q is read", program)
		}
	}
}

// TestFunctions holds the other types against values worked out by hand.
func TestFunctions(t *testing.T) {
	grid := "\x00\x40\x80\xc0" // 2 × 2, the first input fastest (7.10.2)
	for _, c := range []struct {
		object string
		data   string
		in     []float64
		want   []float64
	}{
		{"<</FunctionType 2/Domain[0 1]/C0[0 1]/C1[1 .5]/N 2>>", "", []float64{.5}, []float64{.25, .875}},
		{"<</FunctionType 2/Domain[0 1]/N 1>>", "", []float64{7}, []float64{1}},
		{"<</FunctionType 3/Domain[0 1]/Bounds[.5]/Encode[0 1 1 0]/Functions[<</FunctionType 2/Domain[0 1]/N 1>><</FunctionType 2/Domain[0 1]/N 1>>]>>", "", []float64{.75}, []float64{.5}},
		{"[<</FunctionType 2/Domain[0 1]/N 1>><</FunctionType 2/Domain[0 1]/N 2>>]", "", []float64{.5}, []float64{.5, .25}},
		{"/FunctionType 0/Domain[0 1]/Range[0 1]/Size[3]/BitsPerSample 8", "\x00\xff\x00", []float64{.25}, []float64{.5}},
		{"/FunctionType 0/Domain[0 1]/Range[0 1]/Size[2]/BitsPerSample 4/Decode[1 0]", "\x0f", []float64{.25}, []float64{.75}},
		{"/FunctionType 0/Domain[0 1 0 1]/Range[0 255]/Size[2 2]/BitsPerSample 8", grid, []float64{.5, 0}, []float64{32}},
		{"/FunctionType 0/Domain[0 1 0 1]/Range[0 255]/Size[2 2]/BitsPerSample 8", grid, []float64{0, .5}, []float64{64}},
	} {
		w := &writer{}
		object := c.object
		if c.data != "" {
			object = w.stream(object, c.data)
		}
		got := functionOf(t, w, object)(c.in)
		if len(got) != len(c.want) {
			t.Fatalf("%s gives %v", c.object, got)
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%s gives %v, want %v", c.object, got, c.want)
			}
		}
	}
	deep := "<</FunctionType 2/Domain[0 1]/N 1>>"
	for range 20 {
		deep = fmt.Sprintf("<</FunctionType 3/Domain[0 1]/Bounds[]/Encode[0 1]/Functions[%s]>>", deep)
	}
	if functionOf(t, &writer{}, deep) != nil {
		t.Error("functions nest without end")
	}
}
