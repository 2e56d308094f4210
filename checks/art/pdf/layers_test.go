package pdf

import (
	"fmt"
	"testing"
)

func TestLayers(t *testing.T) {
	w := &writer{}
	on := w.add("<< /Type /OCG /Name (Print) >>")
	off := w.add("<< /Type /OCG /Name (Draft) >>")
	any := w.add(fmt.Sprintf("<< /Type /OCMD /OCGs [%s %s] >>", ref(on), ref(off)))
	all := w.add(fmt.Sprintf("<< /Type /OCMD /OCGs [%s %s] /P /AllOn >>", ref(on), ref(off)))
	form := w.form("/OC "+ref(off), "", "0 0 4 4 re f")
	im := w.picture(1, 1, "/OC "+ref(on))
	content := w.stream("", `/OC /On BDC 0 0 1 1 re f EMC /OC /Off BDC 0 0 2 2 re f /Span << /X (y) >> BDC 0 0 3 3 re f EMC EMC
		/F Do 0 0 5 5 re f /OC /Any BDC 0 0 6 6 re f EMC /OC /All BDC 0 0 7 7 re f EMC /Im Do`)
	b := w.document(fmt.Sprintf("/OCProperties << /OCGs [%s %s] /D << /OFF [%s] >> >>", ref(on), ref(off), ref(off)),
		fmt.Sprintf("%s /Contents %s /Resources << /Properties << /On %s /Off %s /Any %s /All %s >> /XObject << /F %s /Im %s >> >>", square, ref(content), ref(on), ref(off), ref(any), ref(all), ref(form), ref(im)))
	d := open(t, b)
	if fmt.Sprint(d.Layers) != "[{Print true true} {Draft false false}]" {
		t.Errorf("%v", d.Layers)
	}
	c := walk(t, b)
	hidden := map[float64]bool{2: true, 3: true, 4: true, 7: true}
	for _, p := range c.Paths {
		if p.Hidden != hidden[p.Full.W()] {
			t.Errorf("%v: hidden %v", p.Full, p.Hidden)
		}
	}
	if len(c.Paths) != 7 || c.Images[0].Hidden || c.Spaces[0].Count != 4 {
		t.Errorf("%d paths, %+v, %v", len(c.Paths), c.Images, spaces(c))
	}
}

// Membership (8.11.2.2): AnyOn is the default; groups that are off by BaseState stay
// so unless ON names them.
func TestLayerPolicies(t *testing.T) {
	for _, c := range []struct {
		policy, config string
		hidden         bool
	}{
		{"", "/OFF [1 0 R]", false}, {"", "/OFF [1 0 R 2 0 R]", true}, {"/P /AnyOn", "/BaseState /OFF", true},
		{"", "/BaseState /OFF /ON [2 0 R]", false}, {"/P /AllOn", "/BaseState /OFF /ON [2 0 R]", true}, {"/P /AllOn", "", false},
		{"/P /AnyOff", "", true}, {"/P /AnyOff", "/OFF [1 0 R]", false}, {"/P /AllOff", "/OFF [1 0 R]", true},
		{"/P /AllOff", "/OFF [1 0 R 2 0 R]", false},
	} {
		w := &writer{}
		w.add("<< /Type /OCG /Name (a) >>")
		w.add("<< /Type /OCG /Name (b) >>")
		member := w.add("<< /Type /OCMD /OCGs [1 0 R 2 0 R] " + c.policy + " >>")
		content := w.stream("", "/OC /M BDC 0 0 9 9 re f EMC")
		b := w.document("/OCProperties << /OCGs [1 0 R 2 0 R] /D << "+c.config+" >> >>",
			fmt.Sprintf("%s /Contents %s /Resources << /Properties << /M %s >> >>", square, ref(content), ref(member)))
		if p := onlyPath(t, b); p.Hidden != c.hidden {
			t.Errorf("%q with %q: hidden %v", c.policy, c.config, p.Hidden)
		}
	}
}

