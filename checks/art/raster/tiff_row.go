package raster

// integrate undoes the horizontal predictor on one row: each sample was
// stored less its neighbour to the left (TIFF 6.0, section 14).
func (t *tiffPage) integrate(row []byte, each int) {
	if t.bits == 8 {
		for i := each; i < len(row); i++ {
			row[i] += row[i-each]
		}
		return
	}
	order := t.segments.offsets.order
	for i := 2 * each; i+1 < len(row); i += 2 {
		order.PutUint16(row[i:], order.Uint16(row[i:])+order.Uint16(row[i-2*each:]))
	}
}

// bytes makes one byte of each sample of a row.
func (t *tiffPage) bytes(row []byte, u *unpacker) []byte {
	switch t.bits {
	case 8:
		return row
	case 16:
		out := u.out(len(row) / 2)
		order := t.segments.offsets.order
		for i := range out {
			out[i] = t.narrow(order.Uint16(row[2*i:]))
		}
		return out
	}
	per := 8 / t.bits
	out := u.out(len(row) * per)
	mask := byte(1)<<t.bits - 1
	scale := 255 / mask
	if t.photometric == photoPalette {
		scale = 1
	}
	for i := range out {
		out[i] = row[i/per] >> (8 - t.bits - i%per*t.bits) & mask * scale
	}
	return out
}

// narrow reduces a sample of 16 bits. Those of Lab are signed, or begin at
// 8000h: their high byte is the sample of 8 bits.
func (t *tiffPage) narrow(v uint16) byte {
	if t.space() == Lab {
		return byte(v >> 8)
	}
	return to8(uint32(v))
}
