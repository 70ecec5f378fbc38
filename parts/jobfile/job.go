package jobfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/shelf"
)

// job reads the whole file into r.out.
func (r *reader) job(top *value) {
	g := r.group(top, "", "", "start with job: and a name")
	if g == nil {
		return
	}
	if v := r.variants(g); v != g.v {
		g = r.group(v, "", "", "")
		g.used["variants"] = true
		r.out.Variant = r.variant
	}
	j := &r.out
	j.File = r.file
	j.Units = length.MM
	if g.choice("units", "mm", "mm", "in") == "in" {
		j.Units = length.IN
	}
	g.v = r.tried(g.v)
	j.Name, _ = g.name("job")
	j.Note = g.note("note")
	if s, v := g.text("currency"); v != nil {
		j.Currency = strings.TrimSpace(s)
		g.legible("currency", j.Currency, v)
		if utf8.RuneCountInString(j.Currency) > 12 {
			g.add(v, "currency: "+clip(j.Currency)+" is too long", "use a word or a sign such as EUR")
		}
	}
	vars, places := r.variables(g)
	j.Tolerance = g.length("tolerance", parts.DefaultTolerance, length.Millimetre/100, length.Millimetre)
	names := map[string]map[string]int{"material": {}, "stock": {}, "edge band": {}, "component": {}}
	unique := func(kind, name string, v *value) bool {
		if v == nil || name == "" {
			return false
		}
		if line, ok := names[kind][name]; ok {
			r.list.Add(v.pos, fmt.Sprintf("%s %q", kind, clip(name)), fmt.Sprintf("the name is taken, first in line %d", line), "give each a name of its own")
			return false
		}
		names[kind][name] = v.pos.Line
		return true
	}
	for _, v := range g.list("materials", MaxEntries) {
		if m, at := r.material(v); unique("material", m.Name, at) {
			j.Materials = append(j.Materials, m)
		}
	}
	r.variablesAt(vars, places)
	r.yards(g)
	for _, v := range g.list("stock", MaxEntries) {
		s, at := r.stock(v)
		r.unsure = r.unsure || s.Material == ""
		if unique("stock", s.Name, at) {
			j.Stock = append(j.Stock, s)
		}
	}
	r.rack(g)
	for _, v := range g.list("edging", MaxEntries) {
		if b, at := r.band(v); unique("edge band", b.Name, at) {
			j.Bands = append(j.Bands, b)
		}
	}
	for _, v := range g.list("components", MaxEntries) {
		if c, at := r.component(v); unique("component", c.Name, at) {
			j.Components = append(j.Components, c)
		}
	}
	r.tools(g)
	r.keep(g)
	r.figures(g)
	// What is not written in the job file itself comes after what is.
	written := g.list("panels", MaxEntries)
	elsewhere := g.has("lists") || g.has("drawings") || g.has("carcasses")
	for _, key := range []string{"materials", "stock", "panels"} {
		if key == "panels" && elsewhere || key == "stock" && len(j.Stock) > 0 {
			continue
		}
		if !g.has(key) {
			g.used[key] = true
			r.list.Add(g.v.pos, "", "the job has no "+key, "add "+key+": and a list")
		} else if v := g.get(key); v.shape == null || v.shape == sequence && len(v.items) == 0 {
			g.add(v, key+" is empty", "add at least one entry, started with a dash")
		}
	}
	taken := r.drawings(g.list("drawings", MaxFiles))
	listed := slices.Concat(r.carcasses(g.list("carcasses", MaxEntries)), r.lists(g.list("lists", MaxFiles)))
	r.panels(written, listed, taken)
	r.unused()
	r.doubts()
	g.done("job", "note", "units", "currency", "tolerance", "materials", "stock", "yards", "spare", "rack", "edging", "tools", "keep", "figures", "components", "carcasses", "drawings", "lists", "panels", "variables", "variants")
}

// called returns what findings call an entry: its kind and name.
func called(kind string, v *value) string {
	if v.shape == mapping {
		for _, e := range v.keys {
			if e.key == "name" && e.val.shape == scalar && strings.TrimSpace(e.val.text) != "" {
				return fmt.Sprintf("%s %q", kind, clip(strings.TrimSpace(e.val.text)))
			}
		}
	}
	return kind
}

