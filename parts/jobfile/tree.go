package jobfile

import (
	"errors"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"panelyard/parts/diag"
)

// shape is what a value is.
type shape int

const (
	null shape = iota
	scalar
	mapping
	sequence
)

func (s shape) String() string {
	switch s {
	case scalar:
		return "a single value"
	case mapping:
		return "a group of keys"
	case sequence:
		return "a list"
	}
	return "nothing"
}

// value is a value of the file with its place.
type value struct {
	pos    diag.Pos
	shape  shape
	text   string // of a scalar, as written
	keys   []entry
	items  []*value
	quoted bool
}

// entry is a key and its value.
type entry struct {
	key string
	pos diag.Pos
	val *value
}

// parse returns the tree of a file, or nil after a finding.
func (r *reader) parse(src []byte) (top *value) {
	defer func() {
		if p := recover(); p != nil {
			// The parser has met a file it cannot take; for the user that is a file
			// that is no YAML.
			r.list.Add(diag.Pos{File: r.file}, "", "cannot be understood as YAML", "compare it with the demo's job file")
			top = nil
		}
	}()
	if depth := bracketDepth(src); depth > MaxDepth {
		r.list.Add(diag.Pos{File: r.file}, "", fmt.Sprintf("is nested more than %d deep", MaxDepth), "a job file needs five levels")
		return nil
	}
	f, err := parser.ParseBytes(src, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		r.syntax(err)
		return nil
	}
	var docs []*ast.DocumentNode
	for _, d := range f.Docs {
		if d.Body != nil {
			docs = append(docs, d)
		}
	}
	switch {
	case len(docs) == 0:
		r.list.Add(diag.Pos{File: r.file}, "", "holds no job", "start from the demo's job file: panelyard demo writes it")
		return nil
	case len(docs) > 1:
		r.list.Add(r.at(docs[1].Body.GetToken()), "", "a second document starts here", "keep one job in a file")
		return nil
	}
	before := len(r.list)
	top = r.convert(docs[0].Body, 1)
	if len(r.list) > before {
		return nil
	}
	return top
}

// bracketDepth returns how deep brackets nest, counting those in text too: it
// guards the parser, which recurses.
func bracketDepth(src []byte) int {
	depth, most := 0, 0
	for _, c := range src {
		switch c {
		case '[', '{':
			depth++
			most = max(most, depth)
		case ']', '}', '\n':
			if c != '\n' {
				depth = max(0, depth-1)
			}
		}
	}
	return most
}

// syntax adds the parser's error with its place.
func (r *reader) syntax(err error) {
	pos := diag.Pos{File: r.file}
	fact := err.Error()
	var ye yaml.Error
	if errors.As(err, &ye) {
		if t := ye.GetToken(); t != nil && t.Position != nil {
			pos.Line, pos.Col = t.Position.Line, t.Position.Column
		}
		fact = ye.GetMessage()
	}
	fact, _, _ = strings.Cut(fact, "\n")
	remedy := "check indentation, colons and quotes around here"
	if strings.Contains(fact, "tab") || strings.Contains(fact, "character '\t'") {
		remedy = "indent with spaces, not tabs"
	}
	r.list.Add(pos, "", "not valid YAML: "+strings.ToValidUTF8(fact, "?"), remedy)
}

func (r *reader) at(t *token.Token) diag.Pos {
	p := diag.Pos{File: r.file}
	if t != nil && t.Position != nil {
		p.Line, p.Col = t.Position.Line, t.Position.Column
	}
	return p
}

// convert makes a value of a node of the syntax tree.
func (r *reader) convert(n ast.Node, depth int) *value {
	v := &value{}
	if n == nil {
		return v
	}
	v.pos = r.at(n.GetToken())
	if depth > MaxDepth {
		r.list.Add(v.pos, "", fmt.Sprintf("is nested more than %d deep", MaxDepth), "a job file needs five levels")
		return v
	}
	switch n := n.(type) {
	case *ast.NullNode:
	case *ast.StringNode:
		v.shape, v.text = scalar, n.Value
		v.quoted = n.Token.Type == token.DoubleQuoteType || n.Token.Type == token.SingleQuoteType
	case *ast.LiteralNode:
		v.shape, v.text, v.quoted = scalar, strings.TrimSuffix(n.Value.Value, "\n"), true
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		// As written: 0.1 stays 0.1.
		v.shape, v.text = scalar, strings.TrimSpace(n.GetToken().Value)
	case *ast.MappingNode:
		v.shape = mapping
		r.entries(v, n.Values, depth)
	case *ast.MappingValueNode:
		v.shape = mapping
		r.entries(v, []*ast.MappingValueNode{n}, depth)
	case *ast.SequenceNode:
		v.shape = sequence
		if len(n.Values) > max(MaxEntries, MaxVertices) {
			r.list.Add(v.pos, "", fmt.Sprintf("a list of %d entries is too long", len(n.Values)), fmt.Sprintf("a list may have %d entries", MaxEntries))
			return v
		}
		for _, x := range n.Values {
			v.items = append(v.items, r.convert(x, depth+1))
		}
	case *ast.AnchorNode, *ast.AliasNode:
		r.list.Add(v.pos, "", "anchors and aliases (& and *) are not read", "write the value out, use same_as for a panel, or put quotes around text that starts with & or *")
	case *ast.TagNode:
		r.list.Add(v.pos, "", "tags (!) are not read", "put quotes around text that starts with !")
	default:
		r.list.Add(v.pos, "", fmt.Sprintf("%s is not read here", n.Type()), "write plain keys, lists and values")
	}
	return v
}

// entries adds the keys of a mapping.
func (r *reader) entries(v *value, list []*ast.MappingValueNode, depth int) {
	if len(list) > MaxEntries {
		r.list.Add(v.pos, "", fmt.Sprintf("%d keys are too many", len(list)), fmt.Sprintf("a group may have %d keys", MaxEntries))
		return
	}
	if len(list) > 0 {
		v.pos = r.at(list[0].Key.GetToken())
	}
	seen := map[string]diag.Pos{}
	for _, kv := range list {
		pos := r.at(kv.Key.GetToken())
		if _, ok := kv.Key.(*ast.MergeKeyNode); ok {
			r.list.Add(pos, "", "merge keys (<<) are not read", "write the keys out")
			continue
		}
		name := strings.TrimSpace(kv.Key.GetToken().Value)
		if before, ok := seen[name]; ok {
			r.list.Add(pos, "", fmt.Sprintf("the key %q is given twice, first in line %d", name, before.Line), "keep one of them")
			continue
		}
		seen[name] = pos
		v.keys = append(v.keys, entry{name, pos, r.convert(kv.Value, depth+1)})
		if e := &v.keys[len(v.keys)-1]; e.val.pos.Line == 0 {
			e.val.pos = pos
		}
	}
}
