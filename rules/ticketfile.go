package rules

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// maxTicket bounds a ticket file: a page of settings, not a book.
const maxTicket = 64 << 10

// written is a ticket as it stands in TOML. Lengths and sizes are text, so that
// every one carries its unit.
type written struct {
	Size        string      `toml:"size"`
	Trim        *Size       `toml:"trim"`
	Bleed       *Length     `toml:"bleed"`
	Safe        *Length     `toml:"safe"`
	Process     string      `toml:"process"`
	Orientation Orientation `toml:"orientation"`
	Unit        Unit        `toml:"unit"`
	Sides       []int       `toml:"sides"`
	Spots       []string    `toml:"spots"`
	BackShift   *Shift      `toml:"back-shift"`
	TurnOver    TurnOver    `toml:"turn-over"`
	PairNames   []string    `toml:"pair-names"`
	Limits      Limits      `toml:"limits"`
}

// ticketText is a ticket file's words, kept so that its limits can be laid over
// those of whatever process is asked for in the end.
type ticketText struct {
	file string
	text []byte
}

// ReadTicket reads a ticket in TOML, strictly: an unknown key or a value that
// does not fit is a *TicketError with file, line and key.
func ReadTicket(file string, text []byte) (Order, error) {
	if len(text) > maxTicket {
		return Order{}, &TicketError{File: file, Why: "is over 64 KiB: that is no ticket"}
	}
	source := &ticketText{file: file, text: text}
	if err := source.texts(); err != nil {
		return Order{}, err
	}
	var w written
	if err := source.decode(&w); err != nil {
		return Order{}, err
	}
	return Order{
		Size: w.Size, Process: w.Process, Trim: w.Trim, Bleed: w.Bleed, Safe: w.Safe,
		Orientation: w.Orientation, Sides: w.Sides, Spots: w.Spots, BackShift: w.BackShift, Unit: w.Unit,
		TurnOver: w.TurnOver, PairNames: w.PairNames, source: source,
	}, nil
}

// limitsOver lays the ticket's limits over l.
func (t *ticketText) limitsOver(l *Limits) error {
	if t == nil {
		return nil
	}
	w := written{Limits: *l}
	if err := t.decode(&w); err != nil {
		return err
	}
	*l = w.Limits
	return nil
}

func (t *ticketText) decode(w *written) error {
	d := toml.NewDecoder(bytes.NewReader(t.text))
	if err := d.DisallowUnknownFields().Decode(w); err != nil {
		return t.located(err)
	}
	return nil
}

// located tells in a ticket's words what the TOML reader found, and where.
func (t *ticketText) located(err error) error {
	var missing *toml.StrictMissingError
	if errors.As(err, &missing) && len(missing.Errors) > 0 {
		return t.unknownKey(&missing.Errors[0])
	}
	bad := &TicketError{File: t.file, Why: strings.TrimPrefix(err.Error(), "toml: ")}
	var de *toml.DecodeError
	if errors.As(err, &de) {
		bad.Line, _ = de.Position()
		bad.Key = strings.Join(de.Key(), ".")
		if strings.Contains(bad.Why, " into struct field") {
			bad.Why = wanted(de.Key())
		}
	}
	return bad
}

// wanted tells how the value of a key is written.
func wanted(key []string) string {
	form := reflect.TypeFor[written]()
	for _, name := range key {
		if form.Kind() != reflect.Struct {
			break
		}
		if field, known := fieldFor(form, name); known {
			form = field
		}
	}
	switch form.Kind() {
	case reflect.Slice:
		if form.Elem().Kind() == reflect.Int {
			return "must be whole numbers in brackets: [1, 2]"
		}
		return `must be words in quotes and brackets: ["one", "two"]`
	case reflect.String:
		return "must stand in quotes"
	case reflect.Struct:
		return "must be a table: [" + strings.Join(key, ".") + "] on a line of its own"
	}
	return "must be a number, without quotes"
}

func (t *ticketText) unknownKey(e *toml.DecodeError) error {
	key := e.Key()
	line, _ := e.Position()
	bad := &TicketError{File: t.file, Line: line, Key: strings.Join(key, "."), Why: "is not a key of a ticket"}
	known := keysOf(reflect.TypeFor[written]())
	if len(key) > 1 && key[0] == "limits" {
		known = keysOf(reflect.TypeFor[Limits]())
	}
	if near := Nearest(key[len(key)-1], known); len(near) > 0 {
		bad.Why += ": did you mean " + strings.Join(near, ", ") + "?"
	}
	return bad
}

func keysOf(t reflect.Type) []string {
	var keys []string
	for i := range t.NumField() {
		keys = append(keys, t.Field(i).Tag.Get("toml"))
	}
	return keys
}

// processLimits reads the limits of a process from its embedded ticket.
func processLimits(process string) (Limits, error) {
	text, err := processTickets.ReadFile("tickets/" + process + ".toml")
	if err != nil {
		return Limits{}, &UnknownError{What: "process", Name: process, Near: Nearest(process, Processes())}
	}
	var w written
	err = (&ticketText{file: process, text: text}).decode(&w)
	return w.Limits, err
}

// TicketError is a ticket file that cannot be used; Line and Key say where.
type TicketError struct {
	File string
	Line int // 1 for the first; 0 where it is not known
	Key  string
	Why  string
}

func (e *TicketError) Error() string {
	where := fmt.Sprintf("ticket %q", e.File)
	if e.Line > 0 {
		where += fmt.Sprintf(", line %d", e.Line)
	}
	if e.Key != "" {
		where += fmt.Sprintf(", key %q", e.Key)
	}
	return where + ": " + e.Why
}

// UnmarshalText reads a length with its unit.
func (l *Length) UnmarshalText(text []byte) error {
	v, err := ParseLength(string(text))
	*l = v
	return err
}

// UnmarshalText reads a size with its unit.
func (s *Size) UnmarshalText(text []byte) error {
	v, err := ParseSize(string(text))
	*s = v
	return err
}

// UnmarshalText reads a verdict that a limit may give: pass, warn or fail.
func (v *Verdict) UnmarshalText(text []byte) error {
	return oneOf(v, text, "verdict", Pass, Warn, Fail)
}

// UnmarshalText reads which way round the card must stand.
func (o *Orientation) UnmarshalText(text []byte) error {
	return oneOf(o, text, "orientation", EitherWay, Landscape, Portrait)
}

// UnmarshalText reads a unit that a ticket may tell its lengths in.
func (u *Unit) UnmarshalText(text []byte) error {
	return oneOf(u, text, "unit", UnitMM, UnitIn, UnitPt)
}

// oneOf sets v to the one of known that text spells.
func oneOf[T ~string](v *T, text []byte, what string, known ...T) error {
	names := make([]string, len(known))
	for i, k := range known {
		names[i] = string(k)
		if string(text) == names[i] {
			*v = k
			return nil
		}
	}
	return fmt.Errorf("unknown %s %q: use %s", what, text, strings.Join(names, ", "))
}
