package syntax

import "github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

// SpaceName undoes the short names that inline images have for colour spaces
// (Table 94), unless the resources have something else under that name.
func (d *Objects) SpaceName(res types.Dict, name string) string {
	long := name
	switch name {
	case "G":
		long = "DeviceGray"
	case "RGB":
		long = "DeviceRGB"
	case "CMYK":
		long = "DeviceCMYK"
	}
	if long != name {
		if _, taken := d.Find(res, "ColorSpace", name); taken {
			return name
		}
	}
	return long
}

// BlendMode takes the first known name where a list is given (11.6.3), and
// reports whether there was one; Normal where there was none.
func (d *Objects) BlendMode(o types.Object) (mode string, known bool) {
	list := d.Array(o)
	if list == nil {
		list = types.Array{o}
	}
	const most = 32 // twice as many as there are modes
	for _, o := range list[:min(len(list), most)] {
		switch n := d.Name(o); n {
		case "Compatible":
			return "Normal", true
		case "Normal", "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn",
			"HardLight", "SoftLight", "Difference", "Exclusion", "Hue", "Saturation", "Color", "Luminosity":
			return n, true
		}
	}
	return "Normal", false
}
