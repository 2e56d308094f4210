package proof

import (
	"testing"

	"pgregory.net/rapid"
)

// However faults lie, tags cover neither each other nor a fault, leaders run under no
// tag and end outside the place that they lead to, and all is in the picture.
func TestTagsCoverNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyJob(t).layout()
		all := rect{0, 0, float64(d.view.w), float64(d.view.h)}
		for i, s := range d.spots {
			if s.tag == (rect{}) {
				continue
			}
			if s.tag.within(all) != s.tag {
				t.Fatalf("the tag of %d, %v, leaves the picture", s.number, s.tag)
			}
			fault := d.view.rect(s.box).within(d.view.rect(d.view.box))
			if !s.further && runsOver(s.leader, fault) {
				t.Fatalf("the leader of %d, %v, runs over its own place %v", s.number, s.leader, fault)
			}
			for k, o := range d.spots {
				place := d.view.rect(o.box).within(d.view.rect(d.view.box)).outset(0.01)
				switch {
				case s.tag.meets(place):
					t.Fatalf("the tag of %d, %v, covers the place of %d, %v", s.number, s.tag, o.number, place)
				case s.tag.meets(o.frame) && !(s.further && k == i):
					t.Fatalf("the tag of %d, %v, covers the frame of %d, %v", s.number, s.tag, o.number, o.frame)
				case k != i && s.tag.outset(2).meets(o.tag):
					t.Fatalf("the tags of %d and %d overlap: %v, %v", s.number, o.number, s.tag, o.tag)
				case k != i && o.tag != (rect{}) && runsOver(s.leader, o.tag):
					t.Fatalf("the leader of %d, %v, runs under the tag of %d, %v", s.number, s.leader, o.number, o.tag)
				}
			}
		}
	})
}

// A few faults, far apart as they are on most cards, all get their tags, and no two
// leaders cross.
func TestFewFaultsStandClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		j.file.Findings = j.file.Findings[:min(len(j.file.Findings), 6)]
		for i := range j.file.Findings {
			j.file.Findings[i].Also = nil
		}
		d := j.layout()
		if d.over > 0 {
			t.Fatalf("%d of %d places have no tag", d.over, len(d.spots))
		}
		for i, s := range d.spots {
			for _, o := range d.spots[:i] {
				if meet(s.leader, o.leader) {
					t.Fatalf("the leaders of %d and %d cross", s.number, o.number)
				}
			}
		}
	})
}

func TestRunsOver(t *testing.T) {
	r := rect{10, 10, 20, 20}
	for _, c := range []struct {
		line [2]pt
		want bool
	}{
		{[2]pt{{0, 15}, {30, 15}}, true}, {[2]pt{{0, 0}, {30, 30}}, true}, {[2]pt{{15, 15}, {16, 16}}, true},
		{[2]pt{{0, 5}, {30, 5}}, false}, {[2]pt{{0, 15}, {9, 15}}, false}, {[2]pt{{0, 18}, {15, 33}}, false},
		{[2]pt{{15, 15}, {15, 15}}, true}, {[2]pt{{5, 5}, {5, 5}}, false},
	} {
		if got := runsOver(c.line, r); got != c.want {
			t.Errorf("%v over %v: %v", c.line, r, got)
		}
	}
	if !meet([2]pt{{0, 0}, {10, 10}}, [2]pt{{0, 10}, {10, 0}}) || meet([2]pt{{0, 0}, {10, 10}}, [2]pt{{0, 1}, {10, 11}}) {
		t.Error("lines that cross are told from lines that do not wrongly")
	}
}
