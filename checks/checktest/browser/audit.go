package browser

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"github.com/chromedp/chromedp"
)

// The audit is axe-core (MPL-2.0), for tests alone: it is fetched from the npm
// registry into the user's cache and is no part of the project.
const (
	auditPackage = "axe-core"
	auditVersion = "4.14.1"
	auditSum     = "e6b0ce02b84d892e2e33e403485e7f3d6c29e2be6df65daf44d89ba564139745"
)

// Audit looks for what shuts readers out: names that are missing, contrast under
// WCAG 2.1 AA, order of headings, roles. All of the audit's rules run, its best
// practices too, or those that are named. Where the audit cannot be fetched it is left
// out, and the log says so: the rest of the test holds.
func (tab *Tab) Audit(rules ...string) {
	tab.t.Helper()
	found, err := tab.violations(rules)
	if err != nil {
		tab.t.Logf("NOT AUDITED for accessibility: %v", err)
	}
	for _, v := range found {
		tab.t.Errorf("audit: %s", v)
	}
}

// violations are what the audit finds in the page as it is.
func (tab *Tab) violations(rules []string) ([]string, error) {
	tab.t.Helper()
	script, err := audit()
	if err != nil {
		return nil, err
	}
	if !tab.Holds("window.axe") {
		// The debugger's own evaluation is not bound by the page's policy.
		get(tab, "load the audit", chromedp.Evaluate[chromedp.Void](script+"\nundefined"))
	}
	options := map[string]any{"resultTypes": []string{"violations"}}
	if len(rules) > 0 {
		options["runOnly"] = rules
	}
	asked, err := json.Marshal(options)
	if err != nil {
		return nil, err
	}
	run := `axe.run(document, ` + string(asked) + `).then(found => found.violations.map(v =>
		v.id + ": " + v.help + v.nodes.map(n => "\n" + n.target.join(" ") + ": " + n.failureSummary).join("")))`
	return get(tab, "audit", chromedp.Evaluate[[]string](run, chromedp.EvalAwaitPromise)), nil
}

// audit is the audit's script, from the cache or the registry.
func audit() (string, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	folder := filepath.Join(cache, "stoneproof-tests")
	packed := filepath.Join(folder, auditPackage+"-"+auditVersion+".tgz")
	b, err := os.ReadFile(packed)
	if err != nil {
		if b, err = fetch(folder); err != nil {
			return "", err
		}
	}
	if sum := sha256.Sum256(b); hex.EncodeToString(sum[:]) != auditSum {
		return "", fmt.Errorf("%s is not what it should be: its SHA-256 is %x", packed, sum)
	}
	return unpacked(b, "package/axe.min.js")
}

// fetch gets the package into a folder of its own first, so that tests side by side
// see it whole or not at all.
func fetch(folder string) ([]byte, error) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, err
	}
	fresh, err := os.MkdirTemp(folder, "fetch-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(fresh)
	ctx, end := context.WithTimeout(context.Background(), 30*time.Second)
	defer end()
	npm := exec.CommandContext(ctx, "npm", "pack", "--ignore-scripts", "--silent", auditPackage+"@"+auditVersion)
	npm.Dir = fresh
	if said, err := npm.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("npm pack: %v: %s", err, bytes.TrimSpace(said))
	}
	name := auditPackage + "-" + auditVersion + ".tgz"
	b, err := os.ReadFile(filepath.Join(fresh, name))
	if err != nil {
		return nil, err
	}
	return b, os.Rename(filepath.Join(fresh, name), filepath.Join(folder, name))
}

// Contrast is the rule of the audit that dark and light pages keep apart.
const Contrast = "color-contrast"

// unpacked is one file of a packed package.
func unpacked(packed []byte, name string) (string, error) {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return "", err
	}
	for t := tar.NewReader(z); ; {
		h, err := t.Next()
		if err != nil {
			return "", fmt.Errorf("no %s in the package: %w", name, err)
		}
		if h.Name == name {
			b, err := io.ReadAll(t)
			return string(b), err
		}
	}
}
