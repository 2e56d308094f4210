package pdf

import "github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

// Catalog is the file's root dictionary (7.7.2), for code that copies pages.
func (d *Document) Catalog() types.Dict { return d.Dict(*d.ctx.Root) }
