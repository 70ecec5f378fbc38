package compare

import (
	"fmt"
	"reflect"
	"strings"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/diag"
)

// MaxChanges is how many changes of a variant are written out; more are counted.
const MaxChanges = 20

// Change is what a variant has different from its job as written.
type Change struct {
	Name string
	What []string
}

// changes returns what differs, once for both ways to cut, and sentences about jobs
// that differ in name only.
func changes(entries []Entry, rows []Row) (list []Change, same []string) {
	type seen struct {
		job  *parts.Job
		name string
	}
	var all []seen
	done := map[[2]string]bool{}
	for i := range entries {
		e := &entries[i]
		at := [2]string{e.File, e.Variant}
		if e.Read == nil || done[at] {
			continue
		}
		done[at] = true
		for _, s := range all {
			if alike(s.job, e.Read) {
				same = append(same, fmt.Sprintf("%q and %q differ in name only: panels, boards, prices and tools are the same.", s.name, rows[i].Name))
				break
			}
		}
		all = append(all, seen{e.Read, rows[i].Name})
		if e.Variant != "" && e.Base != nil {
			list = append(list, Change{rows[i].Name, clipped(differences(e.Base, e.Read))})
		}
	}
	return list, same
}

// differences says in words what b has different from a.
func differences(a, b *parts.Job) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for i := range b.Variables {
		v := &b.Variables[i]
		for k := range a.Variables {
			if w := &a.Variables[k]; w.Name == v.Name && *w != *v {
				say("%s: %s instead of %s", v.Name, worth(v), worth(w))
			}
		}
	}
	if n, m := copies(a), copies(b); n != m {
		say("%d panels instead of %d", m, n)
	}
	each(a.Panels, b.Panels, func(p *parts.Panel) string { return p.Name }, func(name string, p, q *parts.Panel) {
		switch {
		case p == nil:
			say("panel %s: %d more, %s", name, q.Quantity, size(q, b))
		case q == nil:
			say("without panel %s", name)
		case p.Quantity != q.Quantity:
			say("panel %s: %d instead of %d", name, q.Quantity, p.Quantity)
		}
		if p == nil || q == nil {
			return
		}
		x, y := *p, *q
		x.Quantity, x.Workings, x.Note = y.Quantity, y.Workings, y.Note // said, or no matter
		switch {
		case p.Size() != q.Size():
			say("panel %s: %s instead of %s", name, size(q, b), size(p, a))
		case p.Material != q.Material:
			say("panel %s: of %s instead of %s", name, q.Material, p.Material)
		case !alike(&x, &y):
			say("panel %s: another shape, grain, edging or opening", name)
		}
	})
	each(a.Materials, b.Materials, func(m *parts.Material) string { return m.Name }, other[parts.Material]("material", say))
	each(a.Stock, b.Stock, func(s *parts.Stock) string { return s.Name }, other[parts.Stock]("sheet", say))
	each(a.Bands, b.Bands, func(x *parts.Band) string { return x.Name }, other[parts.Band]("edge band", say))
	for _, x := range []struct {
		what string
		a, b any
	}{
		{"saw", &a.Saw, &b.Saw},
		{"router", &a.Router, &b.Router},
		{"offcuts worth keeping", &a.Keep, &b.Keep},
		{"currency", &a.Currency, &b.Currency},
		{"tolerance", &a.Tolerance, &b.Tolerance},
	} {
		if !alike(x.a, x.b) {
			say("%s: other settings", x.what)
		}
	}
	return out
}

// other returns a function that says how an entry of a list differs.
func other[T any](what string, say func(string, ...any)) func(string, *T, *T) {
	return func(name string, p, q *T) {
		switch {
		case p == nil:
			say("%s %s added", what, name)
		case q == nil:
			say("without %s %s", what, name)
		case !alike(p, q):
			say("%s %s: other data", what, name)
		}
	}
}

// each calls f for the entries of two lists with a name, in the order of the first and
// then of what only the second has. Names are unique in a list.
func each[T any](a, b []T, name func(*T) string, f func(string, *T, *T)) {
	in := map[string]*T{}
	for i := range b {
		in[name(&b[i])] = &b[i]
	}
	had := map[string]bool{}
	for i := range a {
		n := name(&a[i])
		had[n] = true
		f(n, &a[i], in[n])
	}
	for i := range b {
		if n := name(&b[i]); !had[n] {
			f(n, nil, &b[i])
		}
	}
}

func copies(j *parts.Job) int {
	n := 0
	for i := range j.Panels {
		n += j.Panels[i].Quantity
	}
	return n
}

// worth returns the value of a variable, or its formula when that differs from panel
// to panel.
func worth(v *parts.Variable) string {
	if v.Value == "" {
		return v.Text
	}
	return v.Value
}

// size writes length and width of a panel in the unit of its job.
func size(p *parts.Panel, j *parts.Job) string {
	w := export.LengthsOf(j)
	return w.Size(p.Size()) + " " + w.Unit()
}

func clipped(list []string) []string {
	if len(list) <= MaxChanges {
		return list
	}
	return append(list[:MaxChanges:MaxChanges], fmt.Sprintf("and %d more", len(list)-MaxChanges))
}

// asides are what of a job does not bear on its plan.
const asides = " Name File Note Figures Variant Variants Variables Readings Workings "

// alike reports whether two values are the same but for where they are written, and for
// a job or a panel in what does not bear on the plan.
func alike(a, b any) bool { return equal(reflect.ValueOf(a), reflect.ValueOf(b)) }

func equal(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() && b.IsNil()
		}
		return equal(a.Elem(), b.Elem())
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !equal(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Struct:
		if a.Type() == reflect.TypeFor[diag.Pos]() {
			return true
		}
		job := a.Type() == reflect.TypeFor[parts.Job]()
		panel := a.Type() == reflect.TypeFor[parts.Panel]()
		for i := range a.NumField() {
			name := a.Type().Field(i).Name
			if (job || panel && name != "Name") && strings.Contains(asides, " "+name+" ") {
				continue
			}
			if !equal(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Map:
		return reflect.DeepEqual(a.Interface(), b.Interface())
	}
	return a.Equal(b)
}
