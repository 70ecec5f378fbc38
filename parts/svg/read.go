package svg

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/ianaindex"
	"golang.org/x/text/encoding/unicode"

	"panelyard/parts/diag"
	"panelyard/parts/drawing"
	"panelyard/parts/drawing/curve"
	"panelyard/parts/length"
)

// The limits of a file.
const (
	MaxBytes      = 64 << 20
	MaxElements   = 100_000
	MaxDepth      = 100 // of elements in elements
	MaxUses       = 16  // of elements with use in elements that are used
	MaxAttributes = 250 // of an element
)

// DefaultTolerance is how far flattened curves may leave the true ones (common
// practice, no source).
const DefaultTolerance = 10 * length.Micrometre

// Options say how a file is read. The zero Options are the defaults.
type Options struct {
	// Unit is what one user unit is in a file whose width and height do not tell how
	// large it is; a pixel, 1/96 inch, if zero.
	Unit      length.Unit
	Tolerance length.Length // of flattened curves; DefaultTolerance if 0 or less
}

// ReadFile reads a file; see [Read].
func ReadFile(path string, opt Options) (*drawing.Drawing, diag.List) {
	src, err := diag.ReadFile(path, MaxBytes)
	if err != nil {
		remedy := "check the name and the permissions of the file"
		switch {
		case errors.Is(err, diag.TooLarge(MaxBytes)):
			remedy = simplerRemedy
		case errors.Is(err, diag.ErrDirectory):
			err = fmt.Errorf("cannot be read: %w", err)
		}
		return nil, diag.List{{Pos: diag.Pos{File: path}, Fact: err.Error(), Remedy: remedy, Err: err}}
	}
	return Read(path, src, opt)
}

// Read reads the drawing in src; name is the file name that findings carry. The
// drawing is nil when the list holds a mistake. The list is sorted by place and
// holds at most [diag.MaxFindings] and a line that says so. Read never panics,
// whatever is in src.
func Read(name string, src []byte, opt Options) (*drawing.Drawing, diag.List) {
	r := &reader{file: name, opt: opt, ids: map[string]*node{}, unread: map[note]*unread{}}
	if r.opt.Tolerance <= 0 {
		r.opt.Tolerance = DefaultTolerance
	}
	var d *drawing.Drawing
	if r.suits(src) {
		if src, ok := r.asUTF8(src); ok {
			if root := r.tree(src); root != nil {
				d = r.drawing(root)
			}
		}
	}
	list := r.list.Listed(name)
	if list.Err() != nil {
		return nil, list
	}
	return d, list
}

// IsSVG reports whether a file looks like SVG rather than another drawing.
func IsSVG(src []byte) bool {
	head := bytes.TrimSpace(bytes.TrimPrefix(src[:min(len(src), 4096)], []byte("\ufeff")))
	return bytes.HasPrefix(head, []byte("<")) || packed(src) || utf16Of(src) != nil
}

// packed reports whether a file begins as gzip does (RFC 1952, section 2.3.1).
func packed(src []byte) bool { return bytes.HasPrefix(src, []byte("\x1f\x8b")) }

// reader is one run of Read.
type reader struct {
	file   string
	opt    Options
	list   diag.List
	wide   bool // the file was UTF-16
	ids    map[string]*node
	unread map[note]*unread
}

// pos returns the place of a line.
func (r *reader) pos(line int) diag.Pos { return diag.Pos{File: r.file, Line: line} }

// suits reports whether src can be SVG at all.
func (r *reader) suits(src []byte) bool {
	bad := func(fact, remedy string) bool {
		r.list.Add(r.pos(0), "", fact, remedy)
		return false
	}
	const asSVG = "export the drawing as SVG"
	switch {
	case len(src) > MaxBytes:
		return bad(diag.TooLarge(MaxBytes).Error(), simplerRemedy)
	case len(bytes.TrimSpace(src)) == 0:
		return bad("is empty", asSVG)
	case packed(src):
		return bad("is packed (gzip, as in .svgz), which is not read", "unpack it with gzip -d, or save it as plain .svg")
	case utf16Of(src) == nil && bytes.IndexByte(src, 0) >= 0:
		return bad("holds zero bytes and is no text", asSVG)
	}
	return true
}

