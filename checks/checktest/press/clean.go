package press

import "stoneproof/rules"

// File is a card file that can be made, and the ticket that it is meant for.
type File struct {
	Name    string
	Size    string // the ticket's named size
	Process string // the ticket's process: one that takes the file's colours
	Bytes   func() []byte
}

// Clean lists 48 cards with nothing wrong: each style three times, each size
// four times, over all containers and ways to build a page. Another seed
// matches makers, sizes and containers differently. Files are made when asked
// for.
func Clean(seed int) []File {
	styles, sizes, makers, ways := Styles(), Sizes(), Makers(), containers()
	var out []File
	for i := range 48 {
		c := Card{
			Maker: makers[(i*7+i/12+seed)%len(makers)],
			Style: styles[i%len(styles)],
			Size:  sizes[(i*5+i/12+seed)%len(sizes)],
		}
		way := ways[(i+i/16*3+seed)%len(ways)]
		out = append(out, File{
			Name: c.String() + "-" + way.name, Size: c.Size, Process: way.process,
			Bytes: func() []byte { return way.make(c) },
		})
	}
	return out
}

// container is a way to put a card into a file.
type container struct {
	name    string
	process string
	make    func(Card) []byte
}

// containers are the ways that every card can go. RGB is right for one's own
// printer; presses want inks.
func containers() []container {
	pdf := func(name string, opts ...Option) container {
		return container{name + ".pdf", "digital", func(c Card) []byte { return c.PDF(opts...) }}
	}
	return []container{
		pdf("inks"),
		{"rgb.jpg", "desktop", func(c Card) []byte { return c.JPEG(300) }},
		{"inks.tif", "digital", func(c Card) []byte { return c.TIFF(300) }},
		{"rgb.png", "desktop", func(c Card) []byte { return c.PNG(300) }},
		pdf("slug-moved", Slug(9), Origin(-31, 40)),
		{"inks.jpg", "digital", func(c Card) []byte { return c.JPEG(300, In(CMYK)) }},
		pdf("turned", Rotated(90), NoBox("BleedBox")),
		{"grey.png", "digital", func(c Card) []byte { return c.PNG(300, In(Grey)) }},
		{"rgb.pdf", "desktop", func(c Card) []byte { return c.PDF(In(RGB)) }},
		{"fine.tif", "desktop", func(c Card) []byte { return c.TIFF(350, In(RGB)) }},
		pdf("unit-two", UserUnit(2), Rotated(270), Slug(1), Box("CropBox", rules.Even(rules.MM(3.2)))),
		{"grey.pdf", "digital", func(c Card) []byte { return c.PDF(In(Grey), Rotated(180)) }},
	}
}
