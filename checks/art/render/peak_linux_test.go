//go:build !race

package render

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// A process that starts the renderer and draws one card at 300 ppi stays small:
// the ceiling is about one and a half times what it was when this was written.
func TestPeakMemory(t *testing.T) {
	const ceiling = 120 << 10 // KiB
	if os.Getenv("RENDER_ONE") != "" {
		renderOne(t, pdf("", nil, card(quarters(0, 0, 270, 162))), View{Media: cardMedia, W: 270, H: 162, PxW: 1125, PxH: 675})
		status, err := os.ReadFile("/proc/self/status")
		if err != nil {
			t.Fatal(err)
		}
		fmt.Printf("\n%s", status)
		return
	}
	open(t, pdf("", nil, card(""))) // the code is in the cache from here on
	child := exec.Command(os.Args[0], "-test.run=^TestPeakMemory$")
	child.Env = append(os.Environ(), "RENDER_ONE=1")
	out, err := child.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var peak int
	_, line, _ := strings.Cut(string(out), "\nVmHWM:")
	if _, err := fmt.Sscan(line, &peak); err != nil {
		t.Fatalf("no peak in %s", out)
	}
	t.Logf("the peak is %d KiB", peak)
	if peak > ceiling {
		t.Errorf("the peak is %d KiB, above %d", peak, ceiling)
	}
}
