package compression

// Table is a quantisation table of JPEG: the steps in which the 64 coefficients of
// a block are kept, row by row; the first is that of the block's mean.
type Table [64]uint16

// luminance and chrominance are the tables of ITU-T T.81, K.1 and K.2, that nearly
// all encoders scale by quality.
func luminance() Table {
	return Table{
		16, 11, 10, 16, 24, 40, 51, 61,
		12, 12, 14, 19, 26, 58, 60, 55,
		14, 13, 16, 24, 40, 57, 69, 56,
		14, 17, 22, 29, 51, 87, 80, 62,
		18, 22, 37, 56, 68, 109, 103, 77,
		24, 35, 55, 64, 81, 104, 113, 92,
		49, 64, 78, 87, 103, 121, 120, 101,
		72, 92, 95, 98, 112, 100, 103, 99,
	}
}

func chrominance() Table {
	return Table{
		17, 18, 24, 47, 99, 99, 99, 99,
		18, 21, 26, 66, 99, 99, 99, 99,
		24, 26, 56, 99, 99, 99, 99, 99,
		47, 66, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99,
	}
}

// scaled is a table at a quality of 1 to 100, by the formula of the Independent JPEG
// Group's library (jpeg_quality_scaling and jpeg_add_quant_table in its jcparam.c):
// 50 leaves the table as it is, 100 makes every step one.
func (t Table) scaled(quality int) Table {
	scale := 200 - 2*quality
	if quality < 50 {
		scale = 5000 / quality
	}
	for i, v := range t {
		t[i] = uint16(max(1, min(255, (int(v)*scale+50)/100)))
	}
	return t
}

// TableAt is the standard's table of luminance at a quality.
func TableAt(quality int) Table { return luminance().scaled(quality) }

// Quality is the quality, 1 to 100, at which the standard's table of luminance, or
// that of chrominance, comes nearest to the steps: the least sum of squares. Exact
// tells that it is the very table; other makes of table have other scales, and the
// number is then what the standard's would be called.
func Quality(t Table) (quality int, exact bool) {
	least := -1
	for _, standard := range []Table{luminance(), chrominance()} {
		for q := 100; q >= 1; q-- {
			if d := t.distance(standard.scaled(q)); least < 0 || d < least {
				least, quality = d, q
			}
		}
	}
	return quality, least == 0
}

// distance is the sum of the squared differences.
func (t Table) distance(from Table) int {
	sum := 0
	for i, v := range t {
		d := int(v) - int(from[i])
		sum += d * d
	}
	return sum
}
