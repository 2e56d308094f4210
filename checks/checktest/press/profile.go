package press

import (
	"math"
	"os"
	"path/filepath"
	"sync"

	carried "stoneproof/checks/art/icc/press"
)

// Coated is the profile of the press that the town's printer runs: FOGRA39L,
// offset on coated paper. It is the one that the program carries.
var Coated = sync.OnceValue(carried.CoatedFile)

// Testdata is the module's folder of shipped art, found upwards from the
// working directory: tests run inside the module.
func Testdata() string {
	dir, err := os.Getwd()
	for err == nil && dir != filepath.Dir(dir) {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(dir, "testdata")
		}
		dir = filepath.Dir(dir)
	}
	panic("press: must run inside the module: its art lies there")
}

// SRGB is a display profile of matrix and curve for sRGB (ICC.1:2001-04, 6.3.1.2
// "Monochrome" and 6.3.1.3 "RGB" display profiles), made here.
func SRGB() []byte {
	curve := curveTag(linear)
	return profileFile("RGB ", []tag{
		{"desc", descTag("sRGB, by press")},
		{"cprt", textTag("No copyright, use freely")},
		{"wtpt", xyzTag(d50)},
		// The sRGB primaries (IEC 61966-2-1) adapted to D50 by Bradford.
		{"rXYZ", xyzTag([3]uint32{0x6fa2, 0x38f5, 0x0390})},
		{"gXYZ", xyzTag([3]uint32{0x6299, 0xb785, 0x18da})},
		{"bXYZ", xyzTag([3]uint32{0x24a0, 0x0f84, 0xb6cf})},
		{"rTRC", curve}, {"gTRC", curve}, {"bTRC", curve},
	})
}

// GreyProfile is the same curve for one channel of light.
func GreyProfile() []byte {
	return profileFile("GRAY", []tag{
		{"desc", descTag("Grey, sRGB curve, by press")},
		{"cprt", textTag("No copyright, use freely")},
		{"wtpt", xyzTag(d50)},
		{"kTRC", curveTag(linear)},
	})
}

// d50 is the white of the profile connection space, as s15Fixed16 numbers.
var d50 = [3]uint32{0xf6d6, 0x10000, 0xd32d}

// tag is one entry of a profile.
type tag struct {
	name string
	data []byte
}

// profileFile puts tags behind the 128-byte header (ICC.1:2001-04, 6.1, 6.2).
// Tags of equal content share their bytes.
func profileFile(space string, tags []tag) []byte {
	head := make([]byte, 128)
	be.PutUint32(head[8:], 0x02400000) // version 2.4
	copy(head[12:], "mntr"+space+"XYZ ")
	for i, v := range []uint16{2024, 5, 1, 12, 0, 0} {
		be.PutUint16(head[24+2*i:], v)
	}
	copy(head[36:], "acsp")
	for i, v := range d50 {
		be.PutUint32(head[68+4*i:], v)
	}
	table := be.AppendUint32(nil, uint32(len(tags)))
	var body []byte
	at := map[string]int{}
	for _, t := range tags {
		if _, ok := at[string(t.data)]; !ok {
			at[string(t.data)] = 128 + 4 + 12*len(tags) + len(body)
			body = append(body, t.data...)
			for len(body)%4 != 0 {
				body = append(body, 0)
			}
		}
		table = append(table, t.name...)
		table = be.AppendUint32(table, uint32(at[string(t.data)]))
		table = be.AppendUint32(table, uint32(len(t.data)))
	}
	out := append(append(head, table...), body...)
	be.PutUint32(out, uint32(len(out)))
	return out
}

func textTag(s string) []byte { return append([]byte("text\x00\x00\x00\x00"), s+"\x00"...) }

// descTag is a textDescriptionType with its Unicode and ScriptCode parts empty.
func descTag(s string) []byte {
	out := be.AppendUint32([]byte("desc\x00\x00\x00\x00"), uint32(len(s)+1))
	out = append(out, s+"\x00"...)
	return append(out, make([]byte, 4+4+2+1+67)...)
}

func xyzTag(v [3]uint32) []byte {
	out := []byte("XYZ \x00\x00\x00\x00")
	for _, n := range v {
		out = be.AppendUint32(out, n)
	}
	return out
}

// curveTag samples f at 1024 places: fine enough for eight bits.
func curveTag(f func(float64) float64) []byte {
	const n = 1024
	out := be.AppendUint32([]byte("curv\x00\x00\x00\x00"), n)
	for i := range n {
		out = be.AppendUint16(out, uint16(math.Round(f(float64(i)/(n-1))*65535)))
	}
	return out
}
