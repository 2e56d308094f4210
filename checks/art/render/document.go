package render

import (
	"context"
	"errors"
	"fmt"
	"image"
	"sync"
	"sync/atomic"

	"github.com/klippa-app/go-pdfium"
	pdfiumerrors "github.com/klippa-app/go-pdfium/errors"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
)

// A Doc is an open PDF in a renderer of its own. Its methods may be called from
// any goroutine; they do one thing at a time.
type Doc struct {
	engine *Engine
	file   []byte
	turn   chan struct{} // held by whoever works on the fields below
	once   sync.Once
	closed atomic.Bool

	// The renderer; nil after it broke down, until it is needed again.
	instance pdfium.Pdfium
	memory   *memory
	document references.FPDF_DOCUMENT
	page     page
}

// Render draws a window of a page (counted from 1) on a transparent ground.
// The picture has View.PxW by View.PxH pixels, its origin at 0, 0, alpha not
// multiplied in.
//
// Errors wrap [ErrView], [ErrTooBig], [ErrMemory], [ErrUnreadable] or
// [ErrClosed], or are that of ctx. After an error the document can still be
// used. When ctx ends first, the work goes on, and later calls wait for it.
func (d *Doc) Render(ctx context.Context, page int, v View) (*image.NRGBA, error) {
	if err := v.check(d.engine.options.Pixels); err != nil {
		return nil, err
	}
	img := image.NewNRGBA(image.Rect(0, 0, v.PxW, v.PxH))
	if err := d.render(ctx, page, v, colourOnGlass(img.Pix)); err != nil {
		return nil, err
	}
	return img, nil
}

// RenderGray draws a window of a page as [Doc.Render] does, but in grey on white
// paper: for pages that hold nothing but grey.
func (d *Doc) RenderGray(ctx context.Context, page int, v View) (*image.Gray, error) {
	if err := v.check(d.engine.options.Pixels); err != nil {
		return nil, err
	}
	img := image.NewGray(image.Rect(0, 0, v.PxW, v.PxH))
	if err := d.render(ctx, page, v, grayOnPaper(img.Pix)); err != nil {
		return nil, err
	}
	return img, nil
}

// render draws onto the canvas. Where it gives up waiting, what goes on drawing
// may still write into the canvas, which nobody reads then.
func (d *Doc) render(ctx context.Context, page int, v View, c canvas) error {
	return d.run(ctx, func() error {
		if err := d.reopen(); err != nil {
			return err
		}
		return d.draw(page, v, c)
	})
}

// Close gives the renderer back. It waits for nothing: work that goes on past
// its context ends first.
func (d *Doc) Close() {
	d.once.Do(func() {
		d.closed.Store(true)
		end := func() {
			d.drop()
			<-d.turn // for whoever comes too late, to be told so
			<-d.engine.slots
			d.engine.leave()
		}
		select {
		case d.turn <- struct{}{}:
			end()
		default:
			go func() {
				d.turn <- struct{}{}
				end()
			}()
		}
	})
}

// run does work on a goroutine of its own, alone on the document, and waits for
// it no longer than ctx. After a failure the instance is not trusted again.
func (d *Doc) run(ctx context.Context, work func() error) error {
	if err := ctx.Err(); err != nil {
		return err // rather than toss for it below
	}
	select {
	case d.turn <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	done := make(chan error, 1)
	go func() {
		err := d.guard(work)
		if err != nil {
			d.drop()
		}
		<-d.turn // before the answer, so that Close after it finds its turn
		done <- err
	}()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

// guard turns every way in which work can end badly into one of the package's
// errors. A refused allocation spoils the result even if nobody complained.
func (d *Doc) guard(work func() error) (err error) {
	if d.closed.Load() {
		return ErrClosed
	}
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%w: the renderer broke down: %v", ErrUnreadable, r)
		}
		if d.memory != nil && d.memory.refused.Swap(false) {
			err = ErrMemory
		}
	}()
	return work()
}

// reopen gives the document an instance, if it has none.
func (d *Doc) reopen() error {
	if d.instance != nil {
		return nil
	}
	in, m, err := d.engine.newInstance()
	if err != nil {
		return err
	}
	d.instance, d.memory = in, m
	opened, err := in.OpenDocument(&requests.OpenDocument{File: &d.file})
	switch {
	case errors.Is(err, pdfiumerrors.ErrPassword), errors.Is(err, pdfiumerrors.ErrSecurity):
		return fmt.Errorf("%w: the file is locked", ErrUnreadable)
	case err != nil:
		return fmt.Errorf("%w: %w", ErrUnreadable, err)
	}
	d.document = opened.Document
	return nil
}

// drop takes the instance down without asking it: its memory goes as a whole.
func (d *Doc) drop() {
	if d.instance == nil {
		return
	}
	_ = d.instance.Kill() // fails only when there is nothing to kill
	d.instance, d.memory, d.page = nil, nil, page{}
}
