package gate

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"stoneproof/rules"
)

// Judged is a judged file about to get its report.
type Judged struct {
	Name   string       // of the art at its destination, where the pages will lie beside it
	Path   string       // where the art lies now
	Report rules.Report // of the file; of both halves where it was judged with the other
}

// Page is a part of a report: it lies beside the art under the art's name and Suffix.
type Page struct {
	Suffix string
	Data   []byte
}

// verdict is what was found of a claim.
type verdict struct {
	class  Class
	ticket rules.Ticket
	files  []rules.FileReport // in the order of the claim's files
}

// deliver writes the reports and moves the claim's files to where they belong.
func (g *Gate) deliver(c *claim, v verdict) error {
	for n := 1; ; n++ {
		in, err := g.prepare(c, v, &n)
		if err == nil {
			err = g.commit(c, in)
		}
		if errors.Is(err, errTaken) && !in.anyMoved(c) {
			if err := g.withdraw(c, in); err != nil {
				return err
			}
			continue
		}
		return g.end(c, in, err)
	}
}

// commit writes the intent down and carries it out, if the files are still what was
// judged.
func (g *Gate) commit(c *claim, in *intent) error {
	if err := in.save(c); err != nil {
		return err
	}
	g.step("intent saved")
	for i := range c.files {
		if err := c.files[i].untouched(); err != nil {
			return err
		}
	}
	return g.carryOut(c, in)
}

// prepare stages the reports, and copies where they are needed, under the first number
// from n at which the names are free. Until it is committed it is only litter on the
// stage.
func (g *Gate) prepare(c *claim, v verdict, n *int) (*intent, error) {
	root := g.root(v.class)
	if err := g.destination(root); err != nil {
		return nil, err
	}
	stage := filepath.Join(ours, filepath.Base(filepath.Dir(c.dir)))
	if err := makeDirs(root, stage); err != nil {
		return nil, err
	}
	in := &intent{Claim: c.ID, Class: v.class, Root: root, Staged: stage}
	for ; !g.free(c, root, *n); *n++ {
	}
	prefix := filepath.Base(c.dir)
	for i := range c.files {
		it, err := g.stageItem(c, in, v, prefix+"-"+strconv.Itoa(i), i, *n)
		in.Items = append(in.Items, it)
		if err != nil {
			in.clearStage()
			return nil, err
		}
	}
	if err := syncDir(filepath.Join(root, stage)); err != nil {
		in.clearStage()
		return nil, err
	}
	g.step("staged")
	return in, nil
}

// free reports whether no art has the claim's names with the number n.
func (g *Gate) free(c *claim, root string, n int) bool {
	for _, f := range c.files {
		if !gone(filepath.Join(root, numbered(f.rel, n, roomForPages))) {
			return false
		}
	}
	return true
}

// roomForPages is left in a name for the endings of a report's pages.
const roomForPages = 40

func (g *Gate) stageItem(c *claim, in *intent, v verdict, prefix string, i, n int) (item, error) {
	f, r := c.files[i], v.files[i]
	it := item{
		File: f.rel, Seen: f.seen, Size: f.info.Size(), SHA256: f.sum, Verdict: r.Verdict, Failed: failed(r),
		To: numbered(f.rel, n, roomForPages),
	}
	for k, other := range c.files {
		if k != i {
			it.With = other.rel
		}
	}
	pages, err := g.cfg.Reports(Judged{Name: filepath.Base(it.To), Path: f.path, Report: reportFor(v, i)})
	if err != nil {
		return it, fmt.Errorf("cannot write the report of %q: %w", f.rel, err)
	}
	for k, p := range pages {
		s := staged{Staged: prefix + "-" + strconv.Itoa(k), To: it.To + p.Suffix}
		it.Pages = append(it.Pages, s)
		if err := writeStaged(in.inStage(s.Staged), p.Data); err != nil {
			return it, err
		}
	}
	far, err := g.isFar(in.Root, in.Staged)
	if err != nil || !far {
		return it, err
	}
	it.Copy = prefix + "-art"
	return it, copyAcross(f.path, in.inStage(it.Copy), f.sum)
}

// isFar tells whether a destination cannot be reached from the claims by a rename: by
// trying, for two folders on one disk may be mounted apart.
func (g *Gate) isFar(root, stage string) (bool, error) {
	g.farMu.Lock()
	defer g.farMu.Unlock()
	if far, known := g.far[root]; known {
		return far, nil
	}
	mine, _, err := g.registry.place()
	if err != nil {
		return false, err
	}
	probe := filepath.Join(mine, "probe")
	if err := os.WriteFile(probe, nil, 0o666); err != nil {
		return false, err
	}
	defer os.Remove(probe)
	there := filepath.Join(root, stage, "probe")
	err = os.Rename(probe, there)
	if err != nil && !isOtherDevice(err) {
		return false, err
	}
	os.Remove(there)
	g.far[root] = err != nil
	return g.far[root], nil
}

// end closes a claim whose intent was carried out, or was not.
func (g *Gate) end(c *claim, in *intent, err error) error {
	if err == nil {
		return g.close(c, in, false)
	}
	if errors.Is(err, errLost) || in == nil {
		return err
	}
	if errors.Is(err, errAway) || !in.anyMoved(c) {
		if failed := g.withdraw(c, in); failed != nil {
			return errors.Join(err, &pendingError{failed})
		}
		return err
	}
	return errors.Join(err, &pendingError{err})
}

// pendingError tells of a claim that can go neither on nor back for now: it stays with
// its intent until the destination can be written to again.
type pendingError struct{ err error }

func (p *pendingError) Error() string { return p.err.Error() }

// close writes down that the claim's files were moved, and takes the claim away.
func (g *Gate) close(c *claim, in *intent, recovered bool) error {
	for i := range in.Items {
		e := in.Items[i].entry("moved", in)
		e.Recovered = recovered
		if err := g.journal.writeSynced(e); err != nil {
			return errors.Join(err, &pendingError{err})
		}
		g.step("journal moved")
		g.tell(e)
	}
	if err := removeClaim(c.dir); err != nil && !gone(c.dir) {
		return errors.Join(err, &pendingError{err})
	}
	g.step("claim removed")
	return nil
}

// failed lists the rules that a file fails, in order.
func failed(r rules.FileReport) []string {
	var ids []string
	for _, f := range r.Findings {
		if f.Verdict == rules.Fail && (len(ids) == 0 || ids[len(ids)-1] != f.Rule) {
			ids = append(ids, f.Rule)
		}
	}
	return unique(ids)
}

func unique(ids []string) []string {
	seen := map[string]bool{}
	var list []string
	for _, id := range ids {
		if !seen[id] {
			seen[id] = true
			list = append(list, id)
		}
	}
	return list
}
