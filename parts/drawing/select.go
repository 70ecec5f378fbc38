package drawing

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/parts/diag"
)

// Role is what the pieces of a layer are taken for.
type Role int

// The roles of a layer.
const (
	Outline Role = iota // outlines of panels, and openings where they lie in one
	Opening             // openings only: one that lies in no panel is a mistake
	Ignore
)

// String returns the word for the role.
func (r Role) String() string {
	switch r {
	case Outline:
		return "outline"
	case Opening:
		return "opening"
	}
	return "ignore"
}

// Rule gives the layers of a name a role. A * in the pattern stands for any
// characters, or none; capitals do not matter. Of several rules that match a layer
// the first holds.
type Rule struct {
	Pattern string
	Role    Role
}

// matches reports whether the pattern of r fits a name.
func (r Rule) matches(layer string) bool {
	pattern, name := strings.ToLower(r.Pattern), strings.ToLower(layer)
	parts := strings.Split(pattern, "*")
	if len(parts) == 1 {
		return pattern == name
	}
	name, ok := strings.CutPrefix(name, parts[0])
	last := parts[len(parts)-1]
	if !ok || !strings.HasSuffix(name, last) {
		return false
	}
	name = strings.TrimSuffix(name, last)
	for _, p := range parts[1 : len(parts)-1] {
		_, after, found := strings.Cut(name, p)
		if !found {
			return false
		}
		name = after
	}
	return true
}

// Use is what became of a layer.
type Use struct {
	Layer
	Role   Role
	Named  bool // by a rule
	Pieces int
	Texts  int
}

// Uses tells what the rules make of the layers of d, in its order. A layer that no
// rule matches holds outlines, unless a rule says which layers do: then it is
// ignored. So is a hidden layer, unless a rule has its full name.
func Uses(d *Drawing, rules []Rule) []Use {
	var uses []Use
	index := map[string]int{}
	add := func(l Layer) *Use {
		key := strings.ToLower(l.Name)
		if i, ok := index[key]; ok {
			return &uses[i]
		}
		index[key] = len(uses)
		uses = append(uses, Use{Layer: l})
		return &uses[len(uses)-1]
	}
	for _, l := range d.Layers {
		add(l)
	}
	for _, p := range d.Pieces {
		add(Layer{Name: p.Layer}).Pieces++
	}
	for _, t := range d.Texts {
		add(Layer{Name: t.Layer}).Texts++
	}
	said := slices.ContainsFunc(rules, func(r Rule) bool { return r.Role == Outline })
	for i := range uses {
		u := &uses[i]
		at := slices.IndexFunc(rules, func(r Rule) bool {
			return r.matches(u.Name) && (!u.Hidden || !strings.Contains(r.Pattern, "*"))
		})
		switch {
		case at >= 0:
			u.Role, u.Named = rules[at].Role, true
		case said || u.Hidden:
			u.Role = Ignore
		}
	}
	return uses
}

// selected returns the pieces of each role but [Ignore], and the texts that may be
// names: all but those of hidden layers and of layers that a rule ignores.
func (s *study) selected() (pieces [Ignore][]run, texts []int) {
	uses := Uses(s.d, s.opt.Layers)
	roles := map[string]*Use{}
	total := 0
	for i := range uses {
		u := &uses[i]
		roles[strings.ToLower(u.Name)] = u
		switch {
		case u.Role != Ignore:
			total += u.Pieces
		case u.Pieces == 0 || u.Named:
		case u.Hidden:
			s.warn(Source{}, fmt.Sprintf("layer %s is switched off or not plotted: its %s ignored", quote(u.Name), are(u.Pieces)),
				"show the layer in the drawing, or name it among the layers to be read")
		default:
			s.warn(Source{}, fmt.Sprintf("layer %s is not named among the layers to be read: its %s ignored", quote(u.Name), are(u.Pieces)),
				"name the layer, as one to be ignored if that is meant")
		}
	}
	for _, r := range s.opt.Layers {
		if !slices.ContainsFunc(uses, func(u Use) bool { return r.matches(u.Name) }) {
			s.warn(Source{}, fmt.Sprintf("no layer of the drawing is called %s", quote(r.Pattern)), "the layers are "+layerNames(uses))
		}
	}
	if total == 0 {
		s.list = append(s.list, diag.Finding{
			Pos: s.pos(Source{}), Fact: "no line, arc or curve lies on a layer that is read",
			Remedy: "say which layers hold outlines; the layers are " + layerNames(uses),
		})
	}
	for i, p := range s.d.Pieces {
		if u := roles[strings.ToLower(p.Layer)]; u.Role != Ignore {
			pieces[u.Role] = append(pieces[u.Role], run{piece: i, path: p.Path, closed: p.Closed})
		}
	}
	for i, t := range s.d.Texts {
		if u := roles[strings.ToLower(t.Layer)]; !u.Hidden && !(u.Named && u.Role == Ignore) {
			texts = append(texts, i)
		}
	}
	return pieces, texts
}

// are counts pieces, with the verb.
func are(n int) string {
	if n == 1 {
		return "one piece is"
	}
	return fmt.Sprintf("%d pieces are", n)
}

// layerNames lists the first layers that hold pieces.
func layerNames(uses []Use) string {
	const most = 12
	var names []string
	for _, u := range uses {
		if u.Pieces > 0 {
			names = append(names, quote(u.Name))
		}
	}
	switch n := len(names); {
	case n == 0:
		return "all empty"
	case n > most:
		return strings.Join(names[:most], ", ") + fmt.Sprintf(" and %d more", n-most)
	}
	return strings.Join(names, ", ")
}
