package rules

import "testing"

func TestParseShift(t *testing.T) {
	for text, want := range map[string]Shift{
		"0.3mm,-0.5mm": {MM(.3), MM(-.5)},
		"0.3, -0.5 mm": {MM(.3), MM(-.5)},
		"-1/64in,0mm":  {Inches(-1. / 64), 0},
		"0.01,0.02in":  {Inches(.01), Inches(.02)},
	} {
		if got, err := ParseShift(text); err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "1mm", "1,2", "1mm,2", "x,ymm", "2in,0in", "1mm,2mm,3mm"} {
		if got, err := ParseShift(text); err == nil {
			t.Errorf("%q is taken for %v", text, got)
		}
	}
}

func TestBackShiftInTicket(t *testing.T) {
	order, err := ReadTicket("t.toml", []byte(`back-shift = "0.3mm,-0.5mm"`))
	if err != nil {
		t.Fatal(err)
	}
	if ticket, err := order.Ticket(); err != nil || ticket.BackShift != (Shift{MM(.3), MM(-.5)}) {
		t.Errorf("%v, %v", ticket.BackShift, err)
	}
	if _, err := ReadTicket("t.toml", []byte(`back-shift = 3`)); err == nil {
		t.Error("a bare number is taken for a shift")
	}
}
