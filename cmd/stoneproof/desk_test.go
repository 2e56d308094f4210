package main

import (
	"bufio"
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stoneproof/checks/checktest/browser"
)

var show = flag.String("show", "", "a folder to write pictures of the desk into")

// openDesk starts the program's desk as its users do, ended with the test, and is its
// address.
func openDesk(t *testing.T, args ...string) (address string, c *exec.Cmd) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	ctx, end := context.WithCancel(context.Background())
	c = exec.CommandContext(ctx, self, append([]string{"desk"}, args...)...)
	c.Args[0] = "stoneproof" // the test's binary is the program under this name
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	c.Dir, c.Env = t.TempDir(), append(os.Environ(), "TMPDIR="+t.TempDir())
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { end(); c.Wait() })
	said := make(chan string, 1)
	go func() {
		line, _ := bufio.NewReader(out).ReadString('\n')
		said <- strings.TrimSpace(line)
		io.Copy(io.Discard, out)
	}()
	select {
	case address = <-said:
	case <-time.After(30 * time.Second):
	}
	if !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Fatalf("the desk says %q, not its address", address)
	}
	return address, c
}

func artFile(t *testing.T, name string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("../../testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// TestDeskInABrowser uses the desk as its users do, on shipped art.
func TestDeskInABrowser(t *testing.T) {
	b := browser.Start(t)

	t.Run("a card is dropped, judged, and leads to its places", func(t *testing.T) {
		address, _ := openDesk(t)
		tab := b.Tab(t)
		tab.Look(1280, false)
		tab.Go(address)
		lookAtDesk(t, tab, "desk-empty")
		tab.Audit()
		tab.Drop(`[data-slot=front]`, artFile(t, "broken/safe-zone/phone-near-knife.pdf"))
		judged(tab, "Not ready for print")
		if said := tab.Text(`document.querySelector("[data-slot=front] .name").innerText`); said != "phone-near-knife.pdf" {
			t.Errorf("the front is called %q", said)
		}
		tab.Click(`a[href="#place-1-1"]`)
		tab.Wait(`document.activeElement.id === "place-1-1"`)
		tab.Press(browser.KeyEnter)
		tab.Wait(`document.activeElement.innerText.includes("01632 960162")`)
		lookAtDesk(t, tab, "desk-judged")
		tab.Look(360, true)
		tab.Audit(browser.Contrast)
		tab.Look(1280, false)
		tab.Audit()

		// The safe margin is made as small as the art wants it, by keyboard.
		proof := `document.querySelector("#report img").src`
		before := tab.Text(proof)
		tab.Text(`document.querySelector("#safe").focus()`)
		tab.Text(`document.querySelector("#safe").select()`)
		tab.Press("0.05")
		judged(tab, "Ready for print")
		if tab.Text(proof) == before {
			t.Error("the proof does not follow the safe margin")
		}
		if !tab.Holds(`document.activeElement.id === "safe" && document.activeElement.value === "0.05"`) {
			t.Error("the field has lost the focus, or its number")
		}
		for _, kept := range []string{"report.html", "proof-1-1.png"} {
			if said := tab.Text(fmt.Sprintf(`fetch(%q).then(r => r.ok + " " + r.headers.get("content-disposition"))`, kept)); !strings.HasPrefix(said, "true attachment") {
				t.Errorf("%s is kept as %q", kept, said)
			}
		}
		// Nonsense is told, and the report stays.
		tab.Text(`document.querySelector("#bleed").select()`)
		tab.Press("99")
		tab.Wait(`document.querySelector("#trouble").innerText.includes("larger than the card itself")`)
		if !tab.Holds(`document.querySelector("#report img")`) {
			t.Error("the report is gone")
		}
		if said := tab.Complaints(); len(said) != 1 || !strings.Contains(said[0], "422") {
			t.Errorf("of nonsense the console says %q", said)
		}
	})

	t.Run("a front and a back, by keyboard alone", func(t *testing.T) {
		address, _ := openDesk(t)
		tab := b.Tab(t)
		tab.Look(360, true)
		tab.Go(address)
		tab.Press(browser.KeyTab)
		if !tab.Holds(`document.activeElement.id === "front" && document.activeElement.matches(":focus-visible")`) {
			t.Error("the first thing that the keyboard meets is not the front")
		}
		both := []string{artFile(t, "sizes/bookbinder-dark-eu-business.pdf"), artFile(t, "good/weaver-white-us-business.tif")}
		tab.Choose("#front", both[0]) // as the dialog that the keyboard opens does
		tab.Wait(`document.querySelector("[data-slot=front] .name").innerText`)
		tab.Choose("#back", both[1])
		tab.Wait(`document.querySelector("[data-slot=back] .name").innerText`)
		judged(tab, "Not ready for print") // they are not of one size
		for range 40 {
			if tab.Press(browser.KeyTab); tab.Holds(`document.activeElement.matches("[formaction=clear]")`) {
				break
			}
		}
		tab.Press(browser.KeyEnter)
		tab.Wait(`document.querySelector("#report h1")?.innerText === "Lay a card on the desk"`)
		if tab.Holds(`document.querySelector(".name").innerText`) {
			t.Error("the desk is not clear")
		}
	})

	t.Run("a hostile name", func(t *testing.T) {
		address, _ := openDesk(t)
		tab := b.Tab(t)
		tab.Look(360, false)
		tab.Go(address)
		name := filepath.Join(t.TempDir(), "<img src=x onerror=alert(1)>\u202egnp."+strings.Repeat("x", 200)+".pdf")
		if err := os.WriteFile(name, []byte("%PDF-1.4 no more"), 0o644); err != nil {
			t.Skip(err) // not on every file system
		}
		tab.Drop("#report", name)
		judged(tab, "Not ready for print")
		if tab.Holds(`document.querySelector("img[src=x]") || document.body.innerText.includes("\u202e")`) {
			t.Error("the name is not harmless")
		}
		if n := tab.Sideways(); n > 0 {
			t.Errorf("the name makes the page %d px wider", n)
		}
	})
}

// judged waits until the desk has judged and says so.
func judged(tab *browser.Tab, says string) {
	tab.Wait(fmt.Sprintf(`document.querySelector("#work").hidden && document.querySelector("#report h1").innerText.includes(%q)`, says))
}

// lookAtDesk looks at the page at three widths, in light and dark.
func lookAtDesk(t *testing.T, tab *browser.Tab, name string) {
	t.Helper()
	for _, width := range []int{360, 800, 1280} {
		tab.Look(width, false)
		if n := tab.Sideways(); n > 0 {
			t.Errorf("%s: %d px wide, the page is %d px wider", name, width, n)
		}
		if *show != "" {
			tab.Picture(filepath.Join(*show, fmt.Sprintf("%s-%d-light.png", name, width)))
			tab.Look(width, true)
			tab.Picture(filepath.Join(*show, fmt.Sprintf("%s-%d-dark.png", name, width)))
		}
	}
}

// TestDeskKilledLeavesNothing: a desk that is killed while it holds a card leaves no
// file behind, neither where it was started nor among temporary files.
func TestDeskKilledLeavesNothing(t *testing.T) {
	address, c := openDesk(t)
	card, err := os.ReadFile(artFile(t, "broken/safe-zone/phone-near-knife.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for name, text := range map[string]string{"size": "us-business", "bleed": "0.125", "safe": "0.125", "unit": "in", "process": "digital"} {
		form.WriteField(name, text)
	}
	into, err := form.CreateFormFile("front", "card.pdf")
	if err != nil {
		t.Fatal(err)
	}
	into.Write(card)
	form.Close()
	r, err := http.NewRequest("POST", address+"check", &body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Origin", address[:strings.Index(address[7:], "/")+7])
	r.Header.Set("Content-Type", form.FormDataContentType())
	res, err := http.DefaultClient.Do(r) // follows to the page with the report
	if err != nil {
		t.Fatal(err)
	}
	said, err := io.ReadAll(res.Body)
	if err != nil || !strings.Contains(string(said), "lies 0.051 in from the trim") {
		t.Fatalf("the card is not judged: %v: %d %.300s", err, res.StatusCode, said)
	}
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	c.Wait()
	for _, folder := range []string{c.Dir, temporary(c)} {
		if left, err := os.ReadDir(folder); err != nil || len(left) > 0 {
			t.Errorf("in %s there is left %v: %v", folder, left, err)
		}
	}
}

// TestDeskEndsWhenTold: Ctrl-C is how a desk ends, and no failure.
func TestDeskEndsWhenTold(t *testing.T) {
	address, c := openDesk(t)
	if err := c.Process.Signal(os.Interrupt); err != nil {
		t.Skip(err) // not on Windows
	}
	if err := c.Wait(); err != nil {
		t.Errorf("the desk ends with %v", err)
	}
	if _, err := http.Get(address); err == nil {
		t.Error("it still answers")
	}
}

func temporary(c *exec.Cmd) string {
	for _, v := range c.Env {
		if folder, ok := strings.CutPrefix(v, "TMPDIR="); ok && strings.Contains(folder, "TestDesk") {
			return folder
		}
	}
	return ""
}
