package rules

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func ptr[T any](v T) *T { return &v }

func TestTicketFromNothing(t *testing.T) {
	got, err := Order{}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	got.Limits = Limits{}
	want := Ticket{Size: "us-business", Trim: Size{88900, 50800}, Bleed: 3175, Safe: 3175, Process: "digital",
		Orientation: EitherWay, Sides: []int{1, 2}, TurnOver: OverSide, PairNames: []string{"front", "back"}, Unit: UnitIn}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// TestFlagsOverFileOverNamedSize lays orders over each other as a run does.
func TestFlagsOverFileOverNamedSize(t *testing.T) {
	file, err := ReadTicket("job.toml", []byte(`
size = "eu-business"
bleed = "2mm"
process = "offset-coated"
orientation = "portrait"
sides = [2]
spots = ["Gold"]
[limits]
rgb = "warn"
tone-ppi-good = 350
`))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		flags Order
		check func(Ticket) bool
	}{
		"the file's size gives what the file leaves open": {Order{}, func(k Ticket) bool {
			return k.Size == "eu-business" && k.Trim == Size{85000, 55000} && k.Safe == 3000 && k.Unit == UnitMM
		}},
		"the file's bleed over its size's": {Order{}, func(k Ticket) bool { return k.Bleed == 2000 }},
		"the file's limits over its process's": {Order{}, func(k Ticket) bool {
			return k.Limits.RGB == Warn && k.Limits.TonePPIGood == 350 && k.Limits.TonePPILeast == 200
		}},
		"a flag's bleed over the file's": {Order{Bleed: ptr(MM(4))}, func(k Ticket) bool {
			return k.Bleed == 4000 && k.Size == "eu-business" && k.Safe == 3000
		}},
		"a flag's nought is an order too": {Order{Bleed: ptr(Length(0)), Safe: ptr(Length(0))}, func(k Ticket) bool {
			return k.Bleed == 0 && k.Safe == 0
		}},
		"a flag's size brings its own bleed": {Order{Size: "us-business"}, func(k Ticket) bool {
			return k.Trim == Size{88900, 50800} && k.Bleed == 3175 && k.Unit == UnitIn && k.Process == "offset-coated"
		}},
		"a flag's process keeps the file's limits": {Order{Process: "desktop"}, func(k Ticket) bool {
			return k.Process == "desktop" && k.Limits.RGB == Warn && k.Limits.CMYKUntagged == Warn && k.Limits.LinePPIGood == 600
		}},
		"a flag's trim over the file's size": {Order{Trim: &Size{MM(80), MM(50)}}, func(k Ticket) bool {
			return k.Size == "" && k.Trim == Size{80000, 50000} && k.Bleed == 2000
		}},
		"orientation, sides and unit": {Order{Orientation: Landscape, Sides: []int{1}, Unit: UnitPt}, func(k Ticket) bool {
			return k.Orientation == Landscape && cmp.Equal(k.Sides, []int{1}) && k.Unit == UnitPt
		}},
		"the file's inks":               {Order{}, func(k Ticket) bool { return cmp.Equal(k.Spots, []string{"Gold"}) }},
		"other inks over the file's":    {Order{Spots: []string{"Slip Blue"}}, func(k Ticket) bool { return cmp.Equal(k.Spots, []string{"Slip Blue"}) }},
		"no ink at all over the file's": {Order{Spots: []string{}}, func(k Ticket) bool { return len(k.Spots) == 0 }},
		"and the file's where no flag speaks": {Order{}, func(k Ticket) bool {
			return k.Orientation == Portrait && cmp.Equal(k.Sides, []int{2}) && k.Unit == UnitMM
		}},
	} {
		t.Run(name, func(t *testing.T) {
			if got, err := c.flags.Over(file).Ticket(); err != nil || !c.check(got) {
				t.Errorf("got %+v, %v", got, err)
			}
		})
	}
}

