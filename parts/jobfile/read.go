package jobfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"unicode/utf8"

	"panelyard/parts"
	"panelyard/parts/diag"
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
	MaxFindings = 200     // listed; a file with more has one cause
)

// ReadFile reads a job file. The job is nil when the list holds a mistake; the
// list is sorted by place.
func ReadFile(path string) (*parts.Job, diag.List) {
	src, err := load(path)
	if err != nil {
		var list diag.List
		list = append(list, diag.Finding{Pos: diag.Pos{File: path}, Fact: err.Error(), Remedy: remedyFor(err), Err: err})
		return nil, list
	}
	return Read(path, src)
}

// The faults of a file as a whole.
var (
	errDirectory = errors.New("is a directory")
	errLarge     = fmt.Errorf("is larger than %d MiB", MaxBytes>>20)
)

// load reads a file, never more of it than is allowed.
func load(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return nil, fmt.Errorf("cannot be read: %w", err)
	}
	defer f.Close()
	st, err := f.Stat()
	switch {
	case err != nil:
		return nil, fmt.Errorf("cannot be read: %w", err)
	case st.IsDir():
		return nil, errDirectory
	case st.Size() > MaxBytes:
		return nil, errLarge
	}
	src, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w", err)
	}
	return src, nil
}

func remedyFor(err error) string {
	switch {
	case errors.Is(err, errDirectory):
		return "name the job file in it"
	case errors.Is(err, errLarge):
		return "a job file is text of a few pages; is this another kind of file?"
	}
	return "check the name and the permissions of the file"
}

// Read reads the job in src; name is the file name that findings carry. It never
// panics, whatever is in src.
func Read(name string, src []byte) (*parts.Job, diag.List) {
	r := &reader{file: name}
	src = bytes.TrimPrefix(src, []byte("\ufeff")) // a byte order mark, as some editors write
	if r.text(src) {
		if top := r.parse(src); top != nil {
			r.job(top)
		}
	}
	return r.result()
}

// result returns the job, when there is no mistake, and what is listed of the
// findings: when there are too many, mistakes before warnings.
func (r *reader) result() (*parts.Job, diag.List) {
	r.list.Sort()
	mistakes, warnings := r.list.Split()
	list := r.list
	if more := len(list) - MaxFindings; more > 0 {
		mistakes = mistakes[:min(len(mistakes), MaxFindings)]
		warnings = warnings[:min(len(warnings), MaxFindings-len(mistakes))]
		list = append(mistakes, warnings...)
		list.Sort()
		last := diag.Finding{
			Pos: diag.Pos{File: r.file}, Severity: diag.Warning,
			Fact: fmt.Sprintf("%d more findings are not listed", more), Remedy: "begin with the first ones",
		}
		list = append(list, last)
	}
	if len(mistakes) > 0 {
		return nil, list
	}
	return &r.out, list
}

// reader is one run of Read.
type reader struct {
	file string
	list diag.List
	out  parts.Job
	// drafts are the panels as written, before pairs are made of them.
	drafts   map[string]*draft
	vertices int  // of all panels so far
	unsure   bool // an entry of stock is faulty: what it is made of is not known
}

// text reports whether src is text that can be parsed.
func (r *reader) text(src []byte) bool {
	pos := diag.Pos{File: r.file}
	line := func(at int) diag.Pos {
		return diag.Pos{File: r.file, Line: 1 + strings.Count(string(src[:at]), "\n")}
	}
	switch {
	case len(src) > MaxBytes:
		r.list.Add(pos, "", errLarge.Error(), remedyFor(errLarge))
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
