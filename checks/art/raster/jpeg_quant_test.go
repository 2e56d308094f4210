package raster

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"testing"
)

// The example tables of T.81 (K.1, K.2) are those of quality 50 in Go's encoder; it
// writes them in zigzag order.
func TestJPEGQuant(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewRGBA(image.Rect(0, 0, 8, 8)), &jpeg.Options{Quality: 50}); err != nil {
		t.Fatal(err)
	}
	tables, err := JPEGQuant(b.Bytes())
	if err != nil || len(tables) != 3 {
		t.Fatalf("%d tables: %v", len(tables), err)
	}
	for at, want := range map[int]uint16{0: 16, 1: 11, 7: 61, 8: 12, 37: 109, 56: 72, 63: 99} {
		if got := tables[0][at]; got != want {
			t.Errorf("luminance, step %d is %d, want %d", at, got, want)
		}
	}
	for at, want := range map[int]uint16{0: 17, 3: 47, 8: 18, 25: 66, 63: 99} {
		if tables[1][at] != want || tables[2][at] != want {
			t.Errorf("chrominance, step %d is %d and %d, want %d", at, tables[1][at], tables[2][at], want)
		}
	}
}

// Steps of 16 bits, several tables in a segment, and a table that comes again.
func TestReadQuant(t *testing.T) {
	narrow := append([]byte{0x01}, bytes.Repeat([]byte{7}, 64)...)
	wide := append([]byte{0x12}, bytes.Repeat([]byte{1, 44}, 64)...)
	again := append([]byte{0x01}, bytes.Repeat([]byte{9}, 64)...)
	known, err := readQuant([][]byte{append(bytes.Clone(narrow), wide...), again})
	if err != nil || known[1] == nil || known[1][63] != 9 || known[2] == nil || known[2][5] != 300 || known[0] != nil {
		t.Errorf("%v: %v", err, known)
	}
	for name, bad := range map[string][]byte{"cut short": narrow[:40], "no such number": append([]byte{0x07}, narrow[1:]...), "nothing": make([]byte, 65)} {
		if _, err := readQuant([][]byte{bad}); !errors.Is(err, ErrDamaged) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzJPEGQuant(f *testing.F) {
	for _, b := range samples(f) {
		if Sniff(b) == JPEG {
			f.Add(b)
		}
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		tables, err := JPEGQuant(b)
		if err != nil && (sentinels(err) != 1 || tables != nil) || len(tables) > 255 {
			t.Errorf("%d tables, error %v", len(tables), err)
		}
	})
}