func TestTrimByHand(t *testing.T) {
	for name, c := range map[string]struct {
		order Order
		want  Ticket
	}{
		"a named size's numbers":   {Order{Trim: &Size{MM(91), MM(55)}}, Ticket{Size: "jp-business", Bleed: 3000, Safe: 3000, Unit: UnitMM}},
		"turned":                   {Order{Trim: &Size{Inches(2), Inches(3.5)}}, Ticket{Size: "us-business", Bleed: 3175, Safe: 3175, Unit: UnitIn}},
		"nobody's numbers":         {Order{Trim: &Size{MM(60), MM(60)}}, Ticket{Bleed: 3000, Safe: 3000, Unit: UnitMM}},
		"off by a micrometre":      {Order{Trim: &Size{85001, 55000}}, Ticket{Bleed: 3000, Safe: 3000, Unit: UnitMM}},
		"over a named size":        {Order{Size: "us-business", Trim: &Size{MM(60), MM(60)}}, Ticket{Bleed: 3175, Safe: 3175, Unit: UnitIn}},
		"over it with its own":     {Order{Size: "us-business", Trim: &Size{Inches(3.5), Inches(2)}}, Ticket{Size: "us-business", Bleed: 3175, Safe: 3175, Unit: UnitIn}},
		"over it with its own, up": {Order{Size: "us-business", Trim: &Size{Inches(2), Inches(3.5)}}, Ticket{Size: "us-business", Bleed: 3175, Safe: 3175, Unit: UnitIn}},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := c.order.Ticket()
			if err != nil {
				t.Fatal(err)
			}
			c.want.Trim, c.want.Process, c.want.Orientation, c.want.Sides = *c.order.Trim, "digital", EitherWay, []int{1, 2}
			c.want.TurnOver, c.want.PairNames = OverSide, []string{"front", "back"}
			got.Limits = Limits{}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestTicketRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		order Order
		hint  string
	}{
		"bleed as large as the card": {Order{Bleed: ptr(Inches(2))}, "bleed 2 in is larger than the card itself (3.5 × 2 in)"},
		"bleed under nothing":        {Order{Bleed: ptr(MM(-1))}, "is less than 0: bleed"},
		"safe under nothing":         {Order{Safe: ptr(MM(-1))}, "is less than 0"},
		"safe that leaves nothing":   {Order{Safe: ptr(Inches(1))}, "leaves no safe zone"},
		"an empty trim":              {Order{Trim: &Size{0, 1000}}, "empty side"},
		"no card":                    {Order{Trim: &Size{MM(1001), MM(50)}}, "over a metre"},
		"no sides":                   {Order{Sides: []int{}}, "sides is empty"},
		"side nought":                {Order{Sides: []int{1, 0}}, "at least one side"},
		"an ink without a name":      {Order{Spots: []string{"Gold", " "}}, "without a name"},
		"an ink twice":               {Order{Spots: []string{"Gold", "Gold"}}, `"Gold" twice`},
		"a long name":                {Order{Spots: []string{strings.Repeat("g", 128)}}, "a name of 128 bytes"},
		"too many inks":              {Order{Spots: strings.Fields(strings.Repeat("g ", 33))}, "holds 33 inks"},
		"an unknown size":            {Order{Size: "us-busines"}, `unknown card size "us-busines": did you mean us-business`},
		"an unknown process":         {Order{Process: "offset"}, "did you mean offset-coated, offset-uncoated?"},
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := c.order.Ticket(); err == nil || !strings.Contains(err.Error(), c.hint) {
				t.Errorf("got %v, want an error with %q", err, c.hint)
			}
		})
	}
	for _, good := range []Order{{Bleed: ptr(Inches(2) - 1)}, {Safe: ptr(Inches(1) - 1)}, {Trim: &Size{MM(1000), MM(50)}},
		{Spots: []string{strings.Repeat("g", 127), "Gold", "gold"}}} {
		if _, err := good.Ticket(); err != nil {
			t.Errorf("a near miss is refused: %v", err)
		}
	}
}

