package rules

import (
	"embed"
	"fmt"
	"slices"
	"strings"
)

// Ticket says what the job asks.
type Ticket struct {
	Size        string // named size; empty where trim is given by hand
	Trim        Size
	Bleed       Length // beyond the trim, an edge
	Safe        Length // inside the trim, an edge
	Process     string
	Orientation Orientation
	Sides       []int    // numbers of sides that are right
	Spots       []string // extra inks that are right, by name
	BackShift   Shift    // that makes backs meet their fronts on this printer's sheets
	TurnOver    TurnOver // from front to back
	PairNames   []string // what a front's and a back's file name holds
	Unit        Unit     // unit in which lengths are told
	Limits      Limits
}

// Orientation fixes which way round the card must stand.
type Orientation string

// Orientations of a ticket.
const (
	EitherWay Orientation = "any"
	Landscape Orientation = "landscape"
	Portrait  Orientation = "portrait"
)

// DefaultProcess is the process that is meant where none is named.
const DefaultProcess = "digital"

// Processes lists the processes that have a ticket.
func Processes() []string {
	return []string{"desktop", "digital", "offset-coated", "offset-uncoated"}
}

//go:embed tickets/*.toml
var processTickets embed.FS

// Order is what a person asked for, before it is made a ticket: empty fields
// were not asked for. Flags and a ticket file both fill one.
type Order struct {
	Size, Process string
	Trim          *Size
	Bleed, Safe   *Length
	Orientation   Orientation
	Sides         []int
	Spots         []string
	BackShift     *Shift
	TurnOver      TurnOver
	PairNames     []string
	Unit          Unit
	source        *ticketText // whose limits are laid over the process's
}

// Over lays o over under: what o asks for wins.
func (o Order) Over(under Order) Order {
	if o.Size != "" {
		under.Size, under.Trim, under.Bleed, under.Safe = o.Size, nil, nil, nil
	}
	if o.Process != "" {
		under.Process = o.Process
	}
	if o.Trim != nil {
		under.Trim = o.Trim
	}
	if o.Bleed != nil {
		under.Bleed = o.Bleed
	}
	if o.Safe != nil {
		under.Safe = o.Safe
	}
	if o.Orientation != "" {
		under.Orientation = o.Orientation
	}
	if o.Sides != nil {
		under.Sides = o.Sides
	}
	if o.Spots != nil {
		under.Spots = o.Spots
	}
	if o.BackShift != nil {
		under.BackShift = o.BackShift
	}
	if o.TurnOver != "" {
		under.TurnOver = o.TurnOver
	}
	if o.PairNames != nil {
		under.PairNames = o.PairNames
	}
	if o.Unit != "" {
		under.Unit = o.Unit
	}
	if o.source != nil {
		under.source = o.source
	}
	return under
}

// Ticket makes the order whole with the named size's numbers and the process's
// limits, and refuses one that cannot be cut.
func (o Order) Ticket() (Ticket, error) {
	named, err := SizeNamed(or(o.Size, DefaultSize))
	if err != nil {
		return Ticket{}, err
	}
	t := Ticket{
		Size: named.Name, Trim: named.Trim, Bleed: named.Bleed, Safe: named.Safe, Unit: named.Unit,
		Process:     or(o.Process, DefaultProcess),
		Orientation: or(o.Orientation, EitherWay),
		Sides:       []int{1, 2},
		Spots:       o.Spots,
		TurnOver:    or(o.TurnOver, OverSide),
		PairNames:   []string{"front", "back"},
	}
	if o.PairNames != nil {
		t.PairNames = o.PairNames
	}
	t.Limits, err = processLimits(t.Process)
	if err != nil {
		return Ticket{}, err
	}
	o.lengthsInto(&t)
	if o.Sides != nil {
		t.Sides = o.Sides
	}
	if o.BackShift != nil {
		t.BackShift = *o.BackShift
	}
	if err := o.source.limitsOver(&t.Limits); err != nil {
		return Ticket{}, err
	}
	return t, t.validate()
}

