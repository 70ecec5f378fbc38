package jobfile

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"panelyard/parts"
	"panelyard/parts/diag"
)

// MaxVariants is how many variants a job may have.
const MaxVariants = 100

// overridable are the lists of a job in which a variant changes entries, and the key
// that tells them apart.
var overridable = map[string]string{
	"materials": "name", "stock": "name", "edging": "name", "panels": "name", "components": "name", "carcasses": "name", "drawings": "file", "lists": "file",
}

// variants reads the variants of a job, and returns the job as the one that is asked
// for has it.
func (r *reader) variants(g *group) *value {
	list := g.list("variants", MaxVariants)
	out := g.v
	names := map[string]int{}
	found := r.variant == ""
	for _, v := range list {
		e := r.group(v, "", called("variant", v), "write name: and what is different")
		if e == nil {
			continue
		}
		name, at := e.name("name")
		if at == nil || name == "" {
			continue
		}
		if line, ok := names[name]; ok {
			e.add(at, fmt.Sprintf("the name is taken, first in line %d", line), "give each variant a name of its own")
			continue
		}
		names[name] = at.pos.Line
		r.out.Variants = append(r.out.Variants, name)
		changed := r.varied(g.v, e)
		if name == r.variant {
			out, found = changed, true
		}
	}
	if !found {
		remedy := "the job has no variants"
		if len(r.out.Variants) > 0 {
			remedy = "its variants: " + strings.Join(clipped(r.out.Variants), ", ")
		}
		r.list.Add(diag.Pos{File: r.file}, "", fmt.Sprintf("there is no variant %q", clip(r.variant)), remedy)
	}
	return out
}

func clipped(list []string) []string {
	out := make([]string, 0, len(list))
	for i, s := range list {
		if i == 20 {
			return append(out, "…")
		}
		out = append(out, clip(s))
	}
	return out
}

// varied returns the job as a variant has it, with its findings.
func (r *reader) varied(job *value, g *group) *value {
	out := &value{pos: job.pos, shape: mapping, keys: slices.Clone(job.keys), partial: job.partial}
	known := []string{"name", "note", "without", "currency", "tolerance", "tools", "keep", "figures", "spare", "rack", "variables"}
	for _, k := range []string{"currency", "tolerance", "spare"} {
		if v := g.get(k); v != nil {
			out.set(k, v)
		}
	}
	g.note("note")
	for _, e := range g.entries("variables") {
		if vars := job.find("variables"); vars == nil || vars.find(e.key) == nil {
			r.list.Add(e.pos, g.what, fmt.Sprintf("variables: the job has no variable %q", clip(e.key)), "define it in the job's variables first")
		}
	}
	for _, k := range []string{"tools", "keep", "figures", "rack", "variables"} {
		if v := g.get(k); v != nil {
			out.set(k, overlaid(out.find(k), v))
		}
	}
	for _, k := range slices.Sorted(maps.Keys(overridable)) {
		known = append(known, k)
		if v := g.get(k); v != nil {
			out.set(k, r.changed(g, k, out.find(k), v))
		}
	}
	r.without(g, out)
	g.done(known...)
	return out
}

// changed returns a list with the entries that a variant changes.
func (r *reader) changed(g *group, key string, list, changes *value) *value {
	by := overridable[key]
	if changes.shape != sequence {
		g.add(changes, fmt.Sprintf("%s: expected a list, got %s", key, describe(changes)), "write a dash, "+by+": and what is different")
		return list
	}
	out := &value{pos: changes.pos, shape: sequence}
	if list != nil {
		out.pos, out.items = list.pos, slices.Clone(list.items)
	}
	for _, c := range changes.items {
		name := c.word(by)
		if name == "" {
			g.add(c, fmt.Sprintf("%s: an entry has no %s", key, by), "say which entry of the job is meant")
			continue
		}
		at := slices.IndexFunc(out.items, func(v *value) bool { return v.word(by) == name })
		if at < 0 {
			// Something of the variant's own, which has to be whole.
			out.items = append(out.items, c)
			continue
		}
		out.items[at] = overlaid(out.items[at], c)
	}
	return out
}

