package sheet

import "stoneproof/rules"

// Paper is a sheet that people ask for by name.
type Paper struct {
	Name string
	Size rules.Size
	Unit rules.Unit // that its makers work in
}

// Papers lists the named sheets. Sizes: PWG 5101.1, Media Standardized Names.
func Papers() []Paper {
	in := func(name string, w, h float64) Paper {
		return Paper{name, rules.Size{W: rules.Inches(w), H: rules.Inches(h)}, rules.UnitIn}
	}
	mm := func(name string, w, h float64) Paper {
		return Paper{name, rules.Size{W: rules.MM(w), H: rules.MM(h)}, rules.UnitMM}
	}
	return []Paper{
		in("letter", 8.5, 11), in("legal", 8.5, 14), in("tabloid", 11, 17), in("12x18", 12, 18), in("13x19", 13, 19),
		mm("a4", 210, 297), mm("a3", 297, 420), mm("sra4", 225, 320), mm("sra3", 320, 450),
	}
}

// PaperNames lists the names of the papers.
func PaperNames() []string {
	var names []string
	for _, p := range Papers() {
		names = append(names, p.Name)
	}
	return names
}

// PaperNamed finds a named paper.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range Papers() {
		if p.Name == name {
			return p, true
		}
	}
	return Paper{}, false
}

// HomePaper is what a card told in this unit is most likely printed on.
func HomePaper(u rules.Unit) Paper {
	name := "a4"
	if u == rules.UnitIn {
		name = "letter"
	}
	p, _ := PaperNamed(name)
	return p
}
