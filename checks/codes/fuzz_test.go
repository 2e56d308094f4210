package codes_test

import (
	"testing"

	"stoneproof/checks/codes"
)

// FuzzRead: no picture makes it panic or tell nonsense.
func FuzzRead(f *testing.F) {
	s := plain("a", 0.3)
	p := s.plane(f, 7.2, 7.2, 300)
	f.Add(p.Pix, uint16(p.W), 42.3)
	s.turned = 45
	p = s.plane(f, 9, 9, 200)
	f.Add(p.Pix, uint16(p.W), 70.0)
	f.Add([]byte{0, 255, 0, 255}, uint16(2), 1.0)
	f.Fuzz(func(t *testing.T, pix []byte, width uint16, dot float64) {
		w := max(1, int(width))
		p := codes.Plane{Pix: pix, W: w, H: len(pix) / w, PxW: 85, PxH: 85}
		codes.Suspects(p)
		for _, c := range codes.Read(p, dot) {
			if codes.Version(c.Modules) == 0 || !(c.Module > 0) || c.Contrast < -1 || c.Contrast > 1 || c.Readable && c.Level == "" {
				t.Errorf("%+v", c)
			}
			for _, q := range c.Quiet {
				if !(q >= 0 && q <= codes.QuietSeen) {
					t.Errorf("quiet zone %v", c.Quiet)
				}
			}
		}
	})
}
