package checks_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// law says which packages of ours each package may import. What is not listed
// may import nothing; tests and commands are free.
var law = map[string][]string{
	"rules":                            {},
	"checks/art/pdf":                   {"checks/art/pdf/syntax"},
	"checks/art/pdf/syntax":            {},
	"checks/art/pdf/write":             {"checks/art/pdf"},
	"checks/art/plates":                {"checks/art/pdf", "checks/art/pdf/syntax", "checks/art/pdf/write", "checks/art/render"},
	"checks/art/raster":                {},
	"checks/art/icc":                   {},
	"checks/art/icc/press":             {"checks/art/icc"},
	"checks/art/render":                {},
	"checks/art":                       {"rules", "checks/art/pdf", "checks/art/raster", "checks/art/icc", "checks/art/icc/press", "checks/art/render", "checks/art/plates"},
	"checks/art/embed":                 {"checks/art", "checks/art/pdf", "checks/art/pdf/write", "checks/art/raster"},
	"checks/brink":                     {"rules"},
	"checks/codes":                     {},
	"checks/detail":                    {},
	"checks/compression":               {},
	"checks":                           {"rules", "checks/art", "checks/art/pdf", "checks/art/raster", "checks/art/icc", "checks/art/icc/press", "checks/art/render", "checks/brink", "checks/codes", "checks/compression", "checks/detail"},
	"checks/checktest":                 {"rules", "checks", "checks/art", "checks/art/render"},
	"checks/checktest/browser":         {"checks/checktest/outside"},
	"checks/checktest/bench":           {"rules", "checks", "checks/art", "checks/art/render", "checks/checktest/press"},
	"checks/checktest/outside":         {},
	"checks/checktest/press":           {"rules", "checks/art/icc/press"},
	"report":                           {"rules"},
	"report/proof":                     {"rules", "report"},
	"report/lesson":                    {"rules", "report"},
	"report/page":                      {"rules", "report"},
	"report/sheet":                     {"rules"},
	"report/sheet/impose":              {"rules", "report/sheet", "checks/art", "checks/art/pdf", "checks/art/embed", "checks/art/pdf/syntax", "checks/art/pdf/write"},
	"checks/gang":                      {"rules", "checks/art", "checks/art/embed", "checks/art/pdf", "checks/art/pdf/write", "checks/art/render"},
	"cmd/stoneproof/internal/desk":     {"rules", "report", "report/page"},
	"cmd/stoneproof":                   {"rules", "checks", "checks/gang", "checks/art", "checks/art/render", "report", "report/page", "report/sheet", "report/sheet/impose", "cmd/stoneproof/internal/apart", "cmd/stoneproof/internal/gate", "report/lesson", "cmd/stoneproof/internal/practice", "report/proof", "cmd/stoneproof/internal/desk"},
	"cmd/stoneproof/internal/practice": {"rules", "report", "checks/checktest/press"},
	"cmd/stoneproof/internal/apart":    {"rules", "checks", "checks/art", "checks/art/render"},
	"cmd/stoneproof/internal/gate":     {"rules", "checks"},
}

func TestImportLaw(t *testing.T) {
	root := ".."
	seen := map[string]bool{}
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && d.Name() != ".." || d.Name() == "testdata") {
			return fs.SkipDir
		}
		if !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return nil
		}
		rel, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		pkg := path.Dir(filepath.ToSlash(rel))
		seen[pkg] = true
		allowed, known := law[pkg]
		if !known {
			t.Errorf("package %s is not in the import law", pkg)
		}
		for _, imported := range importsOf(t, file) {
			if ours, ok := strings.CutPrefix(imported, "stoneproof/"); ok && !slices.Contains(allowed, ours) {
				t.Errorf("%s imports %s, which the import law does not allow %s", rel, ours, pkg)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for pkg := range law {
		if !seen[pkg] {
			t.Errorf("the import law names %s, which has no code", pkg)
		}
	}
}

func importsOf(t *testing.T, file string) []string {
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, spec := range f.Imports {
		p, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	return list
}
