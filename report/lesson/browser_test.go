package lesson

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"stoneproof/checks/checktest/browser"
	"stoneproof/rules"
)

// A real browser shows the page without scrolling sideways, on a telephone of 360
// pixels and on a desk, and an audit finds nothing that shuts readers out, in light and
// dark.
func TestPageInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	b := browser.Start(t)
	for _, size := range []string{"us-business", "a6", "bridge"} {
		var page bytes.Buffer
		if err := Page(&page, ticketOf(t, rules.Order{Size: size})); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "primer.html")
		if err := os.WriteFile(file, page.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		tab := b.Tab(t)
		tab.Go("file://" + file)
		for _, width := range []int{360, 800, 1280} {
			tab.Look(width, false)
			if n := tab.Sideways(); n > 0 {
				t.Errorf("%s, %d px wide: the page is %d px wider", size, width, n)
			}
		}
		tab.Audit()
		tab.Look(1280, true)
		tab.Audit(browser.Contrast)
	}
}
