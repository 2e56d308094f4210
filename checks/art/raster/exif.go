package raster

// Tags that TIFF and Exif share (TIFF 6.0 pp. 18–19, 36; Exif 2.3, 4.6.4).
const (
	tagOrientation    = 274
	tagXResolution    = 282
	tagYResolution    = 283
	tagResolutionUnit = 296
	tagExifDirectory  = 34665
	tagColorSpace     = 40961
)

const (
	unitNone       = 1
	unitInch       = 2 // where a file names no unit
	unitCentimetre = 3
)

// exif is what an Exif block says about how to show a picture.
type exif struct {
	orientation int
	density     Density
	colour      []Claim
}

// readExif reads an Exif block from its TIFF header on. A block that cannot be
// read says nothing: no picture depends on it.
func readExif(b []byte, lim Limits) exif {
	d, err := readDirectories(b, lim.Entries)
	if err != nil {
		return exif{orientation: 1}
	}
	dir, _, err := d.at(d.first)
	if err != nil {
		return exif{orientation: 1}
	}
	return d.exif(dir, "Exif")
}

// exif reads the tags that TIFF and Exif share from a directory, and the
// colour space from the Exif directory that it may lead to.
func (d directories) exif(dir []entry, source string) exif {
	x := exif{
		orientation: orientation(number(dir, tagOrientation, 1)),
		density:     directoryDensity(dir, source),
	}
	if sub := number(dir, tagExifDirectory, 0); sub != 0 {
		if dir, _, err := d.at(sub); err == nil {
			x.colour = exifColour(number(dir, tagColorSpace, 0))
		}
	}
	return x
}

// exifColour reads the ColorSpace tag (Exif 2.3, 4.6.5 B).
func exifColour(v uint64) []Claim {
	switch v {
	case 1:
		return []Claim{{Source: "Exif", Kind: ClaimSRGB, Space: RGB}}
	case 65535:
		return []Claim{{Source: "Exif", Kind: ClaimUncalibrated, Space: RGB}}
	}
	return nil
}

// against names what Exif says of colours that cannot be said of a space.
func (x exif) against(space Space) []string {
	if space == CMYK && len(x.colour) > 0 && x.colour[0].Kind == ClaimSRGB {
		return []string{"Exif says sRGB, but the picture is CMYK"}
	}
	return nil
}

// directoryDensity reads the density of a TIFF or Exif directory.
func directoryDensity(dir []entry, source string) Density {
	unit := number(dir, tagResolutionUnit, unitInch)
	ex, okX := find(dir, tagXResolution)
	ey, okY := find(dir, tagYResolution)
	switch {
	case !okX && !okY:
		return Density{Silence: "no " + source + " resolution"}
	case unit == unitNone:
		return Density{Source: source, Silence: source + " ResolutionUnit 1: no unit"}
	case unit != unitInch && unit != unitCentimetre:
		return Density{Source: source, Silence: source + " ResolutionUnit is none of the standard's"}
	}
	// One direction alone is taken for both: pixels are square unless a file
	// says that they are not.
	x, y := ex.rational(), ey.rational()
	if !okY {
		y = x
	}
	if !okX {
		x = y
	}
	return stated(x, y, unit == unitCentimetre, source)
}

// stated makes a density of numbers per inch or centimetre. A number that no
// density can be, such as 0 over 0, states nothing.
func stated(x, y float64, perCentimetre bool, source string) Density {
	if !(x > 0 && y > 0) {
		return Density{Source: source, Silence: source + " density is zero"}
	}
	if perCentimetre {
		x, y = x*2.54, y*2.54
	}
	return Density{X: x, Y: y, Source: source}
}

// rank takes the format's own density before that of Exif, where the format
// states one: it is the field that programs which place pictures read, and
// Exif 72 is written for "unknown". Where only Exif states one, it counts.
func rank(own, exif Density) (density, outranked Density) {
	switch {
	case own.Stated() && exif.Stated():
		return own, exif
	case exif.Stated():
		return exif, Density{}
	}
	return own, Density{}
}
