package gate

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"stoneproof/rules"
)

// intent is what is to become of a claim, written down once its files are judged and
// all that is to lie beside them is staged. From then on anybody can carry it out.
type intent struct {
	Claim  string `json:"claim"`
	Class  Class  `json:"class"`
	Root   string `json:"root"`   // the destination
	Staged string `json:"staged"` // folder in Root that holds what is staged
	Items  []item `json:"items"`
}

// item is what is to become of one file.
type item struct {
	File    string        `json:"file"` // in the intake
	Seen    time.Time     `json:"seen"`
	Size    int64         `json:"size"`
	SHA256  string        `json:"sha256"`
	Verdict rules.Verdict `json:"verdict"`
	Failed  []string      `json:"failed,omitempty"` // rules
	To      string        `json:"to"`               // below Root
	Copy    string        `json:"copy,omitempty"`   // staged; empty where the claimed file itself is renamed
	Pages   []staged      `json:"pages"`
	With    string        `json:"with,omitempty"` // the other half of a pair
}

// staged is a page of a report that is written but has not its name yet.
type staged struct {
	Staged string `json:"staged"`
	To     string `json:"to"` // below Root
}

// Class is where judged files go.
type Class string

// Classes.
const (
	Cleared Class = "cleared"
	Held    Class = "held"
)

const intentFile = "intent.json"

func (in *intent) save(c *claim) error {
	text, err := json.Marshal(in)
	if err != nil {
		return err
	}
	if err := replaceFile(filepath.Join(c.dir, intentFile), text); err != nil {
		return err
	}
	// The claim's folder itself is new.
	return syncDir(filepath.Dir(c.dir))
}

// loadIntent reads a claim's intent: nil where it has none.
func loadIntent(dir string) (*intent, error) {
	text, err := os.ReadFile(filepath.Join(dir, intentFile))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var in intent
	if err := json.Unmarshal(text, &in); err != nil {
		return nil, fmt.Errorf("the intent in %q is damaged: %w", dir, err)
	}
	return &in, nil
}

// art is where the claimed file of an item lies.
func (c *claim) art(it *item) string { return filepath.Join(c.dir, artFolder, it.File) }

// under is a path below the destination.
func (in *intent) under(rel string) string { return filepath.Join(in.Root, rel) }

// inStage is the path of something staged.
func (in *intent) inStage(name string) string { return filepath.Join(in.Root, in.Staged, name) }

var (
	errTaken = errors.New("the name is taken")
	errLost  = errors.New("another gate took this one for dead and took its claims over")
	errTorn  = errors.New("a page of the report is gone from the destination")
)

// carryOut does what the intent says, as far as it is not done yet: every report into
// its place, then the art. It may be called again whenever it was stopped.
func (g *Gate) carryOut(c *claim, in *intent) error {
	if err := g.destination(in.Root); err != nil {
		return err
	}
	for i := range in.Items {
		if err := g.layPages(c, in, &in.Items[i]); err != nil {
			return err
		}
	}
	if err := in.eachFolder(syncDir); err != nil {
		return err
	}
	for i := range in.Items {
		it := &in.Items[i]
		if in.moved(c, it) {
			continue
		}
		if err := g.journal.write(it.entry("moving", in)); err != nil {
			return err
		}
		g.step("moving")
		if err := g.layArt(c, in, it); err != nil {
			return err
		}
	}
	return in.eachFolder(syncDir)
}

// eachFolder calls do for every folder that the intent lays something in.
func (in *intent) eachFolder(do func(path string) error) error {
	last := ""
	for i := range in.Items {
		dir := filepath.Dir(in.under(in.Items[i].To))
		if dir == last {
			continue
		}
		if err := do(dir); err != nil {
			return err
		}
		last = dir
	}
	return nil
}

// layPages gives an item's staged pages their names.
func (g *Gate) layPages(c *claim, in *intent, it *item) error {
	if in.moved(c, it) {
		return nil
	}
	if err := makeDirs(in.Root, filepath.Dir(it.To)); err != nil {
		return err
	}
	for _, p := range it.Pages {
		err := g.mover.move(in.inStage(p.Staged), in.under(p.To))
		g.step("page laid")
		switch {
		case errors.Is(err, fs.ErrExist):
			return errTaken
		case errors.Is(err, fs.ErrNotExist) && exists(in.under(p.To)):
			// It was laid before the gate was stopped.
		case errors.Is(err, fs.ErrNotExist) && gone(c.dir):
			return errLost
		case errors.Is(err, fs.ErrNotExist):
			return errTorn
		case err != nil:
			return err
		}
	}
	return nil
}

// moved tells whether an item's art has left the claim for its place.
func (in *intent) moved(c *claim, it *item) bool {
	if gone(c.dir) || !gone(c.art(it)) {
		return false
	}
	return it.Copy == "" || gone(in.inStage(it.Copy))
}

// layArt moves the art to its place, the last thing to come there.
func (g *Gate) layArt(c *claim, in *intent, it *item) error {
	from := c.art(it)
	if it.Copy != "" {
		from = in.inStage(it.Copy)
	}
	if gone(c.dir) {
		return errLost
	}
	err := g.mover.move(from, in.under(it.To))
	g.step("art laid")
	switch {
	case errors.Is(err, fs.ErrExist):
		return errTaken
	case it.Copy != "" && (err == nil || errors.Is(err, fs.ErrNotExist)):
		return g.dropOriginal(c, in, it)
	case errors.Is(err, fs.ErrNotExist) && gone(c.dir):
		return errLost
	case errors.Is(err, fs.ErrNotExist):
		return errAway
	}
	return err
}

// dropOriginal removes the claimed file, of which a copy lies at its place: but only
// if it surely does.
func (g *Gate) dropOriginal(c *claim, in *intent, it *item) error {
	there := in.under(it.To)
	if sum, err := hashOf(there); err != nil || sum != it.SHA256 {
		return errTorn
	}
	if err := syncDir(filepath.Dir(there)); err != nil {
		return err
	}
	err := os.Remove(c.art(it))
	g.step("original removed")
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// withdraw takes an intent back of which no art has been moved: pages that are in
// place go back to the stage first, so that whatever is not staged is still the
// intent's own, wherever this stops.
func (g *Gate) withdraw(c *claim, in *intent) error {
	for i := range in.Items {
		for _, p := range in.Items[i].Pages {
			if isSame(in.inStage(p.Staged), in.under(p.To)) { // see mover.move
				os.Remove(in.under(p.To))
			}
			if exists(in.inStage(p.Staged)) || gone(in.under(p.To)) {
				continue
			}
			if err := g.mover.move(in.under(p.To), in.inStage(p.Staged)); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return err
			}
			g.step("page withdrawn")
		}
	}
	if err := os.Remove(filepath.Join(c.dir, intentFile)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	g.step("intent removed")
	in.clearStage()
	return nil
}

// clearStage removes what is staged. What it cannot remove is swept with the stage.
func (in *intent) clearStage() {
	for i := range in.Items {
		it := &in.Items[i]
		if it.Copy != "" {
			os.Remove(in.inStage(it.Copy))
		}
		for _, p := range it.Pages {
			os.Remove(in.inStage(p.Staged))
		}
	}
}

// anyMoved tells whether some art of the intent is in its place already.
func (in *intent) anyMoved(c *claim) bool {
	for i := range in.Items {
		if in.moved(c, &in.Items[i]) {
			return true
		}
	}
	return false
}
