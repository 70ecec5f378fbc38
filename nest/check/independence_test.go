package check

import (
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport are the packages of this project the judge may import, and mayCall
// the functions of theirs it may call: those that print a word or a number.
var (
	mayImport = []string{"panelyard/kerf", "panelyard/nest", "panelyard/parts", "panelyard/parts/geom", "panelyard/parts/length"}
	mayCall   = []string{
		"(panelyard/kerf.Cut).String",
		"(panelyard/parts.Axis).String",
		"(panelyard/parts/length.Length).String",
	}
)

// borrowed lists what a package of the judge takes from others against the
// rules: imports of the project, and functions and methods of it.
func borrowed(t *testing.T, fset *token.FileSet, from types.Importer, files []*ast.File) []string {
	t.Helper()
	var faults []string
	for _, f := range files {
		for _, spec := range f.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			switch first, _, _ := strings.Cut(path, "/"); {
			case first == "panelyard" && !slices.Contains(mayImport, path):
				faults = append(faults, fmt.Sprintf("%v: imports %s", fset.Position(spec.Pos()), path))
			case strings.Contains(first, "."):
				faults = append(faults, fmt.Sprintf("%v: imports %s, which is not in the standard library", fset.Position(spec.Pos()), path))
			}
			if spec.Name != nil {
				faults = append(faults, fmt.Sprintf("%v: renames the import of %s", fset.Position(spec.Pos()), path))
			}
		}
	}
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
	conf := types.Config{Importer: from}
	if _, err := conf.Check("panelyard/nest/check", fset, files, info); err != nil {
		t.Fatal(err)
	}
	for id, obj := range info.Uses {
		fn, ok := obj.(*types.Func)
		if !ok || fn.Pkg() == nil {
			continue
		}
		path := fn.Pkg().Path()
		if path == "panelyard/nest/check" || !strings.HasPrefix(path, "panelyard") || slices.Contains(mayCall, fn.FullName()) {
			continue
		}
		faults = append(faults, fmt.Sprintf("%v: uses %s", fset.Position(id.Pos()), fn.FullName()))
	}
	slices.Sort(faults)
	return faults
}

// TestIndependence reads the judge with go/types and fails when it borrows code.
func TestIndependence(t *testing.T) {
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	fset := token.NewFileSet()
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(fset, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	if len(files) < 5 {
		t.Fatalf("only %d files read", len(files))
	}
	from := importer.ForCompiler(fset, "source", nil)
	for _, s := range borrowed(t, fset, from, files) {
		t.Error(s)
	}

	// The check is checked: code that borrows must be found.
	const src = `package check
import (
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/money"
)
var _ money.Amount
var f = geom.Orient
func g(p *nest.Problem, b geom.Box) (int, bool) {
	h := p.Place
	_ = h
	return len(p.Turns(0, 0)), b.Empty()
}
`
	f, err := parser.ParseFile(fset, "borrow.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Join(borrowed(t, fset, from, []*ast.File{f}), "\n")
	for _, want := range []string{
		"imports panelyard/parts/money", "uses panelyard/parts/geom.Orient", "uses (*panelyard/nest.Problem).Place",
		"uses (*panelyard/nest.Problem).Turns", "uses (panelyard/parts/geom.Box).Empty",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q was not found in:\n%s", want, got)
		}
	}
}

// TestNoSolverImportsTheJudge: the judge is asked by those who wire solvers, not
// by solvers.
func TestNoSolverImportsTheJudge(t *testing.T) {
	read := 0
	for _, dir := range []string{"saw", "router", "bound"} {
		names, err := filepath.Glob(filepath.Join("..", dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			src, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			f, err := parser.ParseFile(token.NewFileSet(), name, src, parser.ImportsOnly)
			if err != nil {
				continue // a file that does not parse fails its own build
			}
			read++
			for _, spec := range f.Imports {
				if spec.Path.Value == `"panelyard/nest/check"` {
					t.Errorf("%s imports nest/check", name)
				}
			}
		}
	}
	t.Logf("%d files of solvers read", read)
}
