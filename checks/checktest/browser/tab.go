package browser

import (
	"context"
	"fmt"
	"os"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Keys that a reader without a mouse uses.
const (
	KeyTab   = kb.Tab
	KeyEnter = kb.Enter
	KeyUp    = kb.ArrowUp
	KeyDown  = kb.ArrowDown
)

// Go opens an address.
func (tab *Tab) Go(address string) {
	tab.t.Helper()
	tab.do("open "+address, chromedp.Navigate(address))
}

// Look sets the width of the window, and whether its reader likes it dark.
func (tab *Tab) Look(width int, dark bool) {
	tab.t.Helper()
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	tab.do("look", chromedp.EmulateViewport(int64(width), 900), func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{
				{Name: "prefers-color-scheme", Value: scheme},
				{Name: "prefers-reduced-motion", Value: "reduce"},
			},
		})
		return chromedp.Void{}, err
	})
}

// Click clicks on what the selector finds, once it can be seen.
func (tab *Tab) Click(selector string) {
	tab.t.Helper()
	tab.do("click "+selector, chromedp.Click(chromedp.CSS(selector)))
}

// Press presses keys where the focus is.
func (tab *Tab) Press(keys string) {
	tab.t.Helper()
	tab.do(fmt.Sprintf("press %q", keys), chromedp.KeyEvent(keys))
}

// PressBack presses Tab with Shift.
func (tab *Tab) PressBack() {
	tab.t.Helper()
	tab.do("press shift and tab", chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)))
}

// Choose gives files to a file field, as its dialog would.
func (tab *Tab) Choose(selector string, files ...string) {
	tab.t.Helper()
	tab.do("choose files", chromedp.SetUploadFiles(chromedp.CSS(selector), files))
}

// Wait waits until a condition in the page's own language holds, be it on the page
// that follows.
func (tab *Tab) Wait(condition string) {
	tab.t.Helper()
	var last error
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		holds, err := chromedp.Run(tab.ctx, chromedp.Evaluate[bool]("Boolean("+condition+")"))
		if holds {
			return
		}
		last = err // while pages change there is none to ask
	}
	tab.t.Fatalf("waited in vain for %s: %v", condition, last)
}

// Text is what an expression in the page's own language gives, as text.
func (tab *Tab) Text(expression string) string {
	tab.t.Helper()
	return get(tab, expression, chromedp.Evaluate[string]("(async () => String(await ("+expression+")))()", chromedp.EvalAwaitPromise))
}

// Holds reports whether a condition holds.
func (tab *Tab) Holds(condition string) bool {
	tab.t.Helper()
	return get(tab, condition, chromedp.Evaluate[bool]("Boolean("+condition+")"))
}

// Sideways is by how many pixels the page is wider than its window.
func (tab *Tab) Sideways() int {
	tab.t.Helper()
	const over = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
	return get(tab, over, chromedp.Evaluate[int](over))
}

// Picture writes the whole page as a PNG.
func (tab *Tab) Picture(file string) {
	tab.t.Helper()
	tab.write(file, get(tab, "picture", chromedp.FullScreenshot(100)))
}

// Paper is the page as printed on A4, as a PDF.
func (tab *Tab) Paper() []byte {
	tab.t.Helper()
	a4 := chromedp.PaperSize{Width: 8.27, Height: 11.69}
	return get(tab, "print", chromedp.PrintToPDF(chromedp.PDFPaper(a4), chromedp.PDFPreferCSSPageSize()))
}

func (tab *Tab) write(file string, b []byte) {
	tab.t.Helper()
	if err := os.WriteFile(file, b, 0o644); err != nil {
		tab.t.Fatal(err)
	}
}

// Drop drops files where the selector's middle is, as a mouse brings them from a
// folder.
func (tab *Tab) Drop(selector string, files ...string) {
	tab.t.Helper()
	at := get(tab, "find "+selector, chromedp.Evaluate[[2]float64](fmt.Sprintf(
		`(e => { e.scrollIntoView({block: "center"}); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + Math.min(r.height / 2, 40)] })(document.querySelector(%q))`, selector)))
	data := &input.DragData{Items: []*input.DragDataItem{}, Files: files, DragOperationsMask: 1}
	for _, step := range []input.DispatchDragEventType{"dragEnter", "dragOver", "drop"} {
		tab.do(string(step), func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
			_, err := cdp.Call(ctx, t, input.DispatchDragEvent, input.DispatchDragEventParams{Type: step, X: at[0], Y: at[1], Data: data})
			return chromedp.Void{}, err
		})
	}
}
