package rules

import (
	"encoding"
	"maps"
	"reflect"
	"slices"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// texts checks every value that a ticket must hold as text: lengths, sizes,
// verdicts and the like. The TOML reader alone does not: it would take a bare 3
// for a Length of 3 µm, and any word for a Verdict, for it fills what is a
// number or a string underneath without asking UnmarshalText.
func (t *ticketText) texts() error {
	table, err := tableOf(t.text)
	if err != nil {
		return nil // the reader that follows tells it with its line
	}
	return t.textsIn(table, reflect.TypeFor[written](), nil)
}

func (t *ticketText) textsIn(table map[string]any, form reflect.Type, path []string) error {
	for _, name := range slices.Sorted(maps.Keys(table)) {
		field, known := fieldFor(form, name)
		if !known {
			continue // likewise
		}
		here := append(slices.Clone(path), name)
		if err := t.textIn(table[name], field, here); err != nil {
			return err
		}
	}
	return nil
}

func (t *ticketText) textIn(value any, form reflect.Type, path []string) error {
	if form.Kind() == reflect.Pointer {
		form = form.Elem()
	}
	reader, isText := reflect.New(form).Interface().(encoding.TextUnmarshaler)
	if !isText {
		if table, ok := value.(map[string]any); ok && form.Kind() == reflect.Struct {
			return t.textsIn(table, form, path)
		}
		return nil
	}
	bad := &TicketError{File: t.file, Key: strings.Join(path, ".")}
	if text, ok := value.(string); !ok {
		bad.Why = `must stand in quotes, as "3mm" or "warn" does`
	} else if err := reader.UnmarshalText([]byte(text)); err != nil {
		bad.Why = err.Error()
	} else {
		return nil
	}
	bad.Line = t.lineOf(path)
	return bad
}

// fieldFor finds the field that the TOML reader fills from a key; it takes
// upper and lower case for the same.
func fieldFor(form reflect.Type, key string) (reflect.Type, bool) {
	for i := range form.NumField() {
		if strings.EqualFold(form.Field(i).Tag.Get("toml"), key) {
			return form.Field(i).Type, true
		}
	}
	return nil, false
}

// lineOf finds the line on which a key is set: the last of the fewest lines
// that hold it.
func (t *ticketText) lineOf(path []string) int {
	lines := strings.SplitAfter(string(t.text), "\n")
	return 1 + sort.Search(len(lines)-1, func(n int) bool {
		var value any
		value, _ = tableOf([]byte(strings.Join(lines[:n+1], "")))
		for _, name := range path {
			table, _ := value.(map[string]any)
			value = table[name]
		}
		return value != nil
	})
}

func tableOf(text []byte) (map[string]any, error) {
	table := map[string]any{}
	err := toml.Unmarshal(text, &table)
	return table, err
}
