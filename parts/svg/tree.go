package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"panelyard/parts/diag"
	"panelyard/parts/drawing/curve"
)

// Namespaces (W3C).
const (
	svgSpace   = "http://www.w3.org/2000/svg"
	xlinkSpace = "http://www.w3.org/1999/xlink"
)

// node is an element, or characters of a text, which have no kind.
type node struct {
	kind  string
	line  int
	attrs []xml.Attr
	text  string
	nodes []*node

	// What is found out when it is drawn first; it may be drawn many times.
	own    *own
	target *node // of a use
	shape  *shape
	words  *string // of a text
}

// shape is the geometry of an element.
type shape struct {
	runs []run
	err  error
}

// own is what an element says of itself.
type own struct {
	view         curve.View // its transform
	label        label
	hidden       bool   // display: none
	visibility   string // empty when it does not say
	fill, stroke string
	err          error
}

// attr returns the value of an attribute that is in no namespace.
func (n *node) attr(name string) (string, bool) {
	for i := range n.attrs {
		if a := &n.attrs[i]; a.Name.Space == "" && a.Name.Local == name {
			return a.Value, true
		}
	}
	return "", false
}

// tree reads the elements of a file; nil when it cannot be read on, which is then in
// the list. Elements in other namespaces than that of SVG are left out with what is
// in them.
func (r *reader) tree(src []byte) *node {
	dec := xml.NewDecoder(bytes.NewReader(src))
	dec.CharsetReader = r.charset
	b := &builder{r: r, dec: dec}
	for {
		b.line, _ = dec.InputPos()
		tok, err := dec.Token()
		if err == nil {
			err = b.add(tok)
		}
		switch {
		case err == nil:
			continue
		case err == io.EOF && b.root == nil:
			r.list.Add(r.pos(b.line), "", "has no svg element", "export the drawing as SVG")
			return nil
		case err == io.EOF:
			return b.root
		case !errors.Is(err, errStop):
			r.list = append(r.list, r.broken(b.line, err))
		}
		return nil
	}
}

// errStop is the error of a file that is not read on, for a reason that is in the
// list.
var errStop = errors.New("not read on")

// broken returns the finding of a token that cannot be read; the next one may be
// anything.
func (r *reader) broken(line int, err error) diag.Finding {
	f := diag.Finding{Pos: r.pos(line), Fact: oneLine(err), Remedy: "is it an SVG file, and copied whole? Export the drawing as SVG again"}
	if se := new(xml.SyntaxError); errors.As(err, &se) {
		f.Pos.Line, f.Fact = se.Line, "is not well-formed XML: "+clip(se.Msg)
		if strings.Contains(se.Msg, "UTF-8") {
			f.Remedy = "save it as UTF-8, or say in the XML declaration how its characters are coded"
		}
	}
	if u := new(faulty); errors.As(err, &u) {
		f.Fact, f.Remedy = u.fact, u.remedy
	}
	return f
}

// builder makes the tree of the tokens.
type builder struct {
	r       *reader
	dec     *xml.Decoder
	line    int // where the token begins
	root    *node
	open    []*node // those not ended yet
	skipped int     // elements not ended yet that are left out
	count   int
	bare    bool // the elements have no namespace
}

// stop reports why the file is not read on.
func (b *builder) stop(fact, remedy string) error {
	b.r.list.Add(b.r.pos(b.line), "", fact, remedy)
	return errStop
}

// add adds a token.
func (b *builder) add(tok xml.Token) error {
	switch t := tok.(type) {
	case xml.StartElement:
		return b.start(t)
	case xml.EndElement:
		if b.skipped > 0 {
			b.skipped--
		} else {
			b.open = b.open[:len(b.open)-1]
		}
	case xml.CharData:
		b.characters(t)
	case xml.Directive:
		return b.doctype(string(t))
	case xml.ProcInst:
		if t.Target == "xml-stylesheet" {
			b.r.notRead(styles, b.line)
		}
	}
	return nil
}

