package lesson

import (
	"bytes"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/checks/checktest/outside"
	"stoneproof/rules"
)

// A real browser shows the page without scrolling sideways, on a telephone of 360
// pixels and on a desk.
func TestPageNeverScrollsSideways(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	chromium := outside.Tool(t, "chromium")
	var frames strings.Builder
	for _, size := range []string{"us-business", "a6", "bridge"} {
		var page bytes.Buffer
		if err := Page(&page, ticketOf(t, rules.Order{Size: size})); err != nil {
			t.Fatal(err)
		}
		for _, width := range []int{360, 800, 1280} {
			fmt.Fprintf(&frames, "<iframe title=\"%s at %d\" width=%d height=900 srcdoc=\"%s\"></iframe>\n", size, width, width, html.EscapeString(page.String()))
		}
	}
	const measure = `<script>onload = () => { for (const f of document.querySelectorAll("iframe")) {
		const e = f.contentDocument.documentElement;
		document.title += f.title + (e.scrollWidth > e.clientWidth ? " scrolls; " : " fits; ");
	} }</script>`
	file := filepath.Join(t.TempDir(), "frames.html")
	if err := os.WriteFile(file, []byte("<!DOCTYPE html><title></title>"+measure+frames.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := exec.Command(chromium, "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+t.TempDir(),
		"--virtual-time-budget=2000", "--dump-dom", "file://"+file).Output()
	if err != nil {
		t.Fatal(err)
	}
	_, title, _ := strings.Cut(string(said), "<title>")
	title, _, _ = strings.Cut(title, "</title>")
	if strings.Count(title, " fits;") != 9 || strings.Contains(title, "scrolls") {
		t.Errorf("the browser says %q", title)
	}
}
