package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"stoneproof/cmd/stoneproof/internal/apart"
)

func TestMain(m *testing.M) {
	if len(os.Args) > 1 && os.Args[1] == apart.Command {
		main() // tests that run the program in this process have it start children of this one
	}
	testscript.Main(m, map[string]func(){"stoneproof": main})
}

// TestScripts runs one script for each behaviour of the command line: command,
// exit status, output, files left behind.
func TestScripts(t *testing.T) {
	art, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	// Scripts have a home of their own; the renderer's compiled form is shared
	// with them, for making it takes seconds.
	cache, err := os.UserCacheDir()
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("ART", art)
			e.Setenv("XDG_CACHE_HOME", cache)
			return nil
		},
	})
}
