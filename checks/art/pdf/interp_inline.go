package pdf

import "github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

// inlineImage reads BI … ID … EI (8.9.7).
func (in *interp) inlineImage() {
	components := func(space types.Object) int { return in.w.spaceIn(in.sc, space, 0).N }
	sd, whole := in.w.doc.InlineImage(&in.lex, &in.args, components)
	if !whole {
		in.w.note("an inline image has no end")
	}
	in.paintImage(sd, 0)
}
