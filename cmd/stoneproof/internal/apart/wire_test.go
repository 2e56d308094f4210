package apart

import (
	"bytes"
	"image"
	"io"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"stoneproof/checks"
	"stoneproof/rules"
)

// across sends v and receives it.
func across[T any](t interface{ Fatal(...any) }, v T) T {
	var b bytes.Buffer
	if err := send(&b, v); err != nil {
		t.Fatal(err)
	}
	var got T
	if err := receive(&b, &got); err != nil {
		t.Fatal(err)
	}
	if err := receive(&b, &got); err != io.EOF {
		t.Fatal("something is left over:", err)
	}
	return got
}

// Whatever stands in the fields of a request or a report crosses whole: every
// field, numbers that are none, bytes that are no text. Only a list that is empty
// may come out as none.
func TestEveryFieldCrosses(t *testing.T) {
	same := cmp.Options{cmpopts.EquateNaNs(), cmpopts.EquateEmpty()}
	t.Run("request", func(t *testing.T) {
		everyField[request](t, same)
	})
	t.Run("report", func(t *testing.T) {
		everyField[rules.FileReport](t, same)
	})
}

func everyField[T any](t *testing.T, same cmp.Options) {
	values := rapid.Make[T]()
	rapid.Check(t, func(t *rapid.T) {
		v := values.Draw(t, "value")
		if diff := cmp.Diff(v, across(t, v), same); diff != "" {
			t.Fatalf("(-sent +got)\n%s", diff)
		}
	})
}

func TestBytesThatAreNoTextCross(t *testing.T) {
	zero := 0.0
	r := rules.FileReport{Path: "b\xffd\x00.pdf", Findings: []rules.Finding{{
		Verdict: rules.Skip, Message: "\xc3\x28", Measured: &rules.Quantity{Value: &zero}, Where: &rules.Box{},
	}}, Sides: []rules.SideFacts{{Face: &rules.Face{Reading: &rules.Reading{}}}}}
	if diff := cmp.Diff(r, across(t, r)); diff != "" {
		t.Errorf("(-sent +got)\n%s", diff)
	}
}

// A child runs the very checks that the parent would.
func TestChecksCross(t *testing.T) {
	all := checks.All()
	q := across(t, requestOf(&checks.Judge{Checks: all}, "card.pdf"))
	got, err := q.checks()
	if err != nil || len(got) != len(all) {
		t.Fatalf("%d of %d checks (%v)", len(got), len(all), err)
	}
	for i := range all {
		if got[i] != all[i] {
			t.Errorf("check %d is %s, not %s", i, got[i].Rule, all[i].Rule)
		}
	}
	if _, err := (request{Rules: []string{"nonsense"}}).checks(); err == nil {
		t.Error("a rule that is none is taken")
	}
}

// Nothing that comes in place of a frame does harm.
func FuzzReceive(f *testing.F) {
	var b bytes.Buffer
	_ = send(&b, answer{Report: &rules.FileReport{Path: "card.pdf", Findings: []rules.Finding{{Rule: "file-opens"}}}})
	f.Add(b.Bytes())
	f.Add([]byte("\xff\xff\xff\xff"))
	f.Add([]byte("\x00\x00\x00\x09\x9b\x7f\xff\xff\xff\xff\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, b []byte) {
		var a answer
		_ = receive(bytes.NewReader(b), &a)
	})
}

// A picture crosses whole; one that does not is none.
func TestPicturesCross(t *testing.T) {
	img := image.NewRGBA(image.Rect(3, 4, 13, 9))
	for i := range img.Pix {
		img.Pix[i] = byte(i)
	}
	for _, p := range []rules.Picture{
		{Side: 2, Box: rules.Box{X: -3175, W: 10, H: 5}, Image: img},
		{Side: 1, Why: "It could not be drawn."},
	} {
		got := across(t, sent(p)).received()
		if p.Image != nil {
			small := got.Image.(*image.RGBA)
			if small.Rect != image.Rect(0, 0, 10, 5) || !bytes.Equal(small.Pix, img.Pix) {
				t.Error("the picture changed on its way")
			}
			got.Image, p.Image = nil, nil
		}
		if diff := cmp.Diff(p, got); diff != "" {
			t.Error(diff)
		}
	}
	for _, p := range []picture{{W: 3, H: 2, Pix: make([]byte, 23)}, {W: 1 << 62, H: 4}, {W: -1, H: -1, Pix: make([]byte, 4)}} {
		if got := p.received(); got.Image != nil {
			t.Errorf("%d × %d of %d bytes is taken for a picture", p.W, p.H, len(p.Pix))
		}
	}
}
