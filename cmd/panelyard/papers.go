package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/gofrs/flock"

	"panelyard/export"
	"panelyard/export/book"
	"panelyard/export/csvlist"
	"panelyard/export/dxf"
	"panelyard/export/html"
	"panelyard/export/labels"
	"panelyard/export/planjson"
	"panelyard/export/svgcut"
	"panelyard/export/svgmap"
	"panelyard/export/xlsx"
	"panelyard/kerf"
)

// previous is the folder in which the papers of earlier plans are kept, each in a
// folder with its number.
const previous = "previous"

// kindOfPapers is what panelyard writes into a folder, and how it knows its own again:
// the format that the JSON file proof begins with.
type kindOfPapers struct {
	names         []string // proof is the first
	proof, format string
}

// ours are the names panelyard writes in a folder of papers.
var ours = []string{"plan.json", "cutlist.xlsx", "cutlist.csv", "report.html", "labels.pdf", "shopbook.pdf", "maps", "dxf", "svg"}

// folder is a folder of papers that is written beside its place and moved there
// when everything is complete.
type folder struct {
	dir   string
	stage string
	life  *flock.Flock // held as long as the staging folder is wanted
	made  bool         // dir was not there before
	kind  kindOfPapers

	writeFile func(name string, data []byte, mode fs.FileMode) error
	rename    func(from, to string) error
}

// newFolder prepares a folder: it is created if missing, and a staging folder is
// made in it, so that a folder that cannot be written is known at once.
func newFolder(dir string) (*folder, error) {
	return newFolderOf(dir, kindOfPapers{ours, "plan.json", planjson.Format})
}

// newFolderOf is newFolder for papers of a kind.
func newFolderOf(dir string, kind kindOfPapers) (*folder, error) {
	if st, err := os.Stat(dir); err == nil && !st.IsDir() {
		return nil, fmt.Errorf("%s is a file: --out wants a folder", dir)
	}
	_, err := os.Stat(dir)
	made := errors.Is(err, fs.ErrNotExist)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("cannot make the folder for the papers: %w", err)
	}
	stage, life, err := newStage(dir, func() error { return notForeign(dir, kind) })
	if err != nil {
		return nil, err
	}
	return &folder{dir: dir, stage: stage, life: life, made: made, kind: kind, writeFile: os.WriteFile, rename: os.Rename}, nil
}

// planFile returns the plan.json that a command is given: itself, or in its folder.
func planFile(path string) string {
	if st, err := os.Stat(path); err == nil && st.IsDir() {
		return filepath.Join(path, "plan.json")
	}
	return path
}

// notForeign returns an error when the folder holds a file under one of our
// names but no proof of ours: it belongs to somebody else.
func notForeign(dir string, kind kindOfPapers) error {
	var found string
	for _, name := range kind.names {
		if _, err := os.Lstat(filepath.Join(dir, name)); err == nil {
			found = name
			break
		}
	}
	if found == "" {
		return nil
	}
	f, err := os.Open(filepath.Join(dir, kind.proof))
	if err == nil {
		defer f.Close()
		// The format is the first key; the rest of the file may be long.
		head, _ := io.ReadAll(io.LimitReader(f, 4096))
		dec := json.NewDecoder(bytes.NewReader(head))
		var tok [3]json.Token
		for i := range tok {
			tok[i], _ = dec.Token()
		}
		if tok[1] == "format" && tok[2] == kind.format {
			return nil
		}
	}
	return fmt.Errorf("%s holds a %q that panelyard did not write: choose another folder for --out", dir, found)
}

// write writes a document into the staging folder.
func (f *folder) write(name string, doc func(io.Writer) error) error {
	var b bytes.Buffer
	if err := doc(&b); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if err := f.writeFile(filepath.Join(f.stage, name), b.Bytes(), 0o644); err != nil {
		return fmt.Errorf("cannot write %s into %s, whose papers stay as they were: %w", name, f.dir, bare(err))
	}
	return nil
}

