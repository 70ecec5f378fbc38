package jobfile

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/formula"
	"panelyard/parts/length"
)

// The limits of a job file.
const (
	MaxBytes    = 4 << 20
	MaxDepth    = 32
	MaxEntries  = 5_000
	MaxVertices = 10_000
	MaxCopies   = 100_000
	MaxPanels   = 200_000
	MaxCorners  = 500_000 // vertices of all panels and openings together
	MaxName     = 200     // characters
	MaxNote     = 4_000   // characters
)

// ReadFile reads a job file and the files that it names. The job is nil when the
// list holds a mistake; the list is sorted by place.
func ReadFile(path string) (*parts.Job, diag.List) {
	return ReadVariant(path, "")
}

// opener reads a file of so many bytes at most.
type opener func(path string, most int) ([]byte, error)

// once returns an opener that reads each file a single time.
func once(open opener) opener {
	type read struct {
		src []byte
		err error
	}
	known := map[string]read{}
	return func(path string, most int) ([]byte, error) {
		r, ok := known[path]
		if !ok {
			r.src, r.err = open(path, most)
			known[path] = r
		}
		return r.src, r.err
	}
}

// examine reads a variant of a job file, and the files that it names, with input.
func examine(path, variant string, input opener) (*parts.Job, []parts.Reading, diag.List) {
	src, err := input(path, MaxBytes)
	if err != nil {
		var list diag.List
		list = append(list, diag.Finding{Pos: diag.Pos{File: path}, Fact: err.Error(), Remedy: remedyFor(err), Err: err})
		return nil, nil, list
	}
	r := newReader(path, input)
	r.variant = variant
	job, list := r.read(src)
	return job, r.out.Readings, list
}

func remedyFor(err error) string {
	switch {
	case errors.Is(err, diag.ErrDirectory):
		return "name the job file in it"
	case errors.Is(err, diag.TooLarge(MaxBytes)):
		return "a job file is text of a few pages; is this another kind of file?"
	}
	return "check the name and the permissions of the file"
}

// Read reads the job in src; name is the file name that findings carry. It never
// panics, whatever is in src.
func Read(name string, src []byte) (*parts.Job, diag.List) { return newReader(name, nil).read(src) }

// newReader returns a reader of a job file. Files that the job names are read with
// input; when it is nil, a job that names one has a mistake.
func newReader(name string, input opener) *reader {
	return &reader{file: name, input: input}
}

func (r *reader) read(src []byte) (*parts.Job, diag.List) {
	src = bytes.TrimPrefix(src, []byte("\ufeff")) // a byte order mark, as some editors write
	if r.text(src) {
		if top := r.parse(src); top != nil {
			r.job(top)
		}
	}
	return r.result()
}

// result returns the job, when there is no mistake, and what is listed of the
// findings.
func (r *reader) result() (*parts.Job, diag.List) {
	list := r.list.Listed(r.file)
	if list.Err() != nil {
		return nil, list
	}
	return &r.out, list
}

// reader is one run of Read.
type reader struct {
	file    string
	variant string // that is asked for; empty is the job as written
	list    diag.List
	out     parts.Job
	// drafts are the panels as written, before pairs are made of them.
	drafts   map[string]*draft
	vertices int // of all panels so far
	input    opener
	defs     formula.Definitions
	scopes   map[string]formula.Scope // by material
	of       string                   // material of the panel that is read
	raw      map[string]*value        // panels as written, by name
	files    int                      // read or tried
	sources  map[string]*source
	measured map[string]length.Length // of materials, by name, in place of what the file says
	trial    *trial                   // a size that is made smaller; nil as written
	sizes    []Size                   // in plain figures
	unsure   bool                     // an entry of stock is faulty: what it is made of is not known
}

// text reports whether src is text that can be parsed.
func (r *reader) text(src []byte) bool {
	pos := diag.Pos{File: r.file}
	line := func(at int) diag.Pos {
		return diag.Pos{File: r.file, Line: 1 + strings.Count(string(src[:at]), "\n")}
	}
	switch {
	case len(src) > MaxBytes:
		large := diag.TooLarge(MaxBytes)
		r.list.Add(pos, "", large.Error(), remedyFor(large))
	case len(strings.TrimSpace(string(src))) == 0:
		r.list.Add(pos, "", "is empty", newJobRemedy)
	case !utf8.Valid(src):
		at := 0
		for at < len(src) {
			c, n := utf8.DecodeRune(src[at:])
			if c == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		r.list.Add(line(at), "", "is not UTF-8 text", "save the file as UTF-8 text")
	default:
		for i, c := range src {
			if c < ' ' && c != '\n' && c != '\r' && c != '\t' {
				r.list.Add(line(i), "", fmt.Sprintf("holds the control character %#02x", c), "save the file as plain text")
				return false
			}
		}
		return true
	}
	return false
}
