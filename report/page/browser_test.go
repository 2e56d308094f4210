package page_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/checks/checktest/browser"
	"stoneproof/checks/checktest/outside"
	"stoneproof/report/page"
)

var show = flag.String("show", "", "a folder to write pictures of the page into")

// TestInABrowser looks at a page of two cards, one of them hostile, as its readers
// do.
func TestInABrowser(t *testing.T) {
	b := browser.Start(t)
	tk := ticket(t)
	address := onDisk(t, written(t, report(tk, potter(tk), hedger(tk)), page.Options{Proof: proofs(t)}))

	t.Run("a finding leads to its place and back", func(t *testing.T) {
		tab := b.Tab(t)
		tab.Look(1280, false)
		tab.Go(address)
		tab.Click(`a[href="#place-1-1"]`)
		tab.Wait(`document.activeElement.id === "place-1-1"`)
		if !tab.Holds(inView("#place-1-1")) {
			t.Error("the place is not in view")
		}
		tab.Press(browser.KeyEnter)
		tab.Wait(`location.hash.startsWith("#finding-1-1")`)
		if !tab.Holds(`document.activeElement === document.querySelector(location.hash)`) {
			t.Error("the focus did not follow to the finding")
		}
		if said := tab.Text(`document.querySelector(location.hash).innerText`); !strings.Contains(said, "at the left edge") {
			t.Errorf("the place leads to %q", said)
		}
	})

	t.Run("the keyboard is enough", func(t *testing.T) {
		tab := b.Tab(t)
		tab.Look(800, false)
		tab.Go(address)
		for range 60 {
			tab.Press(browser.KeyTab)
			if tab.Holds(`document.activeElement.closest(".why > summary")`) {
				break
			}
			if !tab.Holds(`document.activeElement.matches(":focus-visible")`) {
				t.Fatal("the focus cannot be seen")
			}
		}
		tab.Press(browser.KeyEnter)
		tab.Wait(`document.activeElement.parentElement.open`)
		if said := tab.Text(`document.activeElement.parentElement.innerText`); !strings.Contains(said, "Why it matters on a card") {
			t.Errorf("what unfolds is %q", said)
		}
	})

	t.Run("a later finding leads to the rule", func(t *testing.T) {
		tab := b.Tab(t)
		tab.Go(address)
		tab.Click(`a[href="#why-bleed-fill"]`)
		tab.Wait(`document.querySelector("#why-bleed-fill").closest("details").open`)
	})

	t.Run("at every width, in light and dark", func(t *testing.T) {
		tab := b.Tab(t)
		tab.Go(address)
		for _, width := range []int{360, 800, 1280} {
			tab.Look(width, false)
			if n := tab.Sideways(); n > 0 {
				t.Errorf("%d px wide, the page is %d px wider", width, n)
			}
			if *show != "" {
				tab.Picture(filepath.Join(*show, fmt.Sprintf("page-%d-light.png", width)))
				tab.Look(width, true)
				tab.Picture(filepath.Join(*show, fmt.Sprintf("page-%d-dark.png", width)))
			}
		}
		tab.Text(`document.querySelectorAll("details").forEach(d => d.open = true)`)
		tab.Look(360, false)
		if n := tab.Sideways(); n > 0 {
			t.Errorf("unfolded, the page is %d px wider than 360", n)
		}
		tab.Audit()
		tab.Look(1280, true)
		tab.Audit(browser.Contrast)
	})

	t.Run("on paper", func(t *testing.T) {
		tab := b.Tab(t)
		tab.Look(1280, true)
		tab.Go(address)
		said := paperText(t, tab.Paper())
		for _, want := range []string{"Not ready for print", "cards/potter.pdf", "Paint stops 1.2 mm past the trim", "Put it right: Extend the background to 3.18 mm", "The ticket"} {
			if !strings.Contains(said, want) {
				t.Errorf("the paper does not say %q", want)
			}
		}
	})
}

// inView is a condition: the middle of what the selector finds is in the window.
func inView(selector string) string {
	return fmt.Sprintf(`(r => r.top >= 0 && r.bottom <= innerHeight)(document.querySelector(%q).getBoundingClientRect())`, selector)
}

// paperText is the text of a PDF as another program reads it, its lines run together.
func paperText(t *testing.T, pdf []byte) string {
	t.Helper()
	if *show != "" {
		if err := os.WriteFile(filepath.Join(*show, "page.pdf"), pdf, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c := exec.Command(outside.Tool(t, "pdftotext"), "-layout", "-", "-")
	c.Stdin = bytes.NewReader(pdf)
	out, err := c.Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}
