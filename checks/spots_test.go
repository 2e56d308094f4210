package checks_test

import (
	"fmt"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// inInk sets a colour in a named ink.
func inInk(name, what string) sheet {
	return card("/S cs 1 scn " + what).with(helvetica + " /ColorSpace << /S [/Separation /" + name + " /DeviceCMYK " + tint + "] >>")
}

const shape = "40 40 90 60 re f "

func ordered(process string, names ...string) rules.Order {
	return rules.Order{Process: process, Spots: names}
}

func TestSpotColours(t *testing.T) {
	indexed := "[/Indexed [/Separation /Gold /DeviceCMYK " + tint + "] 1 <00ff>]"
	gold := "[/Separation /Gold /DeviceCMYK " + tint + "]"
	var trials []trial
	add := func(order rules.Order, want, says string, named map[string]sheet) {
		for name, s := range named {
			trials = append(trials, trial{name, s.file(), order, want, says})
		}
	}
	// What the processes make of an ink that nobody ordered.
	for process, want := range map[string]string{"desktop": "warn", "digital": "warn", "offset-coated": "fail", "offset-uncoated": "fail"} {
		add(ordered(process), want, `The ink "Gold" is used for line art; the ticket does not name it.`, map[string]sheet{process: inInk("Gold", shape)})
		add(ordered(process, "Gold"), "pass", `the art uses "Gold"`, map[string]sheet{process + ", ordered": inInk("Gold", shape)})
	}
	add(rules.Order{}, "warn", "Gold", map[string]sheet{
		"text":               inInk("Gold", set(12)),
		"a stroke":           card("/S CS 1 SCN " + aLine("3")).with(" /ColorSpace << /S " + gold + " >>"),
		"a tint":             card("/S cs 0.1 scn " + shape).with(" /ColorSpace << /S " + gold + " >>"),
		"among others":       card("/S cs 0.2 0 1 scn "+shape, tintOf(3)).with(" /ColorSpace << /S [/DeviceN [/Cyan /None /Gold] /DeviceCMYK 5 0 R] >>"),
		"by an index":        card("/S cs 1 scn " + shape).with(" /ColorSpace << /S " + indexed + " >>"),
		"in a picture":       card("q 96 0 0 96 40 40 cm /X Do Q", pictureOf(400, 400, 8, 1, "/ColorSpace "+gold)).with("/XObject << /X 5 0 R >>"),
		"in a stencil":       card("/S cs 1 scn q 90 0 0 90 40 40 cm /X Do Q", pictureOf(900, 900, 1, 1, "/ImageMask true")).with("/XObject << /X 5 0 R >> /ColorSpace << /S " + gold + " >>"),
		"in a gradient":      card("/G sh").with("/Shading << /G << /ShadingType 2 /ColorSpace " + gold + " /Coords [0 0 270 0] /Function << /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 1 >> >> >>"),
		"in a gradient fill": card("/Pattern cs /G scn " + shape).with("/Pattern << /G << /PatternType 2 /Shading << /ShadingType 2 /ColorSpace " + gold + " /Coords [0 0 270 0] /Function << /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 1 >> >> >> >>"),
		"in a tile":          card("/Pattern cs /P scn "+shape, stream("/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9 /Resources << /ColorSpace << /S "+gold+" >> >>", "/S cs 1 scn 0 0 5 5 re f")).with("/Pattern << /P 5 0 R >>"),
		"in a tile of one":   card("/C cs 1 /P scn "+shape, stream("/PatternType 1 /PaintType 2 /TilingType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9 /Resources << >>", "0 0 5 5 re f")).with("/Pattern << /P 5 0 R >> /ColorSpace << /C [/Pattern " + gold + "] >>"),
		"in a form":          card("/X Do", stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /Resources << /ColorSpace << /S "+gold+" >> >>", "/S cs 1 scn "+shape)).with("/XObject << /X 5 0 R >>"),
		"in drawn letters":   card("/S cs 1 scn BT /F 10 Tf 40 70 Td (AA) Tj ET", blocks, stream("", "1000 0 0 0 700 700 d1 0 0 700 700 re f")).with("/Font << /F 5 0 R >> /ColorSpace << /S " + gold + " >>"),
		"in the bleed":       inInk("Gold", "0 0 5 162 re f"),
	})
	add(rules.Order{}, "pass", "No ink is used beside cyan, magenta, yellow and black.", map[string]sheet{
		"nothing":                    card(""),
		"process inks":               card("1 0 0 0.2 k " + shape),
		"black by name":              inInk("Black", shape),
		"none":                       inInk("None", shape),
		"two process inks by name":   card("/S cs 1 1 scn "+shape, tintOf(2)).with(" /ColorSpace << /S [/DeviceN [/Magenta /Yellow] /DeviceCMYK 5 0 R] >>"),
		"gold among the resources":   card("1 0 0 0 k " + shape).with(" /ColorSpace << /S " + gold + " >>"),
		"gold, none of it":           card("/S cs 0 scn " + shape).with(" /ColorSpace << /S " + gold + " >>"),
		"clear gold":                 inInk("Gold", "/G gs "+shape).with("/ExtGState << /G << /ca 0 >> >>"),
		"gold clipped away":          inInk("Gold", "0 0 9 9 re W n "+shape),
		"gold not seen":              inInk("Gold", "BT 3 Tr /F 12 Tf 40 70 Td (Potter) Tj ET"),
		"a colour bar in the slug":   slugged("/S cs 1 scn 60 5 30 20 re f").with(" /ColorSpace << /S " + gold + " >>"),
		"registration marks outside": slugged("/S CS 1 SCN 0.25 w 40 0 m 40 30 l S").with(" /ColorSpace << /S [/Separation /All /DeviceCMYK " + tint + "] >>"),
		"registration, none of it":   card("/S cs 0 scn " + shape).with(" /ColorSpace << /S [/Separation /All /DeviceCMYK " + tint + "] >>"),
	})
	add(ordered("", "Gold"), "fail", `Registration colour is used on the card itself, for the words "Potter" (0.65 in across, 1.09 in down)`, map[string]sheet{"registration in words": inInk("All", set(12))})
	add(ordered("desktop"), "fail", "Registration colour is used on the card itself, for line art", map[string]sheet{
		"registration in a shape": inInk("All", shape),
		"in the bleed alone":      inInk("All", "0 0 5 162 re f"),
	})
	add(rules.Order{}, "fail; warn", "", map[string]sheet{"registration and gold": inInk("All", shape+"/T cs 1 scn "+set(12)).with(" /ColorSpace << /S [/Separation /All /DeviceCMYK " + tint + "] /T " + gold + " >>").only("ColorSpace")})
	add(ordered("", "Gold", "Silver"), "pass", `The ticket names "Silver", which this side does not use.`, map[string]sheet{"one of two": inInk("Gold", shape)})
	add(ordered("", "gold"), "pass", `"Gold" looks like "gold" under another name.`, map[string]sheet{"spelt another way": inInk("Gold", shape)})
	add(ordered("", "Slip Blue"), "pass", "", map[string]sheet{"a name with a space": inInk("Slip#20Blue", shape)})
	add(ordered("", "Silver"), "warn", `The ink "Gold" is used`, map[string]sheet{"another ink": inInk("Gold", shape)})
	add(rules.Order{}, "warn", `"black" looks like "Black" under another name.`, map[string]sheet{"black in small letters": inInk("black", shape)})
	add(rules.Order{}, "warn", `"Process Black" looks like "Black" under another name.`, map[string]sheet{"process black": inInk("Process#20Black", shape)})
	two := card("/S cs 1 scn " + shape + "/T cs 1 scn " + set(12)).with(helvetica + " /ColorSpace << /S " + gold + " /T [/Separation /gold /DeviceCMYK " + tint + "] >>")
	add(rules.Order{}, "warn", `2 inks are used that the ticket does not name: "Gold" and "gold". Each is one plate more`, map[string]sheet{"two spellings": two})
	add(rules.Order{}, "warn", `"Gold" and "gold" look like one ink with two names.`, map[string]sheet{"two spellings, told": two})
	add(ordered("", "Gold"), "warn", `The ink "gold" is used for text`, map[string]sheet{"two spellings, one ordered": two})
	try(t, checks.SpotColours, trials)
}

// only keeps the last of entries that a sheet's resources hold twice.
func (s sheet) only(entry string) sheet {
	first, last := strings.Index(s.resources, "/"+entry), strings.LastIndex(s.resources, "/"+entry)
	s.resources = s.resources[:first] + s.resources[last:]
	return s
}

// A picture's further channels have no names (TIFF 6.0, ExtraSamples 0, p. 31).
func TestSpotColoursOfPictures(t *testing.T) {
	channels := func(n int, more ...field) []byte {
		fields := greyFields(300, 180)
		fields[2].data = strings.Repeat(half(8), n)
		fields[5].data = strings.Repeat("\x55", n*300*180)
		fields[6].data = half(uint16(n))
		fields[8].data = word(uint32(n * 300 * 180))
		return tiffFile(append(fields, more...))
	}
	extra := channels(3, field{338, short, half(0) + half(0)})
	try(t, checks.SpotColours, []trial{
		{"two channels more", extra, rules.Order{}, "warn", "2 more channels than its colours need"},
		{"for offset", extra, ordered("offset-coated"), "fail", "Delete the extra channels"},
		{"a plain TIFF", channels(1), rules.Order{}, "pass", "no inks beside its own colours"},
		{"CMYK", plainCard().TIFF(60), ordered("offset-coated"), "pass", ""},
		{"a PNG", pngFile(t, greyPicture(300, 180)), ordered("offset-coated"), "pass", ""},
	})
}

// Many inks are told in few words.
func TestManySpotColours(t *testing.T) {
	var spaces, content string
	for i := range 20 {
		spaces += fmt.Sprintf("/S%d [/Separation /Ink%d /DeviceCMYK %s] ", i, i, tint)
		content += fmt.Sprintf("/S%d cs 1 scn %d 40 5 5 re f ", i, 20+5*i)
	}
	f := checktest.JudgeBy(t, kept(t, "card.pdf", card(content).with("/ColorSpace << "+spaces+" >>").file()), rules.Order{}, checks.SpotColours).Findings[0]
	if !strings.Contains(f.Message, `20 inks are used that the ticket does not name: "Ink0", "Ink1"`) || !strings.Contains(f.Message, "and 12 more") || len(f.Also) != 20 {
		t.Errorf("%+v", f)
	}
}

func TestSpotColoursOfACard(t *testing.T) {
	c := press.Card{Maker: "joiner", Style: press.Framed, Size: "us-business"}
	try(t, checks.SpotColours, []trial{
		{"in CMYK", c.PDF(), ordered("offset-coated"), "pass", ""},
		{"with an ink", c.PDF(press.Spot("Slip Blue")), ordered("offset-coated"), "fail", `"Slip Blue" is used for line art`},
		{"that is ordered", c.PDF(press.Spot("Slip Blue")), ordered("offset-coated", "Slip Blue"), "pass", `the art uses "Slip Blue"`},
		{"in registration colour", c.PDF(press.Registration()), ordered("desktop"), "fail", "Registration colour"},
	})
}

// A spot ink as Ghostscript writes it.
func TestForeignSpotColours(t *testing.T) {
	program := "%!PS\n<< /PageSize [270 162] >> setpagedevice [ /TrimBox [9 9 261 153] /PAGE pdfmark " +
		"[/Separation (Slip Blue) /DeviceCMYK { dup 0 exch 0.5 mul 0 0 }] setcolorspace 1 setcolor 40 40 90 60 rectfill showpage\n"
	for name, order := range map[string]rules.Order{"warn": {}, "pass": ordered("", "Slip Blue")} {
		r := checktest.JudgeBy(t, ghostscript(t, program), order, checks.SpotColours)
		if got := verdicts(r, "spot-colours"); got != name || !strings.Contains(words(r), "Slip Blue") {
			t.Errorf("%v: %s\n%s", order.Spots, got, words(r))
		}
	}
}
