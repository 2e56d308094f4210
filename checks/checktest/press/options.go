package press

import "stoneproof/rules"

// Option sets how a file is made, or puts one fault in.
type Option func(*settings)

// Together sets several options at once.
func Together(opts ...Option) Option {
	return func(o *settings) {
		for _, set := range opts {
			set(o)
		}
	}
}

// In makes the file's colours of a space. PDF and TIFF start with CMYK, JPEG
// and PNG with RGB.
func In(s Space) Option { return func(o *settings) { o.space = s } }

// NoProfile leaves colour profile and output intent out.
func NoProfile() Option { return func(o *settings) { o.noProfile = true } }

// WithProfile tags the file with these bytes in place of the space's own profile.
func WithProfile(icc []byte) Option { return func(o *settings) { o.profile = icc } }

// NamedIntent names a PDF's printing condition without its profile: printers
// know FOGRA39 from the registry.
func NamedIntent() Option { return func(o *settings) { o.named = true } }

// PicturePPI takes continuous-tone pictures at a resolution; they start at 304.
// In a raster file, whose pixels are as many as asked for, they are enlarged.
func PicturePPI(ppi float64) Option { return func(o *settings) { o.picturePPI = ppi } }

// Enlarged draws a raster file at a k-th of its resolution and enlarges it, by averages
// of neighbours, to the pixels asked for.
func Enlarged(k float64) Option { return func(o *settings) { o.enlarged = k } }

// LinePPI makes a PDF's one-bit pictures at a resolution; they start at 1200.
func LinePPI(ppi float64) Option { return func(o *settings) { o.linePPI = ppi } }

// Quality compresses JPEGs by a quality of 1 to 100; they start at 90.
func Quality(q int) Option { return func(o *settings) { o.quality = q } }

// OnceJPEG takes a picture file's pixels through a JPEG of a quality first, as happens
// to a picture from a web page that is then saved without loss.
func OnceJPEG(quality int) Option { return func(o *settings) { o.onceJPEG = quality } }

// Lossless keeps a PDF's pictures without loss.
func Lossless() Option { return func(o *settings) { o.lossless = true } }

// LooseFonts leaves a PDF's fonts out of the file.
func LooseFonts() Option { return func(o *settings) { o.looseFonts = true } }

// NoDensity leaves out how many pixels of a raster file go to the inch.
func NoDensity() Option { return func(o *settings) { o.noDensity = true } }

// Spot paints a PDF's brand colour with a named extra ink.
func Spot(name string) Option { return func(o *settings) { o.spot = name } }

// RichBlack sets black type in four inks.
func RichBlack() Option { return func(o *settings) { o.richBlack = true } }

// Registration paints all that is black in a PDF with the colour of every plate.
func Registration() Option { return func(o *settings) { o.registration = true } }

// WhiteOverprints sets a PDF's paper-white type to overprint.
func WhiteOverprints() Option { return func(o *settings) { o.whiteOver = true } }

// RulePoints draws rules so many points thick.
func RulePoints(pt float64) Option { return func(o *settings) { o.rule = pt } }

// FrameAt moves the outer frame of a Framed card to mm inside the trim.
func FrameAt(mm float64) Option { return func(o *settings) { o.frame = mm } }

// CutMarks draws cutting marks on the art itself, from mm outside the trim outward.
func CutMarks(mm float64) Option { return func(o *settings) { o.marks = &mm } }

// Wet mixes the maker's deep colour of 344 % ink, more than any paper dries.
func Wet() Option { return func(o *settings) { o.wet = true } }

// SmallType sets all that is not display type so many points high.
func SmallType(pt float64) Option { return func(o *settings) { o.smallType = pt } }

// Stamped lays a stamp over a PDF's pages, as who approves a proof does; it prints.
func Stamped() Option { return func(o *settings) { o.stamped = true } }

// Code draws the clock mender's web address as a QR code, mm each way, in the place of
// a broadside's second mark, of the mark on a two-sided card's face, or on the label of
// a lattice. At 10 mm it is sound.
func Code(mm float64) Option { return func(o *settings) { o.code = mm } }

// Guides draws the safe line on a layer of a PDF that shows on a screen and is not
// to be printed.
func Guides() Option { return func(o *settings) { o.guides = true } }

// Claiming has a PDF say that it keeps a standard.
func Claiming(standard string) Option { return func(o *settings) { o.claim = standard } }

// Pages makes a PDF of n pages; past the card's last side it begins again.
func Pages(n int) Option { return func(o *settings) { o.pages = n } }

// BackTurned turns the back of a PDF clockwise as the reader sees it: 90, 180 or 270.
func BackTurned(degrees int) Option { return func(o *settings) { o.backTurned = degrees } }

// BackScaled prints the back of a PDF so many times as large as the front.
func BackScaled(k float64) Option { return func(o *settings) { o.backScale = k } }

// PaintStops ends the background mm past the trim on one edge; the file keeps
// its room for the bleed.
func PaintStops(e rules.Edge, mm float64) Option {
	return func(o *settings) { setEdge(&o.reach, e, mm) }
}

// RoomEnds ends the file itself mm past the trim on one edge.
func RoomEnds(e rules.Edge, mm float64) Option {
	return func(o *settings) { setEdge(&o.room, e, mm) }
}

// Bleed sets paint and file alike to mm past the trim on every edge.
func Bleed(mm float64) Option {
	return func(o *settings) { o.reach, o.room = rules.Even(rules.MM(mm)), rules.Even(rules.MM(mm)) }
}

// TrimOnly ends the file at the trim all round.
func TrimOnly() Option { return func(o *settings) { o.room = rules.Edges{} } }

func setEdge(s *rules.Edges, e rules.Edge, mm float64) {
	*map[rules.Edge]*rules.Length{
		rules.Top: &s.Top, rules.Right: &s.Right, rules.Bottom: &s.Bottom, rules.Left: &s.Left,
	}[e] = rules.MM(mm)
}

// PhoneAt drags the phone number until its ink is mm inside the trim's edge;
// less than nothing puts it across the cut.
func PhoneAt(e rules.Edge, mm float64) Option {
	return func(o *settings) { o.phone = &place{e, mm} }
}

// Slug makes a PDF's page mm larger all round than the card with its bleed.
func Slug(mm float64) Option { return func(o *settings) { o.slug = mm } }

// Rotated turns a PDF's page by its Rotate entry: 90, 180 or 270. What the
// reader sees stays the same.
func Rotated(degrees int) Option { return func(o *settings) { o.rotate = degrees } }

// UserUnit makes a PDF's unit u points long. What the reader sees stays the same.
func UserUnit(u float64) Option { return func(o *settings) { o.unit = u } }

// Origin moves a PDF's whole coordinate system: the page's corner lies at (x, y).
func Origin(x, y float64) Option { return func(o *settings) { o.origin = pt{x, y} } }

// Box sets a PDF page box to the trim grown by e; negative lengths shrink it.
// Names are those of the page's entries: TrimBox, BleedBox, CropBox, ArtBox.
func Box(name string, e rules.Edges) Option {
	return func(o *settings) { o.boxes[name] = &e }
}

// NoBox leaves a PDF page box out.
func NoBox(name string) Option { return func(o *settings) { o.boxes[name] = nil } }