// material reads a material; the value is nil when it is none.
func (r *reader) material(v *value) (m parts.Material, at *value) {
	g := r.group(v, "", called("material", v), "write name:, thickness: and what else there is")
	if g == nil {
		return m, nil
	}
	m.Pos = v.pos
	m.Name, at = g.name("name")
	m.Nominal, _ = g.need("thickness")
	m.Measured = g.length("measured", m.Nominal, 1, 0)
	if t, ok := r.measured[m.Name]; ok {
		m.Measured = t
	}
	m.Density = g.number("density", shelf.MaxDensity)
	m.Modulus = g.number("modulus", shelf.MaxModulus)
	m.Grained = g.yes("grain")
	m.GoodFaces = g.whole("good_faces", 1, 1, 2)
	m.Turn = g.turns("turns", m.Grained)
	least, most, source := parts.UsualThickness(m.Nominal)
	switch d := (m.Measured - m.Nominal).Abs(); {
	case m.Nominal == 0:
	case 10*d > m.Nominal:
		r.list.Warn(v.pos, g.what, fmt.Sprintf("measured %s differs from the nominal %s by more than a tenth", r.size(m.Measured), r.size(m.Nominal)), "check both")
	case m.Measured < least || m.Measured > most:
		r.list.Warn(v.pos, g.what, fmt.Sprintf("it measures %s, and plywood of %s has %s to %s by %s", r.size(m.Measured), r.size(m.Nominal), r.print(least), r.size(most), source), "measure again in several places, or correct the nominal thickness")
	}
	g.done("name", "thickness", "measured", "density", "grain", "good_faces", "turns", "modulus")
	return m, at
}

// turns reads the step of turns of a material.
func (g *group) turns(key string, grained bool) int {
	s, v := g.word(key)
	if v == nil {
		return parts.ByGrain
	}
	step := parts.ByGrain
	switch s {
	case "none":
		return parts.OneWay
	case "half":
		return parts.HalfTurn
	case "quarter":
		step = parts.QuarterTurn
	default:
		n, err := strconv.Atoi(strings.TrimSuffix(s, "°"))
		if err != nil || n < parts.LeastTurn || n > 90 || 90%n != 0 {
			g.add(v, fmt.Sprintf("%s: %s is no way to turn panels", key, clip(s)), fmt.Sprintf("write none, half, quarter, or a step in degrees that divides 90, from %d up", parts.LeastTurn))
			return parts.ByGrain
		}
		step = n
	}
	if grained {
		g.add(v, fmt.Sprintf("%s: %s, but the board has grain", key, clip(s)), "write half or none; a panel whose grain does not matter says grain: free")
	}
	return step
}

// stock reads a kind of sheet.
func (r *reader) stock(v *value) (s parts.Stock, at *value) {
	g := r.group(v, "", called("stock", v), "write name:, material:, length:, width: and what else there is")
	if g == nil {
		return s, nil
	}
	s.Pos = v.pos
	s.Name, at = g.name("name")
	s.Length, _ = g.need("length")
	s.Width, _ = g.need("width")
	s.Offcut = g.yes("offcut")
	m := r.materialOf(g)
	if m != nil {
		s.Material = m.Name
	}
	r.sheetGrain(g, &s, m)
	s.Price, s.Priced = g.price("price")
	r.offer(g, &s)
	s.Available = parts.Unlimited
	trim := parts.DefaultTrim
	if s.Offcut {
		s.Available, trim = 1, 0
	}
	s.Available = g.whole("available", s.Available, 0, MaxCopies)
	r.trim(g, &s, trim)
	g.done("name", "material", "length", "width", "grain", "price", "breaks", "yard", "available", "trim", "offcut")
	return s, at
}

// materialOf returns the material a group names; with a single material in the
// job it may be left out. It is nil after a finding.
func (r *reader) materialOf(g *group) *parts.Material {
	s, v := g.word("material")
	switch {
	case len(r.out.Materials) == 0:
		return nil // said already
	case v == nil && g.has("material"):
		return nil
	case v == nil && len(r.out.Materials) == 1:
		return &r.out.Materials[0]
	case v == nil:
		g.add(g.v, "has no material", "add material: and one of "+r.materialNames())
		return nil
	}
	if m := r.out.Material(s); m != nil {
		return m
	}
	g.add(v, fmt.Sprintf("unknown material %q", clip(s)), "known materials: "+r.materialNames())
	return nil
}

func (r *reader) materialNames() string {
	var list []string
	for i := range r.out.Materials {
		if i == 20 {
			list = append(list, "…")
			break
		}
		list = append(list, clip(r.out.Materials[i].Name))
	}
	return strings.Join(list, ", ")
}

