package desk

import (
	"fmt"
	"strings"

	"stoneproof/rules"
)

// asked is the ticket as it stands in the form: numbers as they were typed, in Unit.
// An empty Size is a size of its own, of which width and height tell.
type asked struct {
	Size, Width, Height, Bleed, Safe, Unit, Process string
}

// fields are the form's fields by their names.
func (a *asked) fields() map[string]*string {
	return map[string]*string{
		"size": &a.Size, "width": &a.Width, "height": &a.Height,
		"bleed": &a.Bleed, "safe": &a.Safe, "unit": &a.Unit, "process": &a.Process,
	}
}

// askedOf fills the form from a ticket.
func askedOf(t rules.Ticket) asked {
	return asked{
		Size: t.Size, Width: t.Trim.W.Number(t.Unit), Height: t.Trim.H.Number(t.Unit),
		Bleed: t.Bleed.Number(t.Unit), Safe: t.Safe.Number(t.Unit), Unit: string(t.Unit), Process: t.Process,
	}
}

// ticket lays what was asked over the order that the desk was set up with.
func (a asked) ticket(base rules.Order) (rules.Ticket, error) {
	o := rules.Order{Size: a.Size, Process: a.Process}
	if err := o.Unit.UnmarshalText([]byte(a.Unit)); err != nil {
		return rules.Ticket{}, err
	}
	if a.Size == "" {
		w, err := a.length("width", a.Width)
		if err != nil {
			return rules.Ticket{}, err
		}
		h, err := a.length("height", a.Height)
		if err != nil {
			return rules.Ticket{}, err
		}
		o.Trim = &rules.Size{W: *w, H: *h}
		base.Size = "" // of which nothing shall be left
	}
	var err error
	if o.Bleed, err = a.length("bleed", a.Bleed); err != nil {
		return rules.Ticket{}, err
	}
	if o.Safe, err = a.length("safe margin", a.Safe); err != nil {
		return rules.Ticket{}, err
	}
	return o.Over(base).Ticket()
}

// length reads a number of the form. People write a comma for a point in half of the
// world.
func (a asked) length(what, number string) (*rules.Length, error) {
	number = strings.ReplaceAll(strings.TrimSpace(number), ",", ".")
	if number == "" {
		return nil, fmt.Errorf("the %s is missing", what)
	}
	l, err := rules.ParseLength(number + a.Unit)
	if err != nil {
		return nil, fmt.Errorf("the %s: %w", what, err)
	}
	return &l, nil
}
