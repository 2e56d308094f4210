package impose_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"stoneproof/checks/art"
	"stoneproof/report/sheet"
	"stoneproof/report/sheet/impose"
	"stoneproof/rules"
)

// FuzzDraw holds that no art stops the program, and that what is drawn can be opened.
func FuzzDraw(f *testing.F) {
	f.Add(layered("a"))
	f.Add([]byte("%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj 2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj 3 0 obj<</Type/Page/MediaBox[0 0 252 144]/Contents 3 0 R/Resources 3 0 R>>endobj trailer<</Root 1 0 R>>"))
	ticket, err := rules.Order{}.Ticket()
	if err != nil {
		f.Fatal(err)
	}
	p, err := sheet.Lay(ask())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 1<<16 {
			t.Skip()
		}
		path := filepath.Join(t.TempDir(), "art")
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		a, err := art.Opener{Ceilings: art.DefaultCeilings()}.Open(path)
		if err != nil {
			return
		}
		defer a.Close()
		a.Place(ticket)
		if !a.Sides[0].Placed() {
			return
		}
		made, err := impose.Sheet{Plan: p, Designs: []impose.Design{design(a, 2)}, Slug: "fuzz", Made: time.Unix(0, 0)}.Draw()
		if err != nil {
			return
		}
		path = filepath.Join(t.TempDir(), "made")
		if err := os.WriteFile(path, made.PDF, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := (art.Opener{Ceilings: art.DefaultCeilings()}).Open(path); err != nil {
			t.Errorf("what was drawn cannot be opened: %v", err)
		}
	})
}
