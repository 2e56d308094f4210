package rules

import (
	"fmt"
	"strings"
)

// Shift is a move to the right and down, as that side is seen.
type Shift struct{ Right, Down Length }

// Off is the larger part of the shift, whichever way.
func (s Shift) Off() Length { return max(s.Right.Abs(), s.Down.Abs()) }

// maxShift bounds what may be off between front and back: an inch. A printer that
// is further off needs mending first.
const maxShift = Inch

// ParseShift reads DX,DY with one unit for both or one each, to the right and down:
// 0.3mm,-0.5mm or 0.01,0in.
func ParseShift(s string) (Shift, error) {
	right, down, ok := strings.Cut(s, ",")
	if !ok {
		return Shift{}, fmt.Errorf("shift %q is not RIGHT,DOWN: write 0.3mm,-0.5mm", s)
	}
	if _, unit := splitUnit(right); unit == "" {
		_, unit = splitUnit(down)
		right += unit
	}
	x, err := ParseLength(right)
	if err != nil {
		return Shift{}, fmt.Errorf("shift %q: %w", s, err)
	}
	y, err := ParseLength(down)
	if err != nil {
		return Shift{}, fmt.Errorf("shift %q: %w", s, err)
	}
	shift := Shift{x, y}
	if shift.Off() > maxShift {
		return Shift{}, fmt.Errorf("shift %q is over an inch: set the printer's own tray first", s)
	}
	return shift, nil
}

// UnmarshalText reads a shift with its units.
func (s *Shift) UnmarshalText(text []byte) error {
	v, err := ParseShift(string(text))
	*s = v
	return err
}
