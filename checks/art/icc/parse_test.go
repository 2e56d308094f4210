package icc

import (
	"encoding/binary"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func parse(t *testing.T, b []byte) *Profile {
	t.Helper()
	p, err := Parse(b)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestParseVersion2(t *testing.T) {
	b := screen().bytes()
	want := &Profile{
		Size: len(b), Version: "2.1.0", Class: Display, Space: RGB, PCS: XYZ, Intent: Perceptual,
		Illuminant: [3]float64{0xF6D6 / 65536.0, 1, 0xD32D / 65536.0}, Description: "Wendlebury screen", Copyright: "nobody's",
	}
	if diff := cmp.Diff(want, parse(t, b), cmpopts.IgnoreUnexported(Profile{})); diff != "" {
		t.Error(diff)
	}
}

func TestParseVersion4(t *testing.T) {
	b := press().bytes()
	want := &Profile{
		Size: len(b), Version: "4.3.0", Class: Output, Space: CMYK, PCS: Lab, Intent: RelativeColorimetric,
		Illuminant: [3]float64{0xF6D6 / 65536.0, 1, 0xD32D / 65536.0}, Description: "Sheetfed", Copyright: "nobody's",
		ID: [16]byte(b[84:100]), IDStated: true, IDMatches: true,
	}
	if diff := cmp.Diff(want, parse(t, b), cmpopts.IgnoreUnexported(Profile{})); diff != "" {
		t.Error(diff)
	}
}

// put overwrites bytes.
func put(b []byte, at int, s string) []byte {
	copy(b[at:], s)
	return b
}

func TestParseRefuses(t *testing.T) {
	good := func() []byte { return press().bytes() }
	cases := map[string]struct {
		bytes []byte
		says  string
	}{
		"nothing":            {nil, "too few"},
		"a header alone":     {good()[:128], "too few"},
		"another file":       {put(good(), 36, "acsq"), `signature is "acsq"`},
		"cut off":            {good()[:len(good())-1], "cut off"},
		"a size too small":   {put(good(), 0, "\x00\x00\x00\x83"), "less than a header"},
		"a foreign class":    {put(good(), 12, "xxxx"), `class "xxxx"`},
		"a foreign space":    {put(good(), 16, "KYMC"), `colour space "KYMC"`},
		"a device for PCS":   {put(good(), 20, "RGB "), `connection space "RGB "`},
		"a tag count":        {put(good(), 128, "\x00\x00\x01\x00"), "table of 256 tags"},
		"a huge tag count":   {put(good(), 128, "\xff\xff\xff\xff"), "table of 4294967295 tags"},
		"no tags":            {draft{version: 0x04000000, class: "mntr", space: "RGB ", pcs: "XYZ "}.bytes(), "rXYZ, gXYZ, bXYZ, rTRC, gTRC, bTRC"},
		"a tag in the table": {put(good(), 136, "\x00\x00\x00\x84"), "outside the tag data"},
		"a tag beyond":       {put(good(), 136, "\x7f\xff\xff\xff"), "outside the tag data"},
		"an endless tag":     {put(good(), 140, "\xff\xff\xff\xff"), "outside the tag data"},
		"no table to PCS":    {press().without("A2B0").bytes(), "needs the tags A2B0"},
		"no table from PCS":  {press().without("B2A0").bytes(), "needs the tags B2A0"},
		"matrix in CMYK":     {press().with(screen().tags, "A2B0").bytes(), "needs the tags A2B0"},
		"no blue":            {screen().without("bXYZ", "bTRC").bytes(), "needs the tags bXYZ, bTRC"},
		"grey without curve": {draft{version: 0x02100000, class: "mntr", space: "GRAY", pcs: "XYZ ", tags: press().without("A2B0").tags}.bytes(), "needs the tags kTRC"},
		"another type":       {press().with(map[string][]byte{"A2B0": textTag(strings.Repeat("x", 99))}).bytes(), `"A2B0" holds no data of its type`},
		"an empty table":     {press().with(map[string][]byte{"A2B0": nil}).bytes(), "A2B0"},
		"a short curve":      {screen().with(map[string][]byte{"rTRC": element("curv")}).bytes(), `"rTRC" holds no data of its type`},
		"a table for RGB":    {press().with(map[string][]byte{"A2B0": tableTag("mft2", 3, 3)}).bytes(), "goes from 3 to 3 components, its header from 4 to 3"},
		"tables swapped":     {press().with(map[string][]byte{"B2A0": tableTag("mft2", 4, 3)}).bytes(), "goes from 4 to 3 components, its header from 3 to 4"},
	}
	for name, c := range cases {
		_, err := Parse(c.bytes)
		var format FormatError
		if !errors.As(err, &format) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want %q in it", name, err, c.says)
		}
	}
}

func TestParseUnsupported(t *testing.T) {
	few := Limits{Bytes: 10_000, Tags: 5, TextRunes: 10, Locales: 1}
	small := Limits{Bytes: 200, Tags: 100, TextRunes: 10, Locales: 1}
	v5 := press()
	v5.version = 0x05000000
	for name, c := range map[string]struct {
		limits Limits
		bytes  []byte
	}{
		"version 5":      {DefaultLimits(), v5.bytes()},
		"too many tags":  {few, press().bytes()},
		"too many bytes": {small, press().bytes()},
	} {
		_, err := c.limits.Parse(c.bytes)
		var unsupported UnsupportedError
		if !errors.As(err, &unsupported) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What is off and can be lived with is named, and each alone.
func TestTrouble(t *testing.T) {
	changed := press().bytes()
	changed[len(changed)-1] ^= 1
	flagged := press().bytes()
	flagged[47], flagged[67] = 1, 3 // flags and intent are not part of the ID
	light := screen().bytes()
	binary.BigEndian.PutUint32(light[68:], 0x0000F6D6+4) // 0.9643 to four decimals
	near := screen().bytes()
	binary.BigEndian.PutUint32(near[68:], 0x0000F6D6+1)
	intent := screen().bytes()
	intent[67] = 4
	v3 := screen()
	v3.version = 0x03000000
	twice := screen().with(map[string][]byte{"bTRD": gammaTag(2)}).bytes()
	copy(twice[132+tagEntrySize:], "bTRC") // in place of bTRD, the second in order
	v2ID := put(screen().bytes(), 84, "not looked at yet")
	for name, c := range map[string]struct {
		bytes []byte
		says  []string
	}{
		"nothing off":       {press().bytes(), nil},
		"flags and intent":  {flagged, nil},
		"ID in version 2":   {v2ID, nil},
		"last digit of D50": {near, nil},
		"bytes behind":      {append(screen().bytes(), 0, 0, 0), []string{"followed by 3 more"}},
		"changed":           {changed, []string{"profile ID"}},
		"illuminant":        {light, []string{"its illuminant is 0.9643"}},
		"intent":            {intent, []string{"rendering intent is 4"}},
		"version":           {v3.bytes(), []string{"version is 3.0.0"}},
		"no description":    {screen().without("desc").bytes(), []string{"lacks tags that its class requires: desc"}},
		"empty description": {screen().with(map[string][]byte{"desc": descTag("", "")}).bytes(), []string{"description is empty"}},
		"the other tables":  {press().without("A2B2", "gamt").bytes(), []string{"requires: A2B2, gamt"}},
		"doubled tag":       {twice, []string{`"bTRC" is there twice`}},
	} {
		p, err := Parse(c.bytes)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		ok := len(p.Trouble) == len(c.says)
		for i := range min(len(p.Trouble), len(c.says)) {
			ok = ok && strings.Contains(p.Trouble[i], c.says[i])
		}
		if !ok {
			t.Errorf("%s: trouble is %q, not %q", name, p.Trouble, c.says)
		}
	}
}

// Every class with the least it can do with, and the same less one tag.
func TestClasses(t *testing.T) {
	common := screen().without("rXYZ", "gXYZ", "bXYZ", "rTRC", "gTRC", "bTRC").tags
	table := func(kind string, in, out byte) map[string][]byte {
		return map[string][]byte{"A2B0": tableTag(kind, in, out)}
	}
	both := map[string][]byte{"A2B0": tableTag("mAB ", 3, 3), "B2A0": tableTag("mBA ", 3, 3)}
	curve := map[string][]byte{"kTRC": gammaTag(2.2)}
	named := map[string][]byte{"ncl2": append(element("ncl2"), make([]byte, 76)...)}
	for _, c := range []struct {
		class, space, pcs string
		tags              map[string][]byte
		drop              string
	}{
		{"scnr", "RGB ", "Lab ", table("mAB ", 3, 3), "A2B0"},
		{"scnr", "RGB ", "XYZ ", screen().tags, "gTRC"},
		{"mntr", "GRAY", "XYZ ", curve, "kTRC"},
		{"mntr", "RGB ", "Lab ", table("mft1", 3, 3), "A2B0"},
		{"prtr", "GRAY", "Lab ", curve, "kTRC"},
		{"prtr", "7CLR", "Lab ", map[string][]byte{"A2B0": tableTag("mft2", 7, 3), "B2A0": tableTag("mft2", 3, 7)}, "B2A0"},
		{"link", "RGB ", "CMYK", table("mft2", 3, 4), "A2B0"},
		{"abst", "Lab ", "Lab ", table("mft2", 3, 3), "A2B0"},
		{"spac", "Lab ", "XYZ ", both, "B2A0"},
		{"nmcl", "CMYK", "Lab ", named, "ncl2"},
	} {
		d := draft{version: 0x04000000, class: c.class, space: c.space, pcs: c.pcs, tags: common}.with(c.tags)
		p, err := Parse(d.bytes())
		if err != nil {
			t.Errorf("%s in %s: %v", c.class, c.space, err)
			continue
		}
		if strings.HasPrefix(p.Class.String(), "unknown") || strings.HasPrefix(p.Space.String(), "unknown") {
			t.Errorf("%s in %s is called %s, %s", c.class, c.space, p.Class, p.Space)
		}
		if _, err := Parse(d.without(c.drop).bytes()); err == nil || !strings.Contains(err.Error(), c.drop) {
			t.Errorf("%s in %s without %s: %v", c.class, c.space, c.drop, err)
		}
	}
}

func TestNames(t *testing.T) {
	for got, want := range map[string]string{
		Output.String(): "printer", Class("a\x1bbc").String(): `unknown class "a\x1bbc"`,
		RGB.String(): "RGB", Gray.String(): "grey", Space("7CLR").String(): "7 inks", Space("YCbr").String(): "YCbCr",
		Space("rgb ").String(): `unknown space "rgb "`,
		Saturation.String():    "saturation", Intent(9).String(): "unknown intent 9",
	} {
		if got != want {
			t.Errorf("%s, not %s", got, want)
		}
	}
	for space, want := range map[Space]int{Gray: 1, RGB: 3, CMYK: 4, Lab: 3, "FCLR": 15, "GCLR": 0, "": 0} {
		if got := space.Components(); got != want {
			t.Errorf("%q has %d components, not %d", space, got, want)
		}
	}
}
