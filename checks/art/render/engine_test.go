package render

import (
	"bytes"
	"compress/zlib"
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"
)

// small is an engine with the least memory it can have, of a test's own.
func small(t *testing.T) *Engine {
	e := Start(Options{MemoryPages: leastPages})
	t.Cleanup(e.Close)
	return e
}

// A page that unpacks to more than the sandbox holds fails, and nothing else
// does: not the next page, not the next file.
func TestMemoryBomb(t *testing.T) {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	for range 64 {
		z.Write(bytes.Repeat([]byte(" "), 1<<20))
	}
	z.Close()
	bomb := card("")
	bomb.extra = "/Contents 100 0 R"
	object := fmt.Sprintf("<</Filter/FlateDecode/Length %d>>stream\n%s\nendstream", packed.Len(), packed.Bytes())
	file := pdf("", []string{object}, bomb, card("1 0 0 rg 0 0 270 162 re f"))
	file = bytes.Replace(file, []byte("/Contents 11 0 R"), []byte("                "), 1)

	e := small(t)
	d, err := e.Open(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	if _, err := d.Render(t.Context(), 1, whole(cardMedia, 1)); !errors.Is(err, ErrMemory) {
		t.Errorf("the bomb: %v", err)
	}
	img, err := d.Render(t.Context(), 2, whole(cardMedia, 1))
	if err != nil {
		t.Fatalf("the page after the bomb: %v", err)
	}
	sameEverywhere(t, img, img.Rect, red)
}

// A picture that the ceiling allows and the sandbox has no room for.
func TestNoRoomForPicture(t *testing.T) {
	d, err := small(t).Open(t.Context(), pdf("", nil, card("1 0 0 rg 0 0 270 162 re f")))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	for range 2 {
		if _, err := d.Render(t.Context(), 1, View{Media: cardMedia, W: 270, H: 162, PxW: 5000, PxH: 3000}); !errors.Is(err, ErrMemory) {
			t.Errorf("60 MB in a sandbox of 32: %v", err)
		}
	}
	if _, err := d.Render(t.Context(), 1, View{Media: cardMedia, W: 270, H: 162, PxW: 50_000, PxH: 30_000}); !errors.Is(err, ErrTooBig) {
		t.Errorf("more pixels than allowed: %v", err)
	}
}

func TestUnreadable(t *testing.T) {
	good := pdf("", nil, card("0 g 0 0 10 10 re f"))
	for name, file := range map[string][]byte{
		"nothing":   nil,
		"garbage":   bytes.Repeat([]byte("stone"), 1000),
		"a header":  []byte("%PDF-1.7\n"),
		"no pages":  pdf("", nil),
		"truncated": good[:60],
	} {
		d, err := shared().Open(t.Context(), file)
		if err == nil {
			_, err = d.Render(t.Context(), 1, whole(cardMedia, 1))
			d.Close()
			if !errors.Is(err, ErrView) {
				t.Errorf("%s: opens, and draws with %v", name, err)
			}
			continue
		}
		if !errors.Is(err, ErrUnreadable) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestPageOutOfRange(t *testing.T) {
	d := open(t, pdf("", nil, card(""), card("")))
	for _, n := range []int{-1, 0, 3, 1 << 40} {
		if _, err := d.Render(t.Context(), n, whole(cardMedia, 1)); !errors.Is(err, ErrView) {
			t.Errorf("page %d of 2: %v", n, err)
		}
	}
	if _, err := d.Render(t.Context(), 2, whole(cardMedia, 1)); err != nil {
		t.Error(err)
	}
}

// Several files at once, each in a sandbox of its own.
func TestAtOnce(t *testing.T) {
	var all sync.WaitGroup
	for i := range 6 {
		all.Go(func() {
			file := pdf("", nil, card(fmt.Sprintf("%d 0 %d rg 0 0 270 162 re f", i%2, (i+1)%2)))
			d, err := shared().Open(t.Context(), file)
			if err != nil {
				t.Error(err)
				return
			}
			defer d.Close()
			for range 3 {
				img, err := d.Render(t.Context(), 1, whole(cardMedia, 1))
				if err != nil {
					t.Error(err)
				} else if got := img.NRGBAAt(100, 100).R; int(got) != 255*(i%2) {
					t.Errorf("document %d has red %d", i, got)
				}
			}
		})
	}
	all.Wait()
}

// slow takes a good part of a second to draw, and ends.
func slow() sheet {
	return card("1 w " + strings.Repeat("0 0 m 270 162 l 10 162 l 0 100 l S ", 500))
}

// A caller that gives up gets its goroutine back; the document can be used
// again once the work is done, and so can the engine.
func TestGivingUp(t *testing.T) {
	d := open(t, pdf("", nil, slow(), card("1 0 0 rg 0 0 270 162 re f")))
	v := whole(cardMedia, 8)
	ctx, cancel := context.WithTimeout(t.Context(), time.Millisecond)
	defer cancel()
	if _, err := d.Render(ctx, 1, v); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("after the deadline: %v", err)
	}
	if _, err := d.Render(ctx, 2, v); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("while the work goes on: %v", err)
	}
	img, err := d.Render(t.Context(), 2, v)
	if err != nil {
		t.Fatal(err)
	}
	sameEverywhere(t, img, img.Rect, red)
}

// A document closed while its work goes on gives its slot back afterwards.
func TestClosingAtWork(t *testing.T) {
	e := small(t)
	for range cap(e.slots) + 1 {
		d, err := e.Open(t.Context(), pdf("", nil, slow()))
		if err != nil {
			t.Fatal(err)
		}
		ctx, cancel := context.WithTimeout(t.Context(), time.Millisecond)
		d.Render(ctx, 1, whole(cardMedia, 4))
		cancel()
		d.Close()
		d.Close()
	}
	d, err := e.Open(t.Context(), pdf("", nil, card("")))
	if err != nil {
		t.Fatal(err)
	}
	d.Close()
	for range 2 {
		if _, err := d.Render(t.Context(), 1, whole(cardMedia, 1)); !errors.Is(err, ErrClosed) {
			t.Errorf("drawing a closed document: %v", err)
		}
	}
}

// Open waits for a slot no longer than its context.
func TestNoSlot(t *testing.T) {
	e := small(t)
	file := pdf("", nil, card(""))
	var docs []*Doc
	for range cap(e.slots) {
		d, err := e.Open(t.Context(), file)
		if err != nil {
			t.Fatal(err)
		}
		docs = append(docs, d)
	}
	ctx, cancel := context.WithTimeout(t.Context(), time.Millisecond)
	defer cancel()
	if _, err := e.Open(ctx, file); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("one document too many: %v", err)
	}
	for _, d := range docs {
		d.Close()
	}
	d, err := e.Open(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	d.Close()
}

// The engine's end waits for the documents that are open, and lets no more in.
func TestEngineClose(t *testing.T) {
	e := Start(Options{})
	d, err := e.Open(t.Context(), pdf("", nil, card("1 0 0 rg 0 0 270 162 re f")))
	if err != nil {
		t.Fatal(err)
	}
	e.Close()
	e.Close()
	if _, err := e.Open(t.Context(), nil); !errors.Is(err, ErrClosed) {
		t.Errorf("opening in a closed engine: %v", err)
	}
	if _, err := d.Render(t.Context(), 1, whole(cardMedia, 1)); err != nil {
		t.Errorf("a document open at the end: %v", err)
	}
	d.Close()
	if _, err := e.pool.GetInstance(time.Second); err == nil {
		t.Error("the renderer is still there")
	}

	Start(Options{}).Close() // never started
	e = Start(Options{})
	e.Warm()
	e.Close() // hardly started
	<-e.ready
}
