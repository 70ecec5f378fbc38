package jobfile

import (
	"errors"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"panelyard/parts/diag"
)

// shape is what a value is.
type shape int

const (
	null    shape = iota
	refused       // a finding says why; nothing else is said of it
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
	pos   diag.Pos
	shape shape
	text  string // of a scalar, as written
	keys  []entry
	items []*value
	// partial says that some keys of a mapping have been refused: that others are
	// missing is not to be said.
	partial bool
	// workings tell how a panel that was worked out came by its size.
	workings []string
}

// entry is a key and its value.
type entry struct {
	key string
	pos diag.Pos
	val *value
}

const newJobRemedy = "start from the demo's job file: panelyard demo writes it"

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
	tokens := lexer.Tokenize(string(src))
	if !r.guard(tokens) {
		return nil
	}
	f, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		r.syntax(err)
		return nil
	}
	var docs []*ast.DocumentNode
	for _, d := range f.Docs {
		if _, ok := d.Body.(*ast.DirectiveNode); d.Body != nil && !ok {
			docs = append(docs, d)
		}
	}
	switch {
	case len(docs) == 0:
		r.list.Add(diag.Pos{File: r.file}, "", "holds no job", newJobRemedy)
		return nil
	case len(docs) > 1:
		r.list.Add(r.at(docs[1].Body.GetToken()), "", "a second document starts here", "keep one job in a file")
		return nil
	}
	return r.convert(docs[0].Body)
}

// syntax adds the parser's error with its place. The text of the error as a whole
// is not asked for: it quotes the file, at a cost that grows with its square.
func (r *reader) syntax(err error) {
	pos := diag.Pos{File: r.file}
	fact := "cannot be understood"
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
		fact, remedy = "a tab stands where the indentation is", "indent with spaces, not tabs"
	}
	r.list.Add(pos, "", "not valid YAML: "+diag.Brief(errors.New(strings.ToValidUTF8(fact, "?"))), remedy)
}

func (r *reader) at(t *token.Token) diag.Pos {
	p := diag.Pos{File: r.file}
	if t != nil && t.Position != nil {
		p.Line, p.Col = t.Position.Line, t.Position.Column
	}
	return p
}

// convert makes a value of a node of the syntax tree, whose depth has been
// guarded.
func (r *reader) convert(n ast.Node) *value {
	v := &value{}
	if n == nil {
		return v
	}
	v.pos = r.at(n.GetToken())
	refuse := func(fact, remedy string) {
		v.shape = refused
		r.list.Add(v.pos, "", fact, remedy)
	}
	switch n := n.(type) {
	case *ast.NullNode:
	case *ast.StringNode:
		v.shape, v.text = scalar, n.Value
	case *ast.LiteralNode:
		v.shape, v.text = scalar, strings.TrimSuffix(n.Value.Value, "\n")
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		// As written: 0.1 stays 0.1.
		v.shape, v.text = scalar, strings.TrimSpace(n.GetToken().Value)
	case *ast.MappingNode:
		v.shape = mapping
		r.entries(v, n.Values)
	case *ast.MappingValueNode:
		v.shape = mapping
		r.entries(v, []*ast.MappingValueNode{n})
	case *ast.SequenceNode:
		v.shape = sequence
		for _, x := range n.Values {
			v.items = append(v.items, r.convert(x))
		}
	case *ast.AnchorNode, *ast.AliasNode:
		refuse("anchors and aliases (& and *) are not read", "write the value out, use same_as for a panel, or put quotes around text that starts with & or *")
	case *ast.TagNode:
		refuse("tags (!) are not read", "put quotes around text that starts with !")
	default:
		refuse(fmt.Sprintf("%s is not read here", n.Type()), "write plain keys, lists and values")
	}
	return v
}

// entries adds the keys of a mapping.
func (r *reader) entries(v *value, list []*ast.MappingValueNode) {
	if len(list) > 0 {
		v.pos = r.at(list[0].Key.GetToken())
	}
	seen := map[string]diag.Pos{}
	for _, kv := range list {
		pos := r.at(kv.Key.GetToken())
		var fact, remedy string
		switch kv.Key.(type) {
		case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.NullNode:
		case *ast.MergeKeyNode:
			fact, remedy = "merge keys (<<) are not read", "write the keys out"
		default:
			fact, remedy = "this kind of key is not read", "write the key plain: a word and a colon"
		}
		if fact != "" {
			r.list.Add(pos, "", fact, remedy)
			v.partial = true
			continue
		}
		name := strings.TrimSpace(kv.Key.GetToken().Value)
		if before, ok := seen[name]; ok {
			r.list.Add(pos, "", fmt.Sprintf("the key %q is given twice, first in line %d", clip(name), before.Line), "keep one of them")
			continue
		}
		seen[name] = pos
		v.keys = append(v.keys, entry{name, pos, r.convert(kv.Value)})
		if e := &v.keys[len(v.keys)-1]; e.val.pos.Line == 0 || e.val.shape == null {
			e.val.pos = pos
		}
	}
}