func TestTicketErrorsTellWhere(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want TicketError
	}{
		"an unknown key":      {"size = \"a6\"\n\nbleeed = \"3mm\"\n", TicketError{Line: 3, Key: "bleeed", Why: "is not a key of a ticket: did you mean bleed?"}},
		"an unknown limit":    {"[limits]\nrgb-untaged = \"warn\"\n", TicketError{Line: 2, Key: "limits.rgb-untaged", Why: "is not a key of a ticket: did you mean rgb-untagged, rgb, cmyk-untagged?"}},
		"nothing like it":     {"q = 1\n", TicketError{Line: 1, Key: "q", Why: "is not a key of a ticket"}},
		"a length in numbers": {"size = \"a6\"\nbleed = 3\n", TicketError{Line: 2, Key: "bleed", Why: `must stand in quotes, as "3mm" or "warn" does`}},
		"a limit in numbers":  {"\n[limits]\n\ntrim-tolerance = 1\n", TicketError{Line: 4, Key: "limits.trim-tolerance", Why: `must stand in quotes, as "3mm" or "warn" does`}},
		"a limit in fraction": {"[limits]\nbleed-slack = 0.1\n", TicketError{Line: 2, Key: "limits.bleed-slack", Why: `must stand in quotes, as "3mm" or "warn" does`}},
		"in another case":     {"BLEED = 3\n", TicketError{Line: 1, Key: "BLEED", Why: `must stand in quotes, as "3mm" or "warn" does`}},
		"a size as a table":   {"trim = {W = 1, H = 2}\n", TicketError{Line: 1, Key: "trim", Why: `must stand in quotes, as "3mm" or "warn" does`}},
		"a length unitless":   {"bleed = \"3\"\n", TicketError{Line: 1, Key: "bleed", Why: `length "3" has no unit: write 3mm, 0.125in or 9pt`}},
		"a size unitless":     {"# a card\ntrim = \"85x55\"\n", TicketError{Line: 2, Key: "trim", Why: `size "85x55" has no unit: write 85x55mm or 3.5x2in`}},
		"a verdict of none":   {"[limits]\nrgb = \"skip\"\n", TicketError{Line: 2, Key: "limits.rgb", Why: `unknown verdict "skip": use pass, warn, fail`}},
		"an odd orientation":  {"orientation = \"diagonal\"\n", TicketError{Line: 1, Key: "orientation", Why: `unknown orientation "diagonal": use any, landscape, portrait`}},
		"an odd unit":         {"unit = \"mile\"\n", TicketError{Line: 1, Key: "unit", Why: `unknown unit "mile": use mm, in, pt`}},
		"sides in words":      {"sides = \"two\"\n", TicketError{Line: 1, Key: "sides", Why: "must be whole numbers in brackets: [1, 2]"}},
		"an ink in numbers":   {"\nspots = [3]\n", TicketError{Line: 2, Key: "spots", Why: `must be words in quotes and brackets: ["one", "two"]`}},
		"inks as one word":    {"spots = \"Gold\"\n", TicketError{Line: 1, Key: "spots", Why: `must be words in quotes and brackets: ["one", "two"]`}},
		"half a side":         {"sides = [1.5]\n", TicketError{Line: 1, Key: "sides", Why: "must be whole numbers in brackets: [1, 2]"}},
		"a name as a number":  {"size = 3\n", TicketError{Line: 1, Key: "size", Why: "must stand in quotes"}},
		"a number in quotes":  {"[limits]\ntone-ppi-good = \"350\"\n", TicketError{Line: 2, Key: "limits.tone-ppi-good", Why: "must be a number, without quotes"}},
		"limits as a number":  {"limits = 3\n", TicketError{Line: 1, Key: "limits", Why: "must be a table: [limits] on a line of its own"}},
		"a key twice":         {"bleed = \"3mm\"\nbleed = \"4mm\"\n", TicketError{Line: 2, Key: "bleed", Why: "key bleed is already defined"}},
		"no TOML":             {"\nbleed = \n", TicketError{Line: 2, Why: "unexpected character U+000A at start of value"}},
		"a book":              {strings.Repeat("#", maxTicket+1), TicketError{Why: "is over 64 KiB: that is no ticket"}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ReadTicket("job.toml", []byte(c.text))
			got, ok := err.(*TicketError)
			if !ok {
				t.Fatalf("got %v", err)
			}
			c.want.File = "job.toml"
			if diff := cmp.Diff(c.want, *got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
	err := &TicketError{File: "job.toml", Line: 3, Key: "bleeed", Why: "is odd"}
	if got := err.Error(); got != `ticket "job.toml", line 3, key "bleeed": is odd` {
		t.Errorf("an error reads %s", got)
	}
}

func TestTrimForLiesAsTheSideDoes(t *testing.T) {
	wide, high, square := Size{90, 50}, Size{50, 90}, Size{70, 70}
	for _, c := range []struct {
		orientation      Orientation
		trim, side, want Size
	}{
		{EitherWay, wide, wide, wide}, {EitherWay, wide, high, high}, {EitherWay, high, wide, wide}, {EitherWay, wide, square, wide},
		{EitherWay, high, square, high}, {EitherWay, square, wide, square},
		{Landscape, wide, high, wide}, {Landscape, high, high, wide}, {Portrait, wide, wide, high}, {Portrait, high, wide, high},
		{Portrait, square, wide, square}, {Landscape, square, high, square},
	} {
		if got := (Ticket{Trim: c.trim, Orientation: c.orientation}).TrimFor(c.side); got != c.want {
			t.Errorf("trim %v, orientation %s, side %v: %v, want %v", c.trim, c.orientation, c.side, got, c.want)
		}
	}
}

func TestSidesInWords(t *testing.T) {
	for want, sides := range map[string][]int{"2": {2}, "1 or 2": {1, 2}, "1 or 2 or 4": {1, 2, 4}} {
		if got := (Ticket{Sides: sides}).SidesInWords(); got != want {
			t.Errorf("%v is told as %q", sides, got)
		}
	}
}
