package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode"

	"github.com/xuri/excelize/v2"
	"golang.org/x/net/html"
	"golang.org/x/text/unicode/norm"

	"panelyard/export"
	"panelyard/export/dxf"
	"panelyard/export/exporttest"
	"panelyard/export/template"
	"panelyard/kerf"
	"panelyard/parts/length"
	"panelyard/parts/partstest"
	"panelyard/parts/rack"
)

// texts returns the pieces of text in a file, as a program reads it that we did not
// write.
func texts(t *testing.T, file string) []string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	switch filepath.Ext(file) {
	case ".json":
		var doc any
		if err := json.Unmarshal(data, &doc); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		list = stringsIn(doc)
	case ".csv":
		table := csv.NewReader(bytes.NewReader(data))
		table.Comment, table.FieldsPerRecord = '#', -1
		rows, err := table.ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		for _, r := range rows {
			list = append(list, r...)
		}
	case ".xlsx":
		book, err := excelize.OpenReader(bytes.NewReader(data))
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		defer book.Close()
		for _, sheet := range book.GetSheetList() {
			rows, err := book.GetRows(sheet)
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			for _, r := range rows {
				list = append(list, r...)
			}
		}
	case ".html":
		list = pageTexts(t, data)
	case ".svg":
		list = markupTexts(t, data)
	case ".pdf":
		// As they were written, which keeps the lines of a cell together, and as they
		// lie, which puts letters that run to the left in order.
		for _, order := range []string{"-raw", "-layout"} {
			out, err := exec.Command(partstest.Tool(t, "pdftotext"), order, file, "-").Output()
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			list = append(list, string(out))
		}
	default:
		t.Fatalf("no reader for %s", file)
	}
	return list
}

const python = "/usr/bin/python3" // Debian's, which sees its modules

// ezdxf returns nil where ezdxf is installed.
var ezdxf = sync.OnceValue(exec.Command(python, "-c", "import ezdxf").Run)

// dxfTexts returns the texts in DXF files by file, as ezdxf reads them in one go.
func dxfTexts(t *testing.T, files []string) map[string][]string {
	t.Helper()
	partstest.Need(t, "python3-ezdxf", ezdxf())
	const script = `
import json, sys
from ezdxf import recover
found = {}
for file in sys.argv[1:]:
    doc, audit = recover.readfile(file)
    assert not audit.errors, audit.errors
    found[file] = [e.plain_text() for e in doc.modelspace().query("TEXT")]
print(json.dumps(found))
`
	found := map[string][]string{}
	out, err := exec.Command(python, append([]string{"-c", script}, files...)...).Output()
	if err == nil {
		err = json.Unmarshal(out, &found)
	}
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// stringsIn returns the texts of a JSON value.
func stringsIn(v any) (list []string) {
	switch v := v.(type) {
	case string:
		return []string{v}
	case []any:
		for _, x := range v {
			list = append(list, stringsIn(x)...)
		}
	case map[string]any:
		for _, x := range v {
			list = append(list, stringsIn(x)...)
		}
	}
	return list
}

// pageTexts returns the texts of a page.
func pageTexts(t *testing.T, data []byte) (list []string) {
	t.Helper()
	z := html.NewTokenizer(bytes.NewReader(data))
	for {
		switch z.Next() {
		case html.ErrorToken:
			if !errors.Is(z.Err(), io.EOF) {
				t.Fatal(z.Err())
			}
			return list
		case html.TextToken:
			list = append(list, z.Token().Data)
		}
	}
}

// markupTexts returns the texts of an XML document.
func markupTexts(t *testing.T, data []byte) (list []string) {
	t.Helper()
	dec := xml.NewDecoder(bytes.NewReader(data))
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatal(err)
		}
		if text, ok := tok.(xml.CharData); ok {
			list = append(list, string(text))
		}
	}
}

// shown is what of a text can be compared where it was set in type: letters in their
// usual form, without blanks and breaks and the marks of direction, and one sign for
// each character that has no picture.
func shown(s string) string {
	const sign = '\ufffd'
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 0x202a && r <= 0x202c, r >= 0x2066 && r <= 0x2069, r == 0x200e, unicode.IsSpace(r) && r != '\t':
			return -1
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r > 0xffff:
			return sign
		}
		return r
	}, norm.NFKC.String(s))
}

// has reports whether a name is in texts: as it is, or as it is shown in type.
func has(list []string, name string, exact bool) bool {
	if exact {
		return slices.ContainsFunc(list, func(s string) bool { return strings.Contains(s, name) })
	}
	all := shown(strings.Join(list, "\n"))
	// A tab is a blank, or a sign; a picture that a face lacks is named.
	return strings.Contains(all, shown(name)) || strings.Contains(all, shown(strings.NewReplacer("\t", " ", "🪵", "[wood]").Replace(name)))
}

// How names are in a document.
type naming int

const (
	exact  naming = iota // whole, every character
	inType               // whole, but for what has no picture
	none                 // there are no names, by design; the file is well-formed
)

// nasty is a plan of panels with names that break careless writers.
func nasty(t *testing.T, cut kerf.Cut) *export.Dossier {
	t.Helper()
	return exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), cut)
}

