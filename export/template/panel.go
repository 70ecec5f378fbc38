package template

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/outline"
)

// Template is a panel as it is drawn: in one of its sizes, seen from one of its faces.
type Template struct {
	Job      *parts.Job
	Panel    *parts.Panel
	Finished bool // with its edge bands; as it is cut if not
	Mirrored bool // seen from the back
	// Outline and Openings are what is drawn, the box of Outline at the origin, and
	// Edging the name of the band on each segment of Outline, "" for none.
	Outline  outline.Outline
	Openings []outline.Outline
	Edging   []string

	write export.Lengths
	kerfs []kerfLine // of a panel that is bent, and what is said of them
	bend  string
}

// New returns the template of a panel of a job, by its name in the plan. The name of a
// pair stands for its left panel. The list holds what is wrong: a panel that the job
// does not have, or that cannot be cut.
func New(job *parts.Job, name string, finished, mirrored bool) (*Template, diag.List) {
	p, list := find(job, name)
	if p == nil {
		return nil, list
	}
	it, tool, list := item(job, p)
	if it == nil {
		return nil, list
	}
	t := &Template{
		Job: job, Panel: p, Finished: finished, Mirrored: mirrored, write: export.LengthsOf(job),
		Outline: it.CutOutline, Openings: it.CutOpenings, Edging: p.Edging,
	}
	if finished {
		home := p.Outline.Box().Min.Neg()
		t.Outline, t.Openings = p.Outline.Translate(home), nil
		for _, o := range p.Openings {
			t.Openings = append(t.Openings, o.Outline.Translate(home))
		}
	}
	t.setKerfs(it, tool)
	if mirrored {
		t.mirror()
	}
	return t, nil
}

// mirror turns the drawing over.
func (t *Template) mirror() {
	across := geom.Pt(t.Outline.Box().Dx(), 0)
	t.Outline = t.Outline.Flipped().Translate(across)
	flipped := make([]outline.Outline, len(t.Openings))
	for i, o := range t.Openings {
		flipped[i] = o.Flipped().Translate(across)
	}
	t.Openings = flipped
	for i, k := range t.kerfs {
		t.kerfs[i] = kerfLine{geom.Pt(across.X-k.from.X, k.from.Y), geom.Pt(across.X-k.to.X, k.to.Y)}
	}
	// A flipped outline runs through its segments from the last to the first.
	t.Edging = slices.Clone(t.Edging)
	slices.Reverse(t.Edging)
}

// find returns the panel of a name, or of a pair its left panel.
func find(job *parts.Job, name string) (*parts.Panel, diag.List) {
	var names, pairs []string
	var ofPair *parts.Panel
	for i := range job.Panels {
		p := &job.Panels[i]
		if p.Name == name {
			return p, nil
		}
		if p.PairOf != "" && p.Hand == parts.Left {
			if p.PairOf == name {
				ofPair = p
			}
			pairs = append(pairs, p.PairOf)
		}
		names = append(names, p.Name)
	}
	if ofPair != nil {
		return ofPair, nil
	}
	const most = 40
	remedy := "the job has no panels"
	if len(names) > 0 {
		remedy = "its panels are: " + quoted(names[:min(len(names), most)])
		if len(names) > most {
			remedy += fmt.Sprintf(" and %d more, see panelyard check", len(names)-most)
		}
	}
	if near := diag.Nearest(name, slices.Concat(names, pairs)); near != "" {
		remedy = fmt.Sprintf("did you mean %q? %s", near, remedy)
	}
	var list diag.List
	list.Add(diag.Pos{File: job.File}, fmt.Sprintf("panel %.80q", name), "the job has no panel of this name", remedy)
	return nil, list
}

func quoted(names []string) string {
	list := make([]string, len(names))
	for i, n := range names {
		list[i] = fmt.Sprintf("%.80q", n)
	}
	return strings.Join(list, ", ")
}

// item returns a panel at its cut size, and in words the tool that it was worked out
// for. The template does not ask how it is cut: what the saw refuses, the router may
// not. Only the kerfs of a bend depend on it.
func item(job *parts.Job, p *parts.Panel) (*kerf.Item, string, diag.List) {
	alone := *job
	alone.Panels = []parts.Panel{*p}
	w := export.LengthsOf(job)
	demand, list := kerf.Build(&alone, kerf.Saw)
	tool := fmt.Sprintf("a saw of %s %s", w.Exact(job.Saw.Kerf), w.Unit())
	if demand == nil {
		if demand, _ = kerf.Build(&alone, kerf.Router); demand == nil {
			return nil, "", list
		}
		tool = fmt.Sprintf("a bit of %s %s", w.Exact(job.Router.Bit), w.Unit())
	}
	return &demand.Items[0], tool, nil
}

// face says from which side the panel is seen.
func (t *Template) face() string {
	if t.Mirrored {
		return "seen from the back (mirrored)"
	}
	return "seen from the good face"
}

// sizeWord says which size is drawn.
func (t *Template) sizeWord() string {
	if t.Finished {
		return "finished size"
	}
	return "cut size"
}

// banded reports whether an edge has a band.
func (t *Template) banded() bool {
	return slices.ContainsFunc(t.Edging, func(b string) bool { return b != "" })
}
