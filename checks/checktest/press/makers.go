package press

import "slices"

// maker is one of the town's workshops. Town, people, numbers and addresses are
// invented: the numbers lie in a range that the British regulator keeps for
// fiction (01632 960000 to 960999), the domains under .example (RFC 2606).
type maker struct {
	id, name, trade, person        string
	phone, mail, web, street, town string

	deep, brand, accent, pale ink
	mark                      emblem
	scene                     func(w, h float64) scene
}

// Makers lists the makers by the names that Card takes.
func Makers() []string {
	var out []string
	for _, m := range makers() {
		out = append(out, m.id)
	}
	return out
}

func makerNamed(id string) maker {
	all := makers()
	i := slices.IndexFunc(all, func(m maker) bool { return m.id == id })
	if i < 0 {
		panic("press: no maker " + id)
	}
	all[i].town = "Wendlebury Cross"
	return all[i]
}

func makers() []maker {
	return []maker{
		{id: "potter", name: "Hob Lane Pottery", trade: "thrown and glazed stoneware", person: "Ines Calloway",
			phone: "01632 960114", mail: "ines@hoblane.example", web: "hoblane.example", street: "4 Hob Lane",
			deep: pc(72, 40, 50, 42), brand: pc(52, 12, 34, 6), accent: pc(6, 58, 74, 4), pale: pc(6, 4, 12, 0),
			mark: emblem{"pot", drawPot}, scene: potsScene},
		{id: "bicycle-mender", name: "Tarry & Spoke", trade: "bicycles mended while you wait", person: "Jonah Tarry",
			phone: "01632 960127", mail: "bench@tarryspoke.example", web: "tarryspoke.example", street: "The Old Forge, Weir Road",
			deep: pc(78, 44, 28, 50), brand: pc(12, 78, 82, 2), accent: pc(8, 32, 84, 0), pale: pc(8, 4, 4, 0),
			mark: emblem{"wheel", drawWheel}, scene: wheelScene},
		{id: "baker", name: "Larkin's Oven", trade: "bread from a wood fire", person: "Edda Larkin",
			phone: "01632 960139", mail: "edda@larkinsoven.example", web: "larkinsoven.example", street: "11 Market Steps",
			deep: pc(36, 62, 72, 46), brand: pc(8, 46, 82, 4), accent: pc(14, 74, 78, 4), pale: pc(2, 6, 18, 0),
			mark: emblem{"wheat", drawWheat}, scene: loafScene},
		{id: "beekeeper", name: "Skep Hill Honey", trade: "heather and lime honey in the comb", person: "Osric Penhale",
			phone: "01632 960143", mail: "osric@skephill.example", web: "skephill.example", street: "Skep Hill Farm",
			deep: pc(30, 52, 80, 58), brand: pc(4, 34, 92, 0), accent: pc(50, 22, 84, 8), pale: pc(2, 5, 22, 0),
			mark: emblem{"bee", drawBee}, scene: combScene},
		{id: "bookbinder", name: "Vellum Row Bindery", trade: "books sewn, bound and brought back", person: "Tamsin Orle",
			phone: "01632 960158", mail: "tamsin@vellumrow.example", web: "vellumrow.example", street: "2 Vellum Row",
			deep: pc(40, 78, 58, 50), brand: pc(22, 84, 66, 14), accent: pc(14, 30, 68, 6), pale: pc(4, 7, 14, 0),
			mark: emblem{"book", drawBook}, scene: leatherScene},
		{id: "seed-merchant", name: "Furrow & Pease", trade: "seeds, bulbs and sound advice", person: "Alder Pease",
			phone: "01632 960162", mail: "alder@furrowpease.example", web: "furrowpease.example", street: "Corn Hall Yard",
			deep: pc(68, 36, 76, 46), brand: pc(56, 14, 78, 4), accent: pc(6, 40, 86, 0), pale: pc(6, 2, 16, 0),
			mark: emblem{"sprout", drawSprout}, scene: fieldScene},
		{id: "candle-maker", name: "Tallow Yard", trade: "beeswax candles dipped by hand", person: "Wren Abbotsleigh",
			phone: "01632 960175", mail: "wren@tallowyard.example", web: "tallowyard.example", street: "7 Tallow Yard",
			deep: pc(62, 62, 40, 58), brand: pc(10, 56, 84, 2), accent: pc(4, 22, 72, 0), pale: pc(4, 8, 16, 0),
			mark: emblem{"candle", drawCandle}, scene: glowScene},
		{id: "clock-mender", name: "Quarter Past", trade: "clocks mended and set going", person: "Silas Merrow",
			phone: "01632 960181", mail: "silas@quarterpast.example", web: "quarterpast.example", street: "Under the Butter Cross",
			deep: pc(82, 60, 32, 46), brand: pc(18, 36, 72, 10), accent: pc(62, 30, 14, 4), pale: pc(5, 5, 10, 0),
			mark: emblem{"clock", drawClock}, scene: dialScene},
		{id: "ferryman", name: "The Osier Ferry", trade: "over the Wend from dawn to dusk", person: "Brannoc Weir",
			phone: "01632 960196", mail: "hail@osierferry.example", web: "osierferry.example", street: "Osier Stairs",
			deep: pc(84, 48, 36, 44), brand: pc(66, 20, 20, 4), accent: pc(4, 48, 66, 0), pale: pc(8, 2, 6, 0),
			mark: emblem{"ferry", drawFerry}, scene: riverScene},
		{id: "paper-marbler", name: "Swirl & Size", trade: "marbled papers, no two alike", person: "Odile Fenwright",
			phone: "01632 960203", mail: "odile@swirlsize.example", web: "swirlsize.example", street: "9 Vellum Row",
			deep: pc(80, 66, 20, 42), brand: pc(64, 42, 6, 4), accent: pc(6, 72, 52, 0), pale: pc(6, 4, 6, 0),
			mark: emblem{"swirl", drawSwirl}, scene: marbledScene},
		{id: "joiner", name: "Ashplant Joinery", trade: "stairs, sashes and honest tables", person: "Corin Ashplant",
			phone: "01632 960218", mail: "corin@ashplant.example", web: "ashplant.example", street: "Sawpit Lane",
			deep: pc(46, 56, 70, 54), brand: pc(20, 48, 72, 14), accent: pc(60, 26, 48, 10), pale: pc(4, 7, 14, 0),
			mark: emblem{"dovetail", drawDovetail}, scene: woodScene},
		{id: "weaver", name: "Madder House", trade: "cloth woven and dyed in the yarn", person: "Lisbet Thorne",
			phone: "01632 960224", mail: "lisbet@madderhouse.example", web: "madderhouse.example", street: "Madder House, Mill Leat",
			deep: pc(34, 86, 62, 42), brand: pc(14, 78, 62, 6), accent: pc(70, 40, 22, 10), pale: pc(4, 8, 10, 0),
			mark: emblem{"shuttle", drawShuttle}, scene: clothScene},
	}
}
