package render

import "errors"

// Why there are no pixels. Errors of [Engine.Open] and [Doc.Render] wrap one of
// these, or are the context's own error.
var (
	// ErrTooBig: the picture asked for has more pixels than allowed.
	ErrTooBig = errors.New("picture too big")
	// ErrMemory: the page needs more memory than the sandbox has.
	ErrMemory = errors.New("page needs too much memory")
	// ErrUnreadable: the renderer cannot read the file or the page, or broke
	// down over it.
	ErrUnreadable = errors.New("cannot be rendered")
	// ErrView: the view or page number asked for makes no sense for the file.
	ErrView = errors.New("no such view")
	// ErrClosed: the engine or document has been closed.
	ErrClosed = errors.New("renderer is closed")
	// ErrStart: the renderer itself cannot be started on this machine.
	ErrStart = errors.New("renderer cannot be started")
)