// start adds an element.
func (b *builder) start(t xml.StartElement) error {
	switch {
	case len(b.open)+b.skipped >= MaxDepth:
		return b.stop(fmt.Sprintf("elements lie more than %d deep in each other", MaxDepth), simplerRemedy)
	case b.root == nil:
		if t.Name.Local != "svg" || t.Name.Space != svgSpace && t.Name.Space != "" {
			return b.stop(fmt.Sprintf("begins with the element %s of the namespace %s, not with svg", quoted(t.Name.Local), quoted(t.Name.Space)), "export the drawing as SVG, in a file of its own")
		}
		if b.bare = t.Name.Space == ""; b.bare {
			b.r.list.Warn(b.r.pos(b.line), "", "the svg element has no namespace; it is read as SVG", `write xmlns="`+svgSpace+`" into it`)
		}
	case len(b.open) == 0:
		return b.stop("there is more after the end of the svg element", "put each drawing into a file of its own")
	case b.skipped > 0 || t.Name.Space != svgSpace && !(b.bare && t.Name.Space == ""):
		b.skipped++
		return nil
	}
	if b.count++; b.count > MaxElements {
		return b.stop(fmt.Sprintf("the drawing has more than %d elements", MaxElements), simplerRemedy)
	}
	if len(t.Attr) > MaxAttributes {
		return b.stop(fmt.Sprintf("the element %s has %d attributes, %d at most", quoted(t.Name.Local), len(t.Attr), MaxAttributes), "save the drawing again")
	}
	seen := make(map[xml.Name]bool, len(t.Attr))
	for _, a := range t.Attr {
		if seen[a.Name] {
			return b.stop("is not well-formed XML: the attribute "+quoted(a.Name.Local)+" is there twice", "save the drawing again")
		}
		seen[a.Name] = true
	}
	n := &node{kind: t.Name.Local, line: b.line, attrs: t.Attr}
	if b.root == nil {
		b.root = n
	} else {
		up := b.open[len(b.open)-1]
		up.nodes = append(up.nodes, n)
	}
	b.open = append(b.open, n)
	if id, ok := n.attr("id"); ok && id != "" {
		if b.r.ids[id] == nil { // the first one holds
			b.r.ids[id] = n
		} else {
			b.r.list.Warn(b.r.pos(b.line), n.kind, fmt.Sprintf("the id %s is that of line %d, too", quoted(id), b.r.ids[id].line), "give each element its own id")
		}
	}
	return nil
}

// characters keeps characters of texts and titles.
func (b *builder) characters(t xml.CharData) {
	if len(b.open) == 0 || b.skipped > 0 {
		return
	}
	up := b.open[len(b.open)-1]
	switch up.kind {
	case "text", "tspan", "title", "a":
		up.nodes = append(up.nodes, &node{text: string(t), line: b.line})
	}
}

// doctype refuses declarations of entities: what they stand for may be another
// file, or grow beyond all bounds. None is ever looked up.
func (b *builder) doctype(s string) error {
	if strings.Contains(strings.ToUpper(s), "<!ENTITY") {
		return b.stop("its DOCTYPE declares entities, which are not read", "export it as plain SVG, or take out the DOCTYPE and write what its entities stand for")
	}
	if strings.Contains(s, "[") {
		b.r.list.Warn(b.r.pos(b.line), "", "declarations in the DOCTYPE are not read", "take out the DOCTYPE")
	}
	return nil
}

// clip cuts a text of the file short and makes it one line.
func clip(s string) string {
	const most = 60
	if len(s) > 4*most {
		s = s[:4*most]
	}
	s = strings.Map(func(c rune) rune {
		if diag.Unprintable(c) {
			return utf8.RuneError
		}
		return c
	}, s)
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// quoted writes a name of the file.
func quoted(name string) string { return `"` + clip(name) + `"` }
