package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"golang.org/x/text/encoding/htmlindex"

	"panelyard/parts/diag"
	"panelyard/parts/drawing"
	"panelyard/parts/length"
)

// The limits of a file.
const (
	MaxBytes    = 64 << 20
	MaxElements = 100_000
	MaxDepth    = 64
)

// DefaultTolerance is how far flattened curves may leave the true ones (common
// practice, no source).
const DefaultTolerance = 10 * length.Micrometre

// Options say how a file is read. The zero Options are the defaults.
type Options struct {
	Unit      length.Unit   // of a user unit in a file that tells no size; px if zero
	Tolerance length.Length // of flattened curves; DefaultTolerance if 0 or less
}

// Read reads the drawing in src; name is the file name that findings carry. The
// drawing is nil when the list holds a mistake. The list is sorted by place and holds
// at most [diag.MaxFindings] and a line that says so. Read never panics, whatever is
// in src.
func Read(name string, src []byte, opt Options) (*drawing.Drawing, diag.List) {
	r := &reader{file: name, opt: opt, unread: map[string]*unread{}}
	if r.opt.Tolerance <= 0 {
		r.opt.Tolerance = DefaultTolerance
	}
	var d *drawing.Drawing
	if r.suits(src) {
		if root := r.tree(src); root != nil {
			d = r.drawing(root)
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
	return bytes.HasPrefix(head, []byte("<")) || bytes.HasPrefix(src, gzipMagic)
}

var gzipMagic = []byte("\x1f\x8b")

// reader is one run of Read.
type reader struct {
	file   string
	opt    Options
	list   diag.List
	ids    map[string]*node
	drawn  int // elements
	full   bool
	out    *drawing.Drawing
	layers map[string]bool
	unread map[string]*unread
}

// unread counts what is not read of a kind.
type unread struct {
	count int
	first *node
	fact  string
}

// node is an element.
type node struct {
	name     string
	attrs    map[string]string // by local name; that of xlink and foreign names too
	children []*node
	text     strings.Builder
	line     int
}

func (r *reader) pos(line int) diag.Pos { return diag.Pos{File: r.file, Line: line} }

// source names an element in findings.
func (n *node) source() drawing.Source {
	s := n.name
	if id := n.attrs["id"]; id != "" {
		s += fmt.Sprintf(" %q", clip(id))
	}
	return drawing.Source{Entity: s, Line: n.line}
}

// bad adds a mistake of an element.
func (r *reader) bad(n *node, fact, remedy string) {
	r.list.Add(r.pos(n.line), n.source().Entity, fact, remedy)
}

// suits reports whether src can be SVG at all.
func (r *reader) suits(src []byte) bool {
	fact, remedy := "", "save the drawing as plain SVG"
	switch {
	case len(src) > MaxBytes:
		fact, remedy = diag.TooLarge(MaxBytes).Error(), "export the panels only, without what surrounds them"
	case len(bytes.TrimSpace(src)) == 0:
		fact = "is empty"
	case bytes.HasPrefix(src, gzipMagic):
		fact, remedy = "is compressed SVG, which is not read", "save it as plain SVG, or unpack it"
	case bytes.HasPrefix(src, []byte("\xff\xfe")) || bytes.HasPrefix(src, []byte("\xfe\xff")) || bytes.IndexByte(src, 0) >= 0:
		fact, remedy = "is not UTF-8 text", "save it as UTF-8"
	}
	if fact != "" {
		r.list.Add(r.pos(0), "", fact, remedy)
	}
	return fact == ""
}

// tree parses the file; nil after a finding.
func (r *reader) tree(src []byte) *node {
	dec := xml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(src, []byte("\ufeff"))))
	dec.CharsetReader = func(label string, in io.Reader) (io.Reader, error) {
		e, err := htmlindex.Get(label)
		if err != nil {
			return nil, fmt.Errorf("the encoding %q is not known", clip(label))
		}
		return e.NewDecoder().Reader(in), nil
	}
	r.ids = map[string]*node{}
	var open []*node
	var root *node
	count := 0
	stop := func(fact, remedy string) *node {
		line, _ := dec.InputPos()
		r.list.Add(r.pos(line), "", fact, remedy)
		return nil
	}
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			fact := diag.Brief(err)
			if _, after, ok := strings.Cut(fact, "XML syntax error on line "); ok {
				_, fact, _ = strings.Cut(after, ": ")
			}
			return stop("cannot be understood as XML: "+fact, "save the drawing as plain SVG again")
		}
		switch t := tok.(type) {
		case xml.Directive:
			if bytes.Contains(t, []byte("ENTITY")) {
				return stop("defines entities, which are not read", "save the drawing as plain SVG")
			}
		case xml.StartElement:
			if count++; count > MaxElements {
				return stop(fmt.Sprintf("the drawing has more than %d elements", MaxElements), "export the panels only, without what surrounds them")
			}
			if len(open) >= MaxDepth {
				return stop(fmt.Sprintf("is nested more than %d deep", MaxDepth), "ungroup the drawing")
			}
			line, _ := dec.InputPos()
			n := newNode(t, line)
			if len(open) > 0 {
				p := open[len(open)-1]
				p.children = append(p.children, n)
			} else if root == nil {
				root = n
			}
			open = append(open, n)
			if id := n.attrs["id"]; id != "" && r.ids[id] == nil {
				r.ids[id] = n
			}
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 && open[len(open)-1].text.Len() < 4096 {
				open[len(open)-1].text.Write(t)
			}
		}
	}
	if root == nil || root.name != "svg" {
		r.list.Add(r.pos(1), "", "holds no svg element", "is it an SVG file? Export the drawing again")
		return nil
	}
	return root
}

func newNode(t xml.StartElement, line int) *node {
	n := &node{name: t.Name.Local, attrs: map[string]string{}, line: line}
	if s := t.Name.Space; s != "" && s != "http://www.w3.org/2000/svg" {
		n.name = "foreign:" + n.name
	}
	for _, a := range t.Attr {
		key := a.Name.Local
		switch a.Name.Space {
		case "":
		case "http://www.w3.org/1999/xlink", "xlink":
			if key != "href" || n.attrs["href"] != "" {
				continue
			}
		default: // a label in any namespace; the rest is none of ours
			if key != "label" {
				continue
			}
		}
		n.attrs[key] = a.Value
	}
	// What style says goes before the attribute of its name.
	for _, d := range strings.Split(n.attrs["style"], ";") {
		if k, v, ok := strings.Cut(d, ":"); ok {
			switch k = strings.TrimSpace(k); k {
			case "display", "visibility", "stroke", "fill":
				n.attrs[k] = strings.TrimSpace(v)
			}
		}
	}
	return n
}

// note counts something that is not read.
func (r *reader) note(n *node, kind, fact string) {
	u := r.unread[kind]
	if u == nil {
		u = &unread{first: n, fact: fact}
		r.unread[kind] = u
	}
	u.count++
}

// notes lists what was not read, once a kind.
func (r *reader) notes() {
	for _, k := range slices.Sorted(maps.Keys(r.unread)) {
		u := r.unread[k]
		r.list.Warn(r.pos(u.first.line), u.first.source().Entity, fmt.Sprintf("%s (%d in the file)", u.fact, u.count), "turn it into paths if it belongs to a panel")
	}
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
