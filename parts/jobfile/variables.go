package jobfile

import (
	"fmt"
	"regexp"
	"strings"

	"panelyard/parts"
	"panelyard/parts/formula"
	"panelyard/parts/length"
)

// thickness is the name that stands in a panel's lengths for the measured thickness of
// its board.
const thickness = "thickness"

// variables reads the variables of a job, before any length is read, and returns them
// as written with the places of those that were taken.
func (r *reader) variables(g *group) (v *value, places map[string]*value) {
	v = g.get("variables")
	if v == nil || v.shape == null {
		return nil, nil
	}
	g = r.group(v, "variables", "", "write name: and a length or a formula")
	if g == nil {
		return nil, nil
	}
	places = map[string]*value{}
	for _, e := range v.keys {
		g.used[e.key] = true
		what := fmt.Sprintf("variable %q", clip(e.key))
		if e.val.shape != scalar || strings.TrimSpace(e.val.text) == "" {
			r.list.Add(e.val.pos, what, fmt.Sprintf("expected a length or a formula, got %s", describe(e.val)), "write a number or a formula")
			continue
		}
		if e.key == thickness {
			r.list.Add(e.pos, what, "the name stands for the measured thickness of a panel's board", "choose another name")
			continue
		}
		places[e.key] = e.val
		for _, p := range r.defs.Add(e.key, strings.TrimSpace(e.val.text), r.out.Units) {
			r.list.Add(e.val.pos, what, fact(p), p.Remedy)
		}
	}
	circles := r.defs.Circles()
	for _, e := range v.keys {
		if around := circles[e.key]; around != nil {
			r.list.Add(e.val.pos, fmt.Sprintf("variable %q", clip(e.key)), "needs itself: "+strings.Join(around, " -> "), "give one of them a length")
		}
	}
	return v, places
}

// variablesAt works the variables out, for what is wrong with them and for check to
// show. Those that need a thickness differ from panel to panel: that of the first
// material stands for it.
func (r *reader) variablesAt(v *value, places map[string]*value) {
	if v == nil {
		return
	}
	s := r.scope("")
	if len(r.out.Materials) > 0 {
		s = r.scope(r.out.Materials[0].Name)
	}
	for _, e := range v.keys {
		f := r.defs.Formula(e.key)
		if f == nil || places[e.key] != e.val {
			continue
		}
		val, problems := f.Eval(s)
		for _, p := range problems {
			r.list.Add(e.val.pos, fmt.Sprintf("variable %q", clip(e.key)), fact(p), p.Remedy)
		}
		text := ""
		if l, ok := val.Length(r.out.Units); ok && len(problems) == 0 && !r.defs.Needs(f, thickness) {
			text = r.print(l)
			if !val.Plain() {
				text = r.size(l)
			}
		}
		r.out.Variables = append(r.out.Variables, parts.Variable{Name: e.key, Text: f.Text(), Value: text})
	}
}

// scope returns what names stand for in a panel of a material; no material gives no
// thickness.
func (r *reader) scope(material string) formula.Scope {
	if s := r.scopes[material]; s != nil {
		return s
	}
	given := map[string]formula.Value{}
	if m := r.out.Material(material); m != nil {
		given[thickness] = formula.OfLength(m.Measured)
	}
	if r.scopes == nil {
		r.scopes = map[string]formula.Scope{}
	}
	s := r.defs.At(given)
	r.scopes[material] = s
	return s
}

// A formula is told from a length by its signs, or by words when the job has names.
var (
	sign = regexp.MustCompile(`[+*^()?<>=%!]|[^\s\d] *[-/]|[-/] *[\p{L}(]|\d\s+-\s+\d`)
	// hyphened is a mixed number of inches, or a difference.
	hyphened = regexp.MustCompile(`^\s*\d+-\d+/\d+\s*$`)
	wordSign = regexp.MustCompile(`[\p{L}_][\p{L}\p{N}_]*`)
)

func (r *reader) isFormula(text string) bool {
	if sign.MatchString(text) {
		return true
	}
	for _, w := range wordSign.FindAllString(text, -1) {
		if _, err := length.ParseUnit(w); err != nil && (r.defs.Any() || w == thickness) {
			return true
		}
	}
	return false
}

// worked works a formula out where a length is wanted.
func (r *reader) worked(g *group, v *value, key string) (length.Length, bool) {
	text := strings.TrimSpace(v.text)
	add := func(p formula.Problem) { g.add(v, key+": "+fact(p), p.Remedy) }
	f, problems := formula.Parse(text, r.out.Units)
	if f == nil {
		for _, p := range problems {
			add(p)
		}
		return 0, false
	}
	l, problems := f.Length(r.scope(r.of))
	for _, p := range problems {
		if strings.Contains(p.Fact, fmt.Sprintf("unknown name %q", thickness)) {
			p.Remedy = "thickness is that of a panel's material: say material: at the panel, or write a number"
		}
		add(p)
	}
	if len(problems) > 0 {
		return 0, false
	}
	r.assumed(g, v, f)
	return l, true
}

// assumed warns of a formula that has the nominal thickness of the panel's board among
// its numbers when the board was measured to be another.
func (r *reader) assumed(g *group, v *value, f *formula.Formula) {
	m := r.out.Material(r.of)
	if m == nil || m.Measured == m.Nominal || !f.Uses(m.Nominal, &r.defs) {
		return
	}
	r.list.Warn(v.pos, g.what, fmt.Sprintf("the formula counts with %s, and %q is %s as measured", r.size(m.Nominal), clip(m.Name), r.size(m.Measured)), "write thickness where that is meant")
}

// working tells how a formula came to its length; empty when it is a plain length.
func (r *reader) working(key string, v *value, l length.Length) string {
	text := strings.TrimSpace(v.text)
	if _, err := length.Parse(text, r.out.Units); err == nil || v.shape != scalar {
		return ""
	}
	f, problems := formula.Parse(text, r.out.Units)
	if len(problems) > 0 {
		return ""
	}
	figures := f.Explain(r.scope(r.of), r.print)
	if figures == text || figures == r.print(l) {
		return fmt.Sprintf("%s = %s = %s", key, text, r.size(l))
	}
	return fmt.Sprintf("%s = %s = %s = %s", key, text, figures, r.size(l))
}

// fact writes a problem of a formula, with its place when it has one.
func fact(p formula.Problem) string {
	if p.Col > 1 {
		return fmt.Sprintf("%s (character %d)", p.Fact, p.Col)
	}
	return p.Fact
}