// papers writes every document of d into the staging folder and then moves them
// to their place; the papers of the plan before go to the folder previous.
func (f *folder) papers(d *export.Dossier, wish paperFlags) error {
	if err := os.Mkdir(filepath.Join(f.stage, "maps"), 0o755); err != nil {
		return err
	}
	for i := range d.Sheets {
		for _, mirrored := range []bool{false, true} {
			if mirrored && !wish.mirrored {
				continue
			}
			name := d.Sheets[i].ID
			if mirrored {
				name += "-mirrored"
			}
			look := svgmap.Look{Paper: wish.maps, Mirrored: mirrored}
			err := f.write(filepath.Join("maps", name+".svg"), func(w io.Writer) error { return svgmap.Write(w, d, i, look) })
			if err != nil {
				return err
			}
		}
	}
	err := f.write(filepath.Join("maps", "overview.svg"), func(w io.Writer) error { return svgmap.Overview(w, d, wish.maps) })
	if err != nil {
		return err
	}
	// The codes of the labels take time: they are made once for both documents.
	stuck, err := labels.Layout(d, wish.grid)
	if err != nil {
		return err
	}
	docs := []struct {
		name string
		doc  func(io.Writer, *export.Dossier) error
	}{
		{"plan.json", planjson.Write},
		{"cutlist.xlsx", xlsx.Write},
		{"cutlist.csv", csvlist.Write},
		{"report.html", html.Write},
		{"labels.pdf", func(w io.Writer, d *export.Dossier) error { return labels.Write(w, d, wish.grid, stuck) }},
		{"shopbook.pdf", func(w io.Writer, d *export.Dossier) error { return book.Write(w, d, stuck) }},
	}
	for _, x := range docs {
		if err := f.write(x.name, func(w io.Writer) error { return x.doc(w, d) }); err != nil {
			return err
		}
	}
	if d.Demand.Cut == kerf.Router {
		if err := f.drawings(d, wish.flavour); err != nil {
			return err
		}
	}
	return f.place()
}

// drawings writes the sheets of a router, and every panel, as DXF and as SVG.
func (f *folder) drawings(d *export.Dossier, flavour dxf.Flavour) error {
	for _, folder := range []string{"dxf", "svg"} {
		if err := os.MkdirAll(filepath.Join(f.stage, folder, "panels"), 0o755); err != nil {
			return err
		}
	}
	both := func(name, title string, dr dxf.Drawing) error {
		return errors.Join(
			f.write(filepath.Join("dxf", name+".dxf"), func(w io.Writer) error { return dxf.Write(w, dr, flavour) }),
			f.write(filepath.Join("svg", name+".svg"), func(w io.Writer) error { return svgcut.Write(w, title, dr) }),
		)
	}
	for i := range d.Sheets {
		if err := both(d.Sheets[i].ID, d.Title()+", sheet "+d.Sheets[i].ID, dxf.Sheet(d, i)); err != nil {
			return err
		}
	}
	for i, name := range dxf.FileNames(d.Panels) {
		if err := both(filepath.Join("panels", name), d.Panels[i].Name, dxf.Panel(d, i)); err != nil {
			return err
		}
	}
	return nil
}

// place moves the old papers out and the new ones in: all of them, or none.
func (f *folder) place() error {
	release, err := alone(f.dir, folderPatience)
	if err != nil {
		return err
	}
	defer release()
	n, err := f.archive()
	if err != nil {
		return err
	}
	if err := (placing{n, f.kind.proof}).note(f.stage); err != nil {
		return errors.Join(err, os.Remove(archiveOf(f.dir, n)))
	}
	m := moves{rename: f.rename}
	if err = f.swap(&m, archiveOf(f.dir, n)); err != nil {
		err = errors.Join(err, m.undo())
	}
	unmake(archiveOf(f.dir, n)) // where there were no old papers, or they are back
	return err
}

// swap moves the papers, in the order that staging.go explains.
func (f *folder) swap(m *moves, archive string) error {
	for _, name := range slices.Backward(f.kind.names) {
		at := filepath.Join(f.dir, name)
		if _, err := os.Lstat(at); err != nil {
			continue
		}
		if err := m.move(at, filepath.Join(archive, name)); err != nil {
			return err
		}
	}
	for _, name := range f.kind.names {
		// Not every plan has all papers.
		if err := m.move(filepath.Join(f.stage, name), filepath.Join(f.dir, name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// archive makes the next numbered folder for old papers: whatever somebody wrote
// into them, or put beside the maps, is kept.
func (f *folder) archive() (int, error) {
	if err := os.MkdirAll(filepath.Join(f.dir, previous), 0o755); err != nil {
		return 0, err
	}
	for n := 1; ; n++ {
		if err := os.Mkdir(archiveOf(f.dir, n), 0o755); !errors.Is(err, fs.ErrExist) {
			return n, err
		}
	}
}

// discard removes the staging folder, and the folder itself when it was made
// for papers that did not come.
func (f *folder) discard() {
	os.RemoveAll(f.stage)
	_ = f.life.Unlock()
	os.RemoveAll(f.stage) // where an open file cannot be removed
	if f.made {
		os.Remove(f.dir) // fails when it holds something, as it should
	}
}
