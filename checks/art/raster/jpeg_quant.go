package raster

import (
	"encoding/binary"
	"fmt"
	"slices"
)

// JPEGQuant gives the quantisation table (ITU-T T.81, B.2.4.1) of each channel of a
// JPEG, in the order in which the channels are stored: 64 steps, row by row.
func JPEGQuant(b []byte) (tables [][64]uint16, err error) {
	defer rescue(&err)
	if Sniff(b) != JPEG {
		return nil, stranger(b)
	}
	data, err := walkJPEG(b)
	if err != nil {
		return nil, err
	}
	known, err := readQuant(data.quant)
	if err != nil {
		return nil, err
	}
	for _, n := range data.frame.quants {
		if n > 3 || known[n] == nil {
			return nil, fmt.Errorf("%w: the JPEG lacks quantisation table %d", ErrDamaged, n)
		}
		tables = append(tables, *known[n])
	}
	return tables, nil
}

// readQuant reads the tables that segments hold, one after the other. A later table
// of a number takes the place of an earlier one.
func readQuant(segments [][]byte) (known [4]*[64]uint16, err error) {
	order := zigzag()
	for _, s := range segments {
		for len(s) > 0 {
			wide, number := int(s[0]>>4), s[0]&15
			size := 64 * (wide + 1)
			if wide > 1 || number > 3 || len(s) < 1+size {
				return known, fmt.Errorf("%w: a JPEG quantisation table is cut short or has no such number", ErrDamaged)
			}
			var t [64]uint16
			for k, at := range order {
				t[at] = uint16(s[1+k])
				if wide == 1 {
					t[at] = binary.BigEndian.Uint16(s[1+2*k:])
				}
			}
			if slices.Contains(t[:], 0) {
				return known, fmt.Errorf("%w: a JPEG quantisation table has a step of nothing", ErrDamaged)
			}
			known[number], s = &t, s[1+size:]
		}
	}
	return known, nil
}

// zigzag lists the places of a block in the order in which they are stored (T.81,
// figure 5): along its diagonals, to and fro.
func zigzag() (order [64]int) {
	at := 0
	for d := range 15 {
		for k := max(0, d-7); k <= min(d, 7); k++ {
			x, y := k, d-k
			if d%2 == 1 {
				x, y = y, x
			}
			order[at] = 8*y + x
			at++
		}
	}
	return order
}