// utf16Of returns the encoding of UTF-16 text, by its byte order mark or, as XML
// 1.0 (W3C, fifth edition, appendix F.1) says, by its first characters; nil for
// other text.
func utf16Of(src []byte) encoding.Encoding {
	switch {
	case bytes.HasPrefix(src, []byte("\xff\xfe")), bytes.HasPrefix(src, []byte("<\x00?\x00")), bytes.HasPrefix(src, []byte("<\x00s\x00")):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case bytes.HasPrefix(src, []byte("\xfe\xff")), bytes.HasPrefix(src, []byte("\x00<\x00?")), bytes.HasPrefix(src, []byte("\x00<\x00s")):
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM)
	}
	return nil
}

// asUTF8 returns UTF-16 as UTF-8, and other text as it is.
func (r *reader) asUTF8(src []byte) ([]byte, bool) {
	e := utf16Of(src)
	if e == nil {
		return bytes.TrimPrefix(src, []byte("\ufeff")), true
	}
	r.wide = true
	out, err := e.NewDecoder().Bytes(src)
	if err != nil || bytes.IndexByte(out, 0) >= 0 {
		r.list.Add(r.pos(0), "", "looks like UTF-16 text but is none", "save it as UTF-8")
		return nil, false
	}
	return out, true
}

// charset decodes what the XML declaration says the characters are coded in.
func (r *reader) charset(name string, input io.Reader) (io.Reader, error) {
	if r.wide {
		return input, nil // it is UTF-8 by now
	}
	e, err := ianaindex.IANA.Encoding(name)
	if err != nil || e == nil || strings.HasPrefix(strings.ToUpper(name), "UTF-16") {
		return nil, fault("save it as UTF-8", "its characters are said to be coded in %s, and that cannot be read", quoted(name))
	}
	return e.NewDecoder().Reader(input), nil
}

// fault makes a faulty.
func fault(remedy, format string, args ...any) error {
	return &faulty{fmt.Sprintf(format, args...), remedy}
}

// oneLine returns what an error says.
func oneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }

// note is a thing that is not read, with what to do about it.
type note struct{ what, remedy string }

// unread counts the things of a kind that are not read.
type unread struct{ count, line int }

// notRead counts a thing that is not read.
func (r *reader) notRead(n note, line int) {
	const most = 100 // kinds; there are fewer
	u := r.unread[n]
	if u == nil {
		if len(r.unread) >= most {
			n = note{"another kind of element is not read", n.remedy}
		}
		if u = r.unread[n]; u == nil {
			u = &unread{line: line}
			r.unread[n] = u
		}
	}
	u.count++
}

// sayUnread lists what was not read, once a kind.
func (r *reader) sayUnread() {
	kinds := make([]note, 0, len(r.unread))
	for n := range r.unread {
		kinds = append(kinds, n)
	}
	slices.SortFunc(kinds, func(a, b note) int { return strings.Compare(a.what, b.what) })
	for _, n := range kinds {
		u := r.unread[n]
		r.list.Warn(r.pos(u.line), "", fmt.Sprintf("%s (%d in the drawing)", n.what, u.count), n.remedy)
	}
}

// drawing draws what is in the svg element.
func (r *reader) drawing(root *node) *drawing.Drawing {
	p := r.page(root)
	x := &expansion{r: r, d: &drawing.Drawing{File: r.file, Unit: p.unit}, inch: p.inch, said: map[*node]bool{}}
	at := place{view: p.view, size: p.size, style: style{visible: true}}
	if root.self().hidden {
		r.notRead(undrawn, root.line)
	} else {
		x.children(root, x.enter(root, at))
	}
	r.sayUnread()
	if !p.told && len(x.d.Pieces) > 0 {
		box := x.d.Box()
		r.list.Warn(r.pos(root.line), "", fmt.Sprintf("%s; with %s it is %s by %s", p.untold, p.taken, box.Dx(), box.Dy()),
			"write width and height in mm or in into the svg element, or say what one unit of the drawing is")
	}
	return x.d
}

// page is how the svg element lies on the grid.
type page struct {
	view          curve.View
	size          curve.Vec // of the viewport in user units, NaN when it is not known
	unit          length.Unit
	inch          float64 // in user units
	told          bool    // how large it is
	untold, taken string
}