// without leaves panels out.
func (r *reader) without(g *group, out *value) {
	v := g.get("without")
	if v == nil {
		return
	}
	if v.shape != sequence {
		g.add(v, fmt.Sprintf("without: expected a list of panels, got %s", describe(v)), "write [name, name]")
		return
	}
	panels := out.find("panels")
	for _, n := range v.items {
		if n.shape != scalar {
			g.add(n, fmt.Sprintf("without: expected the name of a panel, got %s", describe(n)), "write [name, name]")
			continue
		}
		at := -1
		if panels != nil {
			at = slices.IndexFunc(panels.items, func(p *value) bool { return p.word("name") == strings.TrimSpace(n.text) })
		}
		if at < 0 {
			g.add(n, fmt.Sprintf("without: there is no panel %s", describe(n)), "name panels that are written in the job file")
			continue
		}
		list := *panels
		list.items = slices.Delete(slices.Clone(panels.items), at, at+1)
		panels = &list
		out.set("panels", panels)
	}
}

// overlaid returns a group of keys with those of another in place of its own. An
// outline takes the place of length and width, and they of it.
func overlaid(base, over *value) *value {
	if base == nil || base.shape != mapping || over.shape != mapping {
		return over
	}
	out := &value{pos: base.pos, shape: mapping, keys: slices.Clone(base.keys), partial: base.partial || over.partial}
	drop := func(keys ...string) {
		out.keys = slices.DeleteFunc(out.keys, func(e entry) bool { return slices.Contains(keys, e.key) })
	}
	for _, e := range over.keys {
		switch e.key {
		case "outline":
			drop("length", "width")
		case "length", "width":
			drop("outline")
		case "pair":
			drop("mirror")
		case "mirror":
			drop("pair")
		}
		out.set(e.key, e.val)
	}
	return out
}

// entries returns the keys of a group in the group, if it is one.
func (g *group) entries(key string) []entry {
	if v := g.get(key); v != nil && v.shape == mapping {
		return v.keys
	}
	return nil
}

// find returns the value of a key, or nil.
func (v *value) find(key string) *value {
	for i := range v.keys {
		if v.keys[i].key == key {
			return v.keys[i].val
		}
	}
	return nil
}

// word returns the text of a key of a mapping, or nothing.
func (v *value) word(key string) string {
	if v.shape != mapping {
		return ""
	}
	if w := v.find(key); w != nil && w.shape == scalar {
		return strings.TrimSpace(w.text)
	}
	return ""
}

// set gives a key a value.
func (v *value) set(key string, val *value) {
	for i := range v.keys {
		if v.keys[i].key == key {
			v.keys[i].val, v.keys[i].pos = val, val.pos
			return
		}
	}
	v.keys = append(v.keys, entry{key, val.pos, val})
}

// ReadVariant is [ReadFile] for a variant of the job; no name is the job as written.
func ReadVariant(path, variant string) (*parts.Job, diag.List) {
	job, _, list := examine(path, variant, diag.ReadFile)
	return job, list
}

// Examine is ReadFile that tells how the files that the job names were understood, be
// there mistakes or not, and that looks at every variant as well: what is wrong with
// one only names it.
func Examine(path string) (*parts.Job, []parts.Reading, diag.List) {
	input := once(diag.ReadFile) // all variants are of the files as they are now
	job, readings, list := examine(path, "", input)
	if job == nil {
		return nil, readings, list
	}
	said := map[string]bool{}
	for _, f := range list {
		said[f.Error()] = true
	}
	for _, name := range job.Variants {
		_, _, more := examine(path, name, input)
		for _, f := range more {
			if said[f.Error()] {
				continue
			}
			f.Part = strings.TrimSuffix(fmt.Sprintf("variant %q: %s", clip(name), f.Part), ": ")
			list = append(list, f)
		}
	}
	list.Sort()
	if list.Err() != nil {
		return nil, readings, list
	}
	return job, readings, list
}
