package main_test

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// The house: what DEVELOPERS.md says of folders and imports, enforced.

// topLevel is all that may lie at the top beside dot-files.
var topLevel = []string{"DEVELOPERS.md", "README.md", "cmd", "export", "go.mod", "go.sum", "kerf", "nest", "parts", "testdata"}

// rooms are the folders from left to right: an import points left, or stays in
// its room. The commands import all, and nothing imports a command.
var rooms = []string{"parts", "kerf", "nest", "export", "cmd"}

// maxLines bounds a file that is no test.
const maxLines = 450

// TestHouse judges the sources of this project.
func TestHouse(t *testing.T) {
	root, ok := sourceTree()
	if !ok {
		t.Skip("not in the source tree of panelyard")
	}
	for _, fault := range faults(t, os.DirFS(root)) {
		t.Error(fault)
	}
}

// sourceTree returns the folder above this one that holds the module.
func sourceTree() (string, bool) {
	dir, err := os.Getwd()
	if err != nil {
		return "", false
	}
	for {
		mod, err := os.ReadFile(filepath.Join(dir, "go.mod"))
		if err == nil {
			return dir, bytes.HasPrefix(mod, []byte("module panelyard\n"))
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", false
		}
		dir = up
	}
}

// source is a file of Go.
type source struct {
	file string // slash path from the root
	ast  *ast.File
	test bool
}

// faults lists everything in a tree that is against the rules.
func faults(t *testing.T, tree fs.FS) []string {
	t.Helper()
	var list []string
	fault := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	skip := ignored(tree)
	packages := map[string][]source{}
	err := fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case name == ".":
			return nil
		case skip(name, d):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if !strings.Contains(name, "/") && !strings.HasPrefix(name, ".") && !slices.Contains(topLevel, name) {
			fault("%s: not one of the fixed names at the top: %s", name, strings.Join(topLevel, ", "))
		}
		if base := strings.TrimSuffix(path.Base(name), path.Ext(name)); slices.Contains(vague, strings.TrimSuffix(base, "_test")) {
			fault("%s: %q says nothing; a file is named for its concept", name, base)
		}
		if d.IsDir() || !d.Type().IsRegular() {
			return nil
		}
		text, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		for _, s := range local(text) {
			fault("%s:%d: names %s, a thing of one machine", name, 1+bytes.Count(text[:bytes.Index(text, []byte(s))], []byte("\n")), s)
		}
		if path.Ext(name) != ".go" || strings.Contains("/"+name, "/testdata/") {
			return nil
		}
		test := strings.HasSuffix(name, "_test.go")
		if n := bytes.Count(text, []byte("\n")); n > maxLines && !test {
			fault("%s: %d lines, %d at most", name, n, maxLines)
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, text, 0)
		if err != nil {
			return err
		}
		packages[path.Dir(name)] = append(packages[path.Dir(name)], source{name, f, test})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for dir, files := range packages {
		for _, f := range files {
			for _, why := range importFaults(dir, f) {
				fault("%s: %s", f.file, why)
			}
		}
		for _, why := range mutable(files) {
			fault("%s", why)
		}
	}
	slices.Sort(list)
	return list
}

// vague are names that say nothing.
var vague = []string{"util", "utils", "helper", "helpers", "common", "misc"}

// ignored returns which files are not part of the project: the repository's own
// and what .gitignore lists. It knows names, folders and * within a name.
func ignored(tree fs.FS) func(string, fs.DirEntry) bool {
	text, _ := fs.ReadFile(tree, ".gitignore")
	patterns := strings.Fields(string(text))
	return func(name string, d fs.DirEntry) bool {
		if name == ".git" {
			return true
		}
		for _, p := range patterns {
			dirOnly := strings.HasSuffix(p, "/")
			p = strings.TrimSuffix(p, "/")
			whole := strings.Contains(p, "/")
			what := path.Base(name)
			if whole {
				what = name
			}
			if ok, _ := path.Match(strings.TrimPrefix(p, "/"), what); ok && (d.IsDir() || !dirOnly) {
				return true
			}
		}
		return false
	}
}

