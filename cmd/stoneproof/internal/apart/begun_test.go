package apart

import (
	"errors"
	"os/exec"
	"path/filepath"
	"testing"

	"stoneproof/rules"
)

func TestUnbegun(t *testing.T) {
	none := Start(Options{Workers: 1, Child: func() (*exec.Cmd, error) { return nil, errors.New("no more processes") }})
	defer none.Close()
	path := filepath.Join(t.TempDir(), "card.pdf")
	if r := none.Judge(judge(t, rules.Order{}))(t.Context(), path); !Unbegun(r) {
		t.Errorf("no child was started, but the report is of the file: %v", r.Findings)
	}
	some := start(t, Options{Workers: 1})
	if r := some.Judge(judge(t, rules.Order{}))(t.Context(), path); Unbegun(r) {
		t.Error("a file that is not there is taken for one that was not judged")
	}
}
