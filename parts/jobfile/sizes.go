package jobfile

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Owner is what a [Size] belongs to.
type Owner int

// The owners of sizes.
const (
	OfVariable Owner = iota
	OfCarcass
	OfPanel
)

// String returns the word of the job file for the owner.
func (o Owner) String() string { return [...]string{"variable", "carcass", "panel"}[o] }

// Size is a length that stands in plain figures, not as a formula: of a variable, of the
// outside of a carcass, of a rectangular panel.
type Size struct {
	Owner Owner
	Name  string // of the owner, as in the file
	Key   string // width, height, depth or length; empty for a variable
	Value length.Length
	Pos   diag.Pos
}

// String names a size: panel "shelf", width.
func (s Size) String() string {
	if s.Key == "" {
		return fmt.Sprintf("%v %q", s.Owner, clip(s.Name))
	}
	return fmt.Sprintf("%v %q, %s", s.Owner, clip(s.Name), s.Key)
}

// Model is a variant of a job file that is read again and again with one size changed.
// What follows from the size moves along: formulas, pairs, panels that are the same as
// another, joints, carcasses. Nothing is written, and every file is read once, so that
// all readings are of the files as they were then.
type Model struct {
	path, variant string
	input         opener
	sizes         []Size
}

// NewModel returns the model of a variant of a job file; no name is the job as written.
func NewModel(path, variant string) *Model {
	return &Model{path: path, variant: variant, input: once(diag.ReadFile)}
}

// Job reads the job with no size changed. It is nil when the list holds a mistake.
func (m *Model) Job() (*parts.Job, diag.List) { return m.read(nil) }

// Sizes returns the sizes in plain figures, in the order variables, carcasses, panels,
// once [Model.Job] has read the job.
func (m *Model) Sizes() []Size { return m.sizes }

// Less reads the job with a size made smaller by a length. The job is nil when it then
// holds a mistake: an opening that leaves its panel, say, or a variable that is no length
// where a formula has it. Cost: that of reading the job.
func (m *Model) Less(s Size, by length.Length) (*parts.Job, diag.List) {
	return m.read(&trial{s, by})
}

func (m *Model) read(t *trial) (*parts.Job, diag.List) {
	src, err := m.input(m.path, MaxBytes)
	if err != nil {
		return nil, diag.List{{Pos: diag.Pos{File: m.path}, Fact: err.Error(), Remedy: remedyFor(err), Err: err}}
	}
	r := newReader(m.path, m.input)
	r.variant, r.trial = m.variant, t
	job, list := r.read(src)
	if t == nil {
		slices.SortStableFunc(r.sizes, func(a, b Size) int { return int(a.Owner) - int(b.Owner) })
		m.sizes = r.sizes
	}
	return job, list
}

// trial is a size that is made smaller.
type trial struct {
	size Size
	by   length.Length
}

// tried notes the sizes of a job and makes that of the trial smaller.
func (r *reader) tried(job *value) *value {
	if v := job.find("variables"); v != nil && v.shape == mapping {
		for _, e := range v.keys {
			if text, ok := r.smaller(OfVariable, e.key, "", e.val); ok {
				w := &value{pos: v.pos, shape: mapping, keys: slices.Clone(v.keys), partial: v.partial}
				w.set(e.key, text)
				job = with(job, "variables", w)
			}
		}
	}
	if v := job.find("carcasses"); v != nil && v.shape == sequence {
		w := *v
		w.items = r.triedEntries(OfCarcass, v.items, "width", "height", "depth")
		job = with(job, "carcasses", &w)
	}
	return job
}

// triedEntries is tried for the entries of a list.
func (r *reader) triedEntries(owner Owner, list []*value, keys ...string) []*value {
	out := slices.Clone(list)
	seen := map[string]bool{}
	for i, v := range list {
		name := v.word("name")
		if name == "" || seen[name] || v.workings != nil { // worked out from a carcass, which is in the list itself
			continue
		}
		seen[name] = true
		for _, key := range keys {
			at, within := v.find(key), ""
			if at == nil && owner == OfPanel {
				// outline: {rectangle: {length, width}} is the other way to write it.
				if o := v.find("outline"); o != nil && o.find("rectangle") != nil {
					at, within = o.find("rectangle").find(key), "outline"
				}
			}
			if at == nil {
				continue
			}
			text, ok := r.smaller(owner, name, key, at)
			switch {
			case !ok:
			case within == "":
				out[i] = with(v, key, text)
			default:
				o := v.find(within)
				out[i] = with(v, within, with(o, "rectangle", with(o.find("rectangle"), key, text)))
			}
		}
	}
	return out
}

// smaller notes a size in plain figures. It returns the formula that stands in its place
// and true when it is the one that is made smaller.
func (r *reader) smaller(owner Owner, name, key string, v *value) (*value, bool) {
	if v.shape != scalar {
		return nil, false
	}
	text := strings.TrimSpace(v.text)
	l, err := length.Parse(text, r.out.Units)
	if err != nil || l <= 0 {
		return nil, false
	}
	s := Size{owner, name, key, l, v.pos}
	r.sizes = append(r.sizes, s)
	if r.trial == nil || r.trial.size != s {
		return nil, false
	}
	// The unit is written: where the variable is a count or an angle, the formulas that
	// have it then say so.
	return &value{pos: v.pos, shape: scalar, text: fmt.Sprintf("(%s) - %s mm", text, r.trial.by.Decimal())}, true
}

// with returns a group with another value for a key.
func with(v *value, key string, val *value) *value {
	out := *v
	out.keys = slices.Clone(v.keys)
	out.set(key, val)
	return &out
}