// sheetGrain reads the grain axis of a sheet, which must be stated for a board
// with grain: it is never inferred from the long side.
func (r *reader) sheetGrain(g *group, s *parts.Stock, m *parts.Material) {
	word := g.choice("grain", "", "length", "width", "none")
	switch word {
	case "length":
		s.Grain = parts.AlongLength
	case "width":
		s.Grain = parts.AlongWidth
	}
	if m == nil {
		return
	}
	at := g.v
	if v := g.get("grain"); v != nil {
		at = v
	}
	switch {
	case m.Grained && s.Grain == parts.NoAxis && (word == "none" || !g.has("grain")):
		g.add(at, fmt.Sprintf("%q has grain, but the sheet does not say along which side it runs", clip(m.Name)), "add grain: length or grain: width")
	case !m.Grained && s.Grain != parts.NoAxis:
		g.add(at, fmt.Sprintf("%q has no grain, but the sheet has", clip(m.Name)), "remove it, or say grain: yes at the material")
	}
}

// trim reads a trim for all edges or for each.
func (r *reader) trim(g *group, s *parts.Stock, def length.Length) {
	s.Trim = parts.Trim{Left: def, Right: def, Bottom: def, Top: def}
	v := g.get("trim")
	switch {
	case v == nil:
	case v.shape == mapping:
		t := r.group(v, "trim", g.what, "")
		s.Trim.Left = t.length("left", def, 0, 0)
		s.Trim.Right = t.length("right", def, 0, 0)
		s.Trim.Bottom = t.length("bottom", def, 0, 0)
		s.Trim.Top = t.length("top", def, 0, 0)
		t.done("left", "right", "bottom", "top")
	default:
		l := g.length("trim", def, 0, 0)
		s.Trim = parts.Trim{Left: l, Right: l, Bottom: l, Top: l}
	}
	if s.Length > 0 && s.Width > 0 && (s.Trim.Left+s.Trim.Right >= s.Length || s.Trim.Bottom+s.Trim.Top >= s.Width) {
		at := g.v
		if v != nil {
			at = v
		}
		g.add(at, "trim leaves nothing of the sheet", "trim less")
	}
}

// band reads an edge band.
func (r *reader) band(v *value) (b parts.Band, at *value) {
	g := r.group(v, "", called("edge band", v), "write name: and thickness:")
	if g == nil {
		return b, nil
	}
	b.Pos = v.pos
	b.Name, at = g.name("name")
	b.Thickness, _ = g.need("thickness")
	if b.Thickness > 50*length.Millimetre {
		g.add(g.get("thickness"), fmt.Sprintf("thickness: %s is more than %s", r.size(b.Thickness), r.size(50*length.Millimetre)), "an edge band is thin; is the unit right?")
	}
	b.Price, b.Priced = g.price("price")
	g.done("name", "thickness", "price")
	return b, at
}

// tools reads saw and router.
func (r *reader) tools(top *group) {
	r.out.Saw = parts.DefaultSaw(parts.TableSaw)
	r.out.Router = parts.Router{Bit: parts.DefaultBit, Gap: parts.DefaultGap, Margin: parts.DefaultMargin}
	v := top.get("tools")
	if v == nil || v.shape == null {
		return
	}
	g := r.group(v, "", "tools", "write saw: and router:")
	if g == nil {
		return
	}
	if v := g.get("saw"); v != nil && v.shape != null {
		if t := r.group(v, "", "saw", "write {kerf: 3.2, allowance: 6}"); t != nil {
			r.saw(t)
		}
	}
	if v := g.get("router"); v != nil && v.shape != null {
		if t := r.group(v, "", "router", "write {bit: 6, gap: 0.5, margin: 10}"); t != nil {
			r.router(t)
		}
	}
	g.done("saw", "router")
}

// keep reads which offcuts are worth keeping.
func (r *reader) keep(top *group) {
	k := &r.out.Keep
	*k = parts.KeepRule{Short: parts.DefaultKeepShort, Long: parts.DefaultKeepLong}
	v := top.get("keep")
	if v == nil || v.shape == null {
		return
	}
	g := r.group(v, "", "keep", "write {short: 100, long: 400}")
	if g == nil {
		return
	}
	k.Short = g.length("short", k.Short, 0, 0)
	k.Long = g.length("long", k.Long, 0, 0)
	if k.Short > k.Long {
		g.add(v, fmt.Sprintf("short %s is more than long %s", r.size(k.Short), r.size(k.Long)), "exchange them")
	}
	g.done("short", "long")
}
