package rules

import (
	"fmt"
	"reflect"
	"strings"
)

// Tell tells in words what the ticket says under a key of a ticket file: "0.125 in",
// "300 ppi", "fail". It is empty for what is no key.
func (t Ticket) Tell(key string) string {
	switch key {
	case "size":
		return t.Size
	case "trim":
		return t.Trim.In(t.Unit)
	case "bleed":
		return t.Bleed.In(t.Unit)
	case "safe":
		return t.Safe.In(t.Unit)
	case "process":
		return t.Process
	case "orientation":
		return string(t.Orientation)
	case "sides":
		return t.SidesInWords()
	case "spots":
		return named(t.Spots)
	case "back-shift":
		return t.BackShift.Right.In(t.Unit) + " to the right, " + t.BackShift.Down.In(t.Unit) + " down"
	case "turn-over":
		return string(t.TurnOver)
	case "pair-names":
		return named(t.PairNames)
	case "unit":
		return string(t.Unit)
	}
	return t.Limits.tell(key, t.Unit)
}

func named(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}

// tell tells a limit in words; lengths in unit u.
func (l Limits) tell(key string, u Unit) string {
	fields := reflect.ValueOf(l)
	for i := range fields.NumField() {
		if fields.Type().Field(i).Tag.Get("toml") != key {
			continue
		}
		switch v := fields.Field(i).Interface().(type) {
		case Length:
			return v.In(u)
		case Percent:
			return fmt.Sprintf("%v %%", float64(v))
		case float64:
			return numberOf(key, v)
		default:
			return fmt.Sprint(v)
		}
	}
	return ""
}

// numberOf writes a limit that is a plain number with what it counts, which its
// key tells.
func numberOf(key string, v float64) string {
	part := func(s string) bool { return strings.Contains(key, s) }
	switch {
	case key == "ppi-slack":
		return fmt.Sprintf("%v %%", tidy(v*100))
	case part("-ppi-"):
		return fmt.Sprintf("%v ppi", v)
	case part("type-"), part("line-"):
		return fmt.Sprintf("%v pt", v)
	case part("-quiet-") && v == 1:
		return "1 module"
	case part("-quiet-"):
		return fmt.Sprintf("%v modules", v)
	case part("-contrast-"):
		return fmt.Sprintf("%v %%", v)
	}
	return fmt.Sprint(v)
}
