package write_test

import (
	"bytes"
	"fmt"
	"testing"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/write"
)

// page writes a file of one page, whose resources are taken over from a source.
func page(t *testing.T, from []byte) []byte {
	t.Helper()
	f := write.NewFile(1 << 20)
	resources := "<<>>"
	if from != nil {
		doc, err := pdf.Open(from, pdf.DefaultLimits())
		if err != nil {
			t.Fatal(err)
		}
		p, err := doc.Page(1)
		if err != nil {
			t.Fatal(err)
		}
		resources = f.From(doc).Value(p.Resources())
	} else {
		resources = "<</XObject<</A#20b " + f.Stream("/Type/XObject/Subtype/Form/BBox[0 0 9 9]", []byte("0 0 9 9 re f")) + ">>>>"
	}
	root, tree := f.Reserve(), f.Reserve()
	kid := f.Add(fmt.Sprintf("<</Type/Page/Parent %s/MediaBox%s/Resources%s/Contents %s>>",
		write.Reference(tree), write.Numbers(0, 0, 90.5, 90), resources, f.Deflated("", []byte("/A#20b Do"))))
	f.Set(tree, "<</Type/Pages/Count 1/Kids["+kid+"]>>")
	f.Set(root, "<</Type/Catalog/Pages "+write.Reference(tree)+">>")
	b := f.Bytes("/Root " + write.Reference(root))
	if f.Full() {
		t.Fatal("so small a file is full")
	}
	return b
}

// What is copied from a file that is itself a copy paints the same, and the same
// objects give the same bytes.
func TestCopies(t *testing.T) {
	once := page(t, nil)
	twice := page(t, once)
	if !bytes.Equal(twice, page(t, once)) {
		t.Error("the same objects gave other bytes")
	}
	for i, b := range [][]byte{once, twice} {
		doc, err := pdf.Open(b, pdf.DefaultLimits())
		if err != nil || len(doc.Repairs) > 0 {
			t.Fatalf("file %d: %v, repairs %v", i, err, doc)
		}
		p, err := doc.Page(1)
		if err != nil {
			t.Fatal(err)
		}
		c, err := p.Walk()
		if err != nil || len(c.Paths) != 1 || c.Paths[0].Box.W() != 9 {
			t.Errorf("file %d paints %+v, %v", i, c.Paths, err)
		}
	}
}

func TestFull(t *testing.T) {
	f := write.NewFile(100)
	f.Stream("", make([]byte, 101))
	if !f.Full() {
		t.Error("a file over its size is not full")
	}
}
