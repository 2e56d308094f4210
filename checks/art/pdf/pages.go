package pdf

import (
	"fmt"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// leaf is a page of the page tree with what it inherits: MediaBox, CropBox,
// Resources and Rotate, and nothing else (Table 30).
type leaf struct {
	dict      types.Dict
	object    int
	media     types.Object
	crop      types.Object
	resources types.Object
	rotate    types.Object
}

// findPages walks the whole page tree by itself: /Count, /Type and /Parent may all
// lie, and a node may be its own grandchild.
func (d *Document) findPages() error {
	catalog := d.Dict(*d.ctx.Root)
	w := treeWalk{d: d, open: map[int]bool{}, nodes: 4*d.lim.Pages + 64}
	w.visit(catalog["Pages"], leaf{})
	d.leaves, d.PageCount = w.leaves, len(w.leaves)
	switch {
	case len(w.leaves) > d.lim.Pages || w.nodes <= 0:
		return fmt.Errorf("%w: more than %d pages", ErrTooLarge, d.lim.Pages)
	case len(w.leaves) == 0:
		return ErrNoPages
	}
	return nil
}

type treeWalk struct {
	d      *Document
	open   map[int]bool // nodes above the present one
	nodes  int          // nodes that may still be visited
	leaves []leaf
}

// visit goes down from a node. Trees may be as deep as they have nodes: merging
// programs make them so.
func (w *treeWalk) visit(o types.Object, from leaf) {
	w.nodes--
	node := w.d.Dict(o)
	id := syntax.ObjectNumber(o)
	if node == nil || w.nodes <= 0 || len(w.leaves) > w.d.lim.Pages || w.open[id] {
		return
	}
	from.inherit(node)
	kids, isNode := w.d.Get(node["Kids"]).(types.Array)
	if !isNode {
		from.dict, from.object = node, id
		w.leaves = append(w.leaves, from)
		return
	}
	if id != 0 {
		w.open[id] = true
		defer delete(w.open, id)
	}
	for _, kid := range kids {
		w.visit(kid, from)
	}
}

func (l *leaf) inherit(node types.Dict) {
	for key, to := range map[string]*types.Object{
		"MediaBox": &l.media, "CropBox": &l.crop, "Resources": &l.resources, "Rotate": &l.rotate,
	} {
		if o, ok := node[key]; ok && o != nil {
			*to = o
		}
	}
}