// All papers of a plan, read back by programs that we did not write, hold the names of
// all panels.
func TestNamesInPapers(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		d := nasty(t, cut)
		dir := t.TempDir()
		wish := usualPapers()
		wish.mirrored = true
		if err := wish.check(); err != nil {
			t.Fatal(err)
		}
		f, err := newFolder(dir)
		if err != nil {
			t.Fatal(err)
		}
		defer f.discard()
		if err := f.papers(d, wish); err != nil {
			t.Fatal(err)
		}
		var all []string
		for i := range d.Panels {
			all = append(all, d.Panels[i].Name)
		}
		want := map[string]naming{
			"plan.json": exact, "cutlist.xlsx": exact, "cutlist.csv": exact, "report.html": exact, "shopbook.pdf": inType, "labels.pdf": inType, "maps/overview.svg": none,
		}
		of := map[string][]string{} // names, where they are not all
		for i := range d.Sheets {
			id := d.Sheets[i].ID
			var names []string
			for k := range d.Sheets[i].Placements {
				names = append(names, d.Sheets[i].Placements[k].Row.Name)
			}
			for _, file := range []string{"maps/" + id + ".svg", "maps/" + id + "-mirrored.svg"} {
				want[file], of[file] = inType, names
			}
			if cut == kerf.Router {
				want["dxf/"+id+".dxf"], of["dxf/"+id+".dxf"] = exact, names
				want["svg/"+id+".svg"] = none // a machine would cut them
			}
		}
		if cut == kerf.Router {
			for i, name := range dxf.FileNames(d.Panels) {
				for _, file := range []string{"dxf/panels/" + name + ".dxf", "svg/panels/" + name + ".svg"} {
					want[file], of[file] = exact, []string{d.Panels[i].Name}
				}
			}
		}
		var drawn map[string][]string // of all DXF files
		for name, text := range papersOf(tree(t, dir)) {
			name = filepath.ToSlash(name)
			how, ok := want[name]
			if !ok || text == "" {
				t.Errorf("%v: nobody looks at %s", cut, name)
			}
			delete(want, name)
			names := of[name]
			if names == nil {
				names = all
			}
			t.Run(fmt.Sprintf("%v, %s", cut, name), func(t *testing.T) {
				file := filepath.Join(dir, filepath.FromSlash(name))
				if filepath.Ext(file) != ".dxf" {
					named(t, texts(t, file), names, how)
					return
				}
				if drawn == nil {
					files, _ := filepath.Glob(filepath.Join(dir, "dxf", "*.dxf"))
					more, _ := filepath.Glob(filepath.Join(dir, "dxf", "panels", "*.dxf"))
					drawn = dxfTexts(t, append(files, more...))
				}
				named(t, drawn[file], names, how)
			})
		}
		for name := range want {
			t.Errorf("%v: %s was not written", cut, name)
		}
	}
}

// named wants names in texts.
func named(t *testing.T, list, names []string, how naming) {
	t.Helper()
	for _, name := range names {
		switch {
		case how == none || has(list, name, how == exact):
		default:
			t.Errorf("%q is not there", name)
		}
	}
}

// A template of each panel, and a rack of boards with such notes.
func TestNamesElsewhere(t *testing.T) {
	d := nasty(t, kerf.Saw)
	dir := t.TempDir()
	for _, name := range exporttest.Nasty {
		x, list := template.New(d.Job, name, false, false)
		if list.Err() != nil {
			t.Fatal(list)
		}
		pages, list := template.Pages(x, onA4)
		if list.Err() != nil {
			t.Fatal(list)
		}
		pdf := put(t, dir, "template.pdf", func(w io.Writer) error { return template.WritePDF(w, x.Title(), pages) })
		svg := put(t, dir, "template.svg", func(w io.Writer) error { return template.WriteSVG(w, x.Title(), template.Sheet(x)) })
		t.Run("template.pdf", func(t *testing.T) { named(t, texts(t, pdf), []string{name}, inType) })
		t.Run("template.svg", func(t *testing.T) { named(t, texts(t, svg), []string{name}, inType) })
	}

	file := filepath.Join(dir, "rack.csv")
	var kept []string
	for _, name := range exporttest.Nasty {
		name = strings.TrimSpace(name) // a cell keeps no blanks at its ends
		_, err := rack.Change(context.Background(), file, rack.New(length.MM), func(r *rack.Rack) error {
			_, err := r.Add(rack.Piece{Material: "mdf", Length: 600 * length.Millimetre, Width: 300 * length.Millimetre, Note: name})
			return err
		})
		if err == nil {
			kept = append(kept, name)
		} else if !strings.ContainsFunc(name, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }) {
			t.Error(err)
		}
	}
	t.Run("rack.csv", func(t *testing.T) { named(t, texts(t, file), kept, exact) })
}

// put writes a document into a folder and returns its path.
func put(t *testing.T, dir, name string, doc func(io.Writer) error) string {
	t.Helper()
	file := filepath.Join(dir, name)
	var b bytes.Buffer
	if err := errors.Join(doc(&b), os.WriteFile(file, b.Bytes(), 0o644)); err != nil {
		t.Fatal(err)
	}
	return file
}

// onA4 are the options of a template that nobody gave any for.
var onA4 = template.Options{Paper: template.DefaultPaper, Overlap: template.DefaultOverlap, Margin: template.DefaultMargin}