func (o Order) lengthsInto(t *Ticket) {
	if o.Trim != nil && *o.Trim != t.Trim {
		t.Trim = *o.Trim
		like, named := SizeLike(t.Trim, 0)
		switch {
		case o.Size != "" && like.Name != o.Size:
			t.Size = "" // what is left of the named size is bleed, margin and unit
		case o.Size == "" && named:
			t.Size, t.Unit, t.Bleed, t.Safe = like.Name, like.Unit, like.Bleed, like.Safe
		case o.Size == "":
			t.Size, t.Unit, t.Bleed, t.Safe = "", UnitMM, MM(3), MM(3)
		}
	}
	if o.Bleed != nil {
		t.Bleed = *o.Bleed
	}
	if o.Safe != nil {
		t.Safe = *o.Safe
	}
	if o.Unit != "" {
		t.Unit = o.Unit
	}
}

// maxCard bounds what is still a card: a metre.
const maxCard = 1000 * Millimetre

func (t Ticket) validate() error {
	short := min(t.Trim.W, t.Trim.H)
	switch {
	case t.Trim.W <= 0 || t.Trim.H <= 0:
		return fmt.Errorf("trim %s has an empty side", t.Trim.In(t.Unit))
	case max(t.Trim.W, t.Trim.H) > maxCard:
		return fmt.Errorf("trim %s is over a metre: that is no card", t.Trim.In(t.Unit))
	case t.Bleed < 0:
		return fmt.Errorf("bleed %s is less than 0: bleed is paint beyond the trim, an edge", t.Bleed.In(t.Unit))
	case t.Bleed >= short:
		return fmt.Errorf("bleed %s is larger than the card itself (%s)", t.Bleed.In(t.Unit), t.Trim.In(t.Unit))
	case t.Safe < 0:
		return fmt.Errorf("safe margin %s is less than 0", t.Safe.In(t.Unit))
	case 2*t.Safe >= short:
		return fmt.Errorf("safe margin %s leaves no safe zone on a card of %s", t.Safe.In(t.Unit), t.Trim.In(t.Unit))
	case len(t.Sides) > 0 && slices.Min(t.Sides) < 1:
		return fmt.Errorf("sides holds %d: a card has at least one side", slices.Min(t.Sides))
	case len(t.Sides) == 0:
		return fmt.Errorf("sides is empty: say how many sides the card has, for example [1, 2]")
	}
	if err := validSpots(t.Spots); err != nil {
		return err
	}
	if err := validPair(t.PairNames); err != nil {
		return err
	}
	return t.Limits.validate()
}

// A DeviceN colour space has at most 32 inks (ISO 32000-1, Annex C), and a name in a
// PDF at most 127 bytes.
const (
	mostSpots   = 32
	longestSpot = 127
)

func validSpots(names []string) error {
	if len(names) > mostSpots {
		return fmt.Errorf("spots holds %d inks: a card has at most %d", len(names), mostSpots)
	}
	for i, name := range names {
		switch {
		case strings.TrimSpace(name) == "":
			return fmt.Errorf("spots holds an ink without a name")
		case len(name) > longestSpot:
			return fmt.Errorf("spots holds a name of %d bytes: an ink's has at most %d", len(name), longestSpot)
		case slices.Contains(names[:i], name):
			return fmt.Errorf("spots holds %q twice", name)
		}
	}
	return nil
}

func validPair(names []string) error {
	if len(names) != 2 || names[0] == "" || names[1] == "" || strings.EqualFold(names[0], names[1]) {
		return fmt.Errorf(`pair-names holds %q: name a front and a back, for example ["front", "back"]`, names)
	}
	return nil
}

// TrimFor is the ticket's trim turned to lie as size does, unless the ticket
// fixes the orientation.
func (t Ticket) TrimFor(size Size) Size {
	switch t.Orientation {
	case Landscape:
		return lying(t.Trim, true)
	case Portrait:
		return lying(t.Trim, false)
	}
	if size.Landscape() != t.Trim.Landscape() && size.W != size.H {
		return t.Trim.Turned()
	}
	return t.Trim
}

func lying(s Size, landscape bool) Size {
	if s.Landscape() != landscape && s.W != s.H {
		return s.Turned()
	}
	return s
}

// SidesInWords tells the wanted number of sides: "1 or 2".
func (t Ticket) SidesInWords() string {
	var words []string
	for _, n := range t.Sides {
		words = append(words, fmt.Sprint(n))
	}
	return strings.Join(words, " or ")
}

func or[T ~string](a, b T) T {
	if a != "" {
		return a
	}
	return b
}