// local returns what a text names of one machine: its folders, or the host of a
// package registry. A file with a zero byte is no text.
func local(text []byte) []string {
	if bytes.IndexByte(text, 0) >= 0 {
		return nil
	}
	var found []string
	// Put together here, so that this file does not name them.
	for _, words := range [][]string{
		{"", "work", ""},
		{"", "home", ""},
		{"", "root", ""},
		{"", "tmp", "bash"},
	} {
		if s := strings.Join(words, "/"); bytes.Contains(text, []byte(s)) {
			found = append(found, s)
		}
	}
	for _, words := range [][]string{
		{"proxy", "golang", "org"},
		{"sum", "golang", "org"},
		{"goproxy", "io"},
		{"registry", "npmjs", "org"},
		{"pypi", "org"},
		{"deb", "debian", "org"},
	} {
		if s := strings.Join(words, "."); bytes.Contains(text, []byte(s)) {
			found = append(found, s)
		}
	}
	return found
}

// importFaults returns what a file imports against the direction of the house,
// and against the rule that the judge and the solvers do not know each other.
func importFaults(dir string, f source) []string {
	var list []string
	from := slices.Index(rooms, room(dir))
	for _, spec := range f.ast.Imports {
		to, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			continue // the parser has refused it
		}
		to, ours := strings.CutPrefix(to, "panelyard/")
		if !ours {
			continue
		}
		at := slices.Index(rooms, room(to))
		switch {
		case at < 0 || from < 0:
			list = append(list, fmt.Sprintf("imports %s, which is in no room of the house", to))
		case at > from:
			list = append(list, fmt.Sprintf("imports %s; an import points to the left: %s", to, strings.Join(rooms, " -> ")))
		case room(to) == "cmd":
			list = append(list, fmt.Sprintf("imports the command %s", to))
		case dir == "nest":
			if room(to) == "nest" && !f.test {
				list = append(list, fmt.Sprintf("imports %s; the vocabulary holds no algorithm", to))
			}
		case dir == "nest/check" && strings.HasPrefix(to, "nest/"):
			list = append(list, fmt.Sprintf("imports %s; the judge knows no solver, in its tests neither", to))
		case dir == "nest/order" && strings.HasPrefix(to, "nest/") && to != dir && !f.test:
			list = append(list, fmt.Sprintf("imports %s; the order of cuts knows no solver and no judge", to))
		case solver(dir) && to == "nest/check" && !f.test:
			list = append(list, "imports nest/check; a solver does not ask the judge")
		case solver(dir) && solver(to) && to != dir && !strings.HasPrefix(to, dir+"/"):
			list = append(list, fmt.Sprintf("imports %s; solvers do not know each other", to))
		}
	}
	return list
}

// room returns the top folder of a package.
func room(dir string) string {
	first, _, _ := strings.Cut(dir, "/")
	return first
}

// solver reports whether a package makes plans or bounds: all in nest but the
// judge, those that have both made, and the order of cuts, which plans nothing.
func solver(dir string) bool {
	return strings.HasPrefix(dir, "nest/") && dir != "nest/check" && dir != "nest/choose" && dir != "nest/near" && dir != "nest/order"
}

// mutable returns init functions, and package variables that a function of the
// package assigns to, or whose parts it does.
func mutable(files []source) []string {
	var list []string
	variables := map[string]bool{}
	for _, f := range files {
		if f.test {
			continue
		}
		for _, d := range f.ast.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Recv == nil && d.Name.Name == "init" {
					list = append(list, f.file+": has a func init")
				}
			case *ast.GenDecl:
				for _, s := range d.Specs {
					if v, ok := s.(*ast.ValueSpec); ok && d.Tok == token.VAR {
						for _, n := range v.Names {
							variables[n.Name] = n.Name != "_"
						}
					}
				}
			}
		}
	}
	for _, f := range files {
		if f.test {
			continue
		}
		changes := func(e ast.Expr) {
			id := base(e)
			if id == nil || !variables[id.Name] {
				return
			}
			// The parser ties a name to its declaration within the file: to a local
			// one, to the variable's own, or to none when that is in another file.
			if id.Obj != nil {
				if _, own := id.Obj.Decl.(*ast.ValueSpec); !own || f.ast.Scope.Lookup(id.Name) != id.Obj {
					return
				}
			}
			list = append(list, fmt.Sprintf("%s: assigns to the package variable %s", f.file, id.Name))
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.AssignStmt:
				if n.Tok != token.DEFINE {
					for _, e := range n.Lhs {
						changes(e)
					}
				}
			case *ast.IncDecStmt:
				changes(n.X)
			case *ast.UnaryExpr:
				if n.Op == token.AND {
					changes(n.X)
				}
			}
			return true
		})
	}
	return list
}