// What a layer shows and what it prints (8.11.4): the configuration first, then for
// printing the group's own usage, for viewing too where AS asks for it.
func TestLayerStates(t *testing.T) {
	printOff, viewOff := "/Usage << /Print << /PrintState /OFF >> >>", "/Usage << /View << /ViewState /OFF >> >>"
	for _, c := range []struct {
		group, config string
		on, prints    bool
	}{
		{"", "", true, true},
		{"", "/OFF [1 0 R]", false, false},
		{printOff, "", true, false},
		{printOff, "/AS [<< /Event /Print /Category [/Print] /OCGs [1 0 R] >>]", true, false},
		{"/Usage << /Print << /PrintState /ON >> >>", "/OFF [1 0 R]", false, true},
		{viewOff, "", true, true},
		{viewOff, "/AS [<< /Event /View /Category [/View] /OCGs [1 0 R] >>]", false, true},
		{viewOff, "/AS [<< /Event /View /Category [/Zoom] /OCGs [1 0 R] >>]", true, true},
		{viewOff, "/AS [<< /Event /Export /Category [/View] /OCGs [1 0 R] >>]", true, true},
		{"/Intent /View", "/OFF [1 0 R]", false, false},
		{"/Intent [/Design /View]", "/OFF [1 0 R]", false, false},
	} {
		w := &writer{}
		w.add("<< /Type /OCG /Name (a) " + c.group + " >>")
		content := w.stream("", "/OC /L BDC 0 0 9 9 re f EMC 0 0 5 5 re f")
		b := w.document("/OCProperties << /OCGs [1 0 R] /D << "+c.config+" >> >>",
			fmt.Sprintf("%s /Contents %s /Resources << /Properties << /L 1 0 R >> >>", square, ref(content)))
		d := open(t, b)
		if got, want := fmt.Sprint(d.Layers), fmt.Sprint([]Layer{{"a", c.on, c.prints}}); got != want {
			t.Errorf("%q with %q: %s, want %s", c.group, c.config, got, want)
		}
		got := walk(t, b).Paths
		if got[0].Layer != 1 || got[0].Hidden == c.prints || got[1].Layer != 0 || got[1].Hidden {
			t.Errorf("%q with %q: %+v", c.group, c.config, got)
		}
	}
}

// A group that is for designers alone hides nothing (8.11.2.1).
func TestLayerForDesign(t *testing.T) {
	w := &writer{}
	w.add("<< /Type /OCG /Name (a) /Intent /Design >>")
	content := w.stream("", "/OC /L BDC 0 0 9 9 re f EMC")
	b := w.document("/OCProperties << /OCGs [1 0 R] /D << /OFF [1 0 R] >> >>",
		fmt.Sprintf("%s /Contents %s /Resources << /Properties << /L 1 0 R >> >>", square, ref(content)))
	if p := onlyPath(t, b); p.Hidden || p.Layer != 0 {
		t.Errorf("%+v", p.Item)
	}
}

// An item belongs to the layer that hides it, else to the innermost around it.
func TestLayersNest(t *testing.T) {
	w := &writer{}
	w.add("<< /Type /OCG /Name (on) >>")
	w.add("<< /Type /OCG /Name (off) >>")
	w.add("<< /Type /OCMD /OCGs 2 0 R >>")
	form := w.form("/OC 2 0 R", "", "/OC /L1 BDC 0 0 4 4 re f EMC")
	content := w.stream("", `/OC /L1 BDC 0 0 1 1 re f /OC /L2 BDC 0 0 2 2 re f EMC /Span BMC 0 0 3 3 re f EMC /F Do EMC
		/OC /L2 BDC /OC /L1 BDC 0 0 5 5 re f EMC EMC /OC /M BDC 0 0 6 6 re f EMC 0 0 7 7 re f`)
	c := walk(t, w.document("/OCProperties << /OCGs [1 0 R 2 0 R] /D << /OFF [2 0 R] >> >>",
		fmt.Sprintf("%s /Contents %s /Resources << /Properties << /L1 1 0 R /L2 2 0 R /M 3 0 R >> /XObject << /F %s >> >>", square, ref(content), ref(form))))
	want := map[float64]membership{1: {false, 1}, 2: {true, 2}, 3: {false, 1}, 4: {true, 2}, 5: {true, 2}, 6: {true, 2}, 7: {}}
	if len(c.Paths) != len(want) {
		t.Fatalf("%d paths", len(c.Paths))
	}
	for _, p := range c.Paths {
		if got := (membership{p.Hidden, p.Layer}); got != want[p.Full.W()] {
			t.Errorf("path %v: %+v, want %+v", p.Full.W(), got, want[p.Full.W()])
		}
	}
}
