package icc

import (
	"runtime"
	"strings"
	"testing"
)

func TestText(t *testing.T) {
	limits := Limits{TextRunes: 12, Locales: 3}
	odd := mlucTag("enUSodd")
	copy(odd[24:], "\x7f\xff\xff\xff") // its place
	narrow := mlucTag("enUSodd")
	narrow[15] = 11 // the length of a record
	for name, c := range map[string]struct {
		tag  []byte
		want string
	}{
		"absent":                {nil, ""},
		"of no type":            {[]byte("what is this then?"), ""},
		"plain":                 {textTag("baker"), "baker"},
		"plain, too long":       {textTag("a potter and a baker"), "a potter and"},
		"with control bytes":    {textTag("ba\x1b[1mker\x7f\n\tend"), "ba[1mker end"},
		"not ASCII":             {textTag("b\xe4ker"), "b\ufffdker"},
		"description":           {descTag("potter", "Töpferin"), "potter"},
		"description in UTF-16": {descTag("", "Töpferin"), "Töpferin"},
		"description cut off":   {descTag("potter", "")[:15], "pot"},
		"many, English first":   {mlucTag("deDETöpferin", "enUSpotter"), "potter"},
		"many, no English":      {mlucTag("deDETöpferin", "frFRpotière"), "Töpferin"},
		"many, first is empty":  {mlucTag("deDE", "frFRpotière"), "potière"},
		"English out of reach":  {mlucTag("deDEa", "frFRb", "itITc", "enUSpotter"), "a"},
		"beyond the BMP":        {mlucTag("enUS\U0001F3FA pot"), "\U0001F3FA pot"},
		"right to left trick":   {mlucTag("enUSa\u202ecod"), "acod"},
		"text elsewhere":        {odd, ""},
		"records too narrow":    {narrow, ""},
		"records cut off":       {mlucTag("enUSpotter")[:20], ""},
	} {
		if got := limits.text(c.tag); got != c.want {
			t.Errorf("%s: %q, not %q", name, got, c.want)
		}
	}
}

// A text of the whole profile's size costs no more than a short one.
func TestTextIsBounded(t *testing.T) {
	long := strings.Repeat("long ", 1<<20)
	for _, tag := range [][]byte{textTag(long), descTag(long, ""), descTag("", long), mlucTag("enUS" + long)} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		DefaultLimits().text(tag)
		runtime.ReadMemStats(&after)
		allocated := after.TotalAlloc - before.TotalAlloc
		if allocated > 1<<16 {
			t.Errorf("a text of type %s takes %d bytes to read", tag[:4], allocated)
		}
	}
}