// base returns the variable that an assignment to e changes, if e names one.
func base(e ast.Expr) *ast.Ident {
	for {
		switch x := e.(type) {
		case *ast.Ident:
			return x
		case *ast.IndexExpr:
			e = x.X
		case *ast.SelectorExpr:
			e = x.X
		case *ast.StarExpr:
			e = x.X
		case *ast.ParenExpr:
			e = x.X
		default:
			return nil
		}
	}
}

// Every rule of the house finds what breaks it.
func TestHouseFindsFaults(t *testing.T) {
	long := "package parts\n" + strings.Repeat("// line\n", maxLines)
	for _, c := range []struct{ name, file, text, want string }{
		{"a new folder", "extra/a.go", "package extra\n", "not one of the fixed names"},
		{"a vague package", "parts/util/a.go", "package util\n", "says nothing"},
		{"a vague file", "parts/helpers_test.go", "package parts\n", "says nothing"},
		{"to the right", "parts/a.go", "package parts\nimport _ \"panelyard/kerf\"\n", "points to the left"},
		{"to the right in a test", "kerf/a_test.go", "package kerf\nimport _ \"panelyard/nest/saw\"\n", "points to the left"},
		{"a command", "cmd/nestbench/a.go", "package main\nimport _ \"panelyard/cmd/panelyard\"\n", "imports the command"},
		{"an algorithm in the vocabulary", "nest/a.go", "package nest\nimport _ \"panelyard/nest/saw\"\n", "no algorithm"},
		{"the judge asks a solver", "nest/check/a_test.go", "package check\nimport _ \"panelyard/nest/saw\"\n", "knows no solver"},
		{"a solver asks the judge", "nest/router/a.go", "package router\nimport _ \"panelyard/nest/check\"\n", "does not ask the judge"},
		{"the order of cuts asks the judge", "nest/order/a.go", "package order\nimport _ \"panelyard/nest/check\"\n", "no solver and no judge"},
		{"nothing: a solver asks for the order of cuts", "nest/saw/a.go", "package saw\nimport _ \"panelyard/nest/order\"\n", ""},
		{"a solver asks another", "nest/router/a.go", "package router\nimport _ \"panelyard/nest/saw\"\n", "do not know each other"},
		{"a long file", "parts/a.go", long, "451 lines"},
		{"init", "parts/a.go", "package parts\nfunc init() {}\n", "func init"},
		{"a variable that changes", "parts/a.go", "package parts\nvar n [3]int\nfunc f() { n[1]++ }\n", "package variable n"},
		{"a machine's folder", "README.md", "See " + strings.Join([]string{"", "home", "me"}, "/"), "one machine"},
		{"a registry", "testdata/a.txt", "\nhttps://" + strings.Join([]string{"proxy", "golang", "org"}, "."), "testdata/a.txt:2: names"},
		{"nothing: a test may ask the judge", "nest/saw/a_test.go", "package saw\nimport _ \"panelyard/nest/check\"\n", ""},
		{"nothing: a local variable of the name", "parts/a.go", "package parts\nvar n int\nfunc f() { n := 1; n++ }\n", ""},
		{"nothing: ignored", "out/a.go", "package out\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			tree := fstest.MapFS{c.file: {Data: []byte(c.text)}, ".gitignore": {Data: []byte("/out/\n")}}
			got := faults(t, tree)
			switch {
			case c.want == "" && len(got) > 0:
				t.Errorf("faults in a tree without any: %q", got)
			case c.want != "" && !slices.ContainsFunc(got, func(s string) bool { return strings.Contains(s, c.want) }):
				t.Errorf("%q, want one with %q", got, c.want)
			}
		})
	}
}
