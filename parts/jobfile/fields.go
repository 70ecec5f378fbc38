package jobfile

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// group is a mapping that is read key by key: what is not asked for is unknown.
type group struct {
	r    *reader
	v    *value
	what string // `panel "shelf"`, for findings
	used map[string]bool
}

// group returns v as a group, or nil after a finding. The key is that of v, empty
// for an entry of a list.
func (r *reader) group(v *value, key, what, remedy string) *group {
	if v.shape != mapping {
		if v.shape != refused {
			if key != "" {
				key += ": "
			}
			r.list.Add(v.pos, what, fmt.Sprintf("%sexpected a group of keys, got %s", key, describe(v)), remedy)
		}
		return nil
	}
	return &group{r: r, v: v, what: what, used: map[string]bool{}}
}

// describe says what a value is, with its text.
func describe(v *value) string {
	if v.shape == scalar {
		return fmt.Sprintf("%q", clip(v.text))
	}
	return v.shape.String()
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// get returns the value of a key, or nil when it is not given.
func (g *group) get(key string) *value {
	g.used[key] = true
	for i := range g.v.keys {
		if g.v.keys[i].key == key {
			return g.v.keys[i].val
		}
	}
	return nil
}

// has reports whether a key is given, without asking for it.
func (g *group) has(key string) bool {
	return slices.ContainsFunc(g.v.keys, func(e entry) bool { return e.key == key })
}

// add adds a mistake at a value, unless all has been said of it.
func (g *group) add(v *value, fact, remedy string) {
	if v.shape != refused && !(v == g.v && v.partial) {
		g.r.list.Add(v.pos, g.what, fact, remedy)
	}
}

// done names the keys nobody asked for. Keys are those that would have been read.
func (g *group) done(keys ...string) {
	known := slices.Clone(keys)
	for k := range g.used {
		known = append(known, k)
	}
	slices.Sort(known)
	known = slices.Compact(known)
	for _, e := range g.v.keys {
		if g.used[e.key] || slices.Contains(keys, e.key) {
			continue
		}
		remedy := "known keys here: " + strings.Join(known, ", ")
		if near := diag.Nearest(e.key, known); near != "" {
			remedy = fmt.Sprintf("did you mean %q? %s", near, remedy)
		}
		g.r.list.Add(e.pos, g.what, fmt.Sprintf("unknown key %q", clip(e.key)), remedy)
	}
}

// text returns a piece of text, empty when there is none; the value is nil when
// there is nothing more to say of it.
func (g *group) text(key string) (string, *value) {
	v := g.get(key)
	if v == nil || v.shape == null {
		return "", v
	}
	if v.shape != scalar {
		g.add(v, fmt.Sprintf("%s: expected text, got %s", key, describe(v)), "write "+key+": some text")
		return "", nil
	}
	return v.text, v
}

// word is text, trimmed, for a key that must have a value when it is given.
func (g *group) word(key string) (string, *value) {
	s, v := g.text(key)
	s = strings.TrimSpace(s)
	if v != nil && s == "" {
		g.add(v, key+" has no value", "write one, or remove the key")
		return "", nil
	}
	return s, v
}

// name returns a name: required, trimmed, short and printable.
func (g *group) name(key string) (string, *value) {
	s, v := g.text(key)
	s = strings.TrimSpace(s)
	if s == "" {
		if v != nil || !g.has(key) {
			at := g.v
			if v != nil {
				at = v
			}
			g.add(at, "has no "+key, "add "+key+": and a name")
		}
		return "", nil
	}
	g.legible(key, s, v)
	return s, v
}

// legible wants a name that can be printed on a label.
func (g *group) legible(key, s string, v *value) {
	switch {
	case utf8.RuneCountInString(s) > MaxName:
		g.add(v, fmt.Sprintf("%s is longer than %d characters", key, MaxName), "shorten it")
	case strings.ContainsFunc(s, diag.Unprintable):
		g.add(v, key+" holds a control character", "write it on one line of plain text")
	}
}

// note returns free text, of one line or more.
func (g *group) note(key string) string {
	s, v := g.text(key)
	odd := func(c rune) bool { return c != '\n' && c != '\t' && diag.Unprintable(c) }
	switch {
	case utf8.RuneCountInString(s) > MaxNote:
		g.add(v, fmt.Sprintf("%s is longer than %d characters", key, MaxNote), "shorten it")
	case strings.ContainsFunc(s, odd):
		g.add(v, key+" holds a control character", "write plain text")
	}
	return s
}

// choice returns one of the words, or def when the key is not given.
func (g *group) choice(key, def string, words ...string) string {
	s, v := g.word(key)
	if v == nil || slices.Contains(words, s) {
		return cmp.Or(s, def)
	}
	remedy := "use " + strings.Join(words, ", ")
	if near := diag.Nearest(s, words); near != "" {
		remedy = fmt.Sprintf("did you mean %q? %s", near, remedy)
	}
	g.add(v, fmt.Sprintf("%s: %q is not known", key, clip(s)), remedy)
	return def
}

// yes returns a yes or no.
func (g *group) yes(key string) bool {
	s, v := g.word(key)
	if v == nil {
		return false
	}
	switch strings.ToLower(s) {
	case "yes", "true":
		return true
	case "no", "false":
		return false
	}
	g.add(v, fmt.Sprintf("%s: %q is neither yes nor no", key, clip(s)), "use yes or no")
	return false
}

// length returns a length of at least least and at most most; missing is def.
// Zero limits of most mean length.Max.
func (g *group) length(key string, def, least, most length.Length) length.Length {
	v := g.get(key)
	if v == nil {
		return def
	}
	l, ok := g.lengthOf(v, key)
	if !ok {
		return def
	}
	if most == 0 {
		most = length.Max
	}
	switch {
	case l < least && least == 1:
		g.add(v, fmt.Sprintf("%s: %s must be greater than zero", key, clip(v.text)), "give the size as a positive length")
	case l < 0 && least == 0:
		g.add(v, fmt.Sprintf("%s: %s is negative", key, clip(v.text)), "use zero or more")
	case l < least:
		g.add(v, fmt.Sprintf("%s: %s is less than %s", key, clip(v.text), g.r.size(least)), fmt.Sprintf("use %s or more", g.r.size(least)))
	case l > most:
		g.add(v, fmt.Sprintf("%s: %s is more than %s", key, clip(v.text), g.r.size(most)), fmt.Sprintf("use %s or less", g.r.size(most)))
	default:
		return l
	}
	return def
}

// need is length for a key that must be given and be positive.
func (g *group) need(key string) (length.Length, bool) {
	if !g.has(key) {
		g.used[key] = true
		g.add(g.v, "has no "+key, "add "+key+": and a length")
		return 0, false
	}
	l := g.length(key, 0, 1, 0)
	return l, l > 0
}

// lengthOf reads a scalar as a length.
func (g *group) lengthOf(v *value, key string) (length.Length, bool) {
	if v.shape != scalar {
		g.add(v, fmt.Sprintf("%s: expected a length, got %s", key, describe(v)), "write a number, perhaps with mm, cm, m, in or ft")
		return 0, false
	}
	if u := g.r.out.Units; hyphened.MatchString(v.text) && u != length.IN && u != length.FT {
		text := strings.TrimSpace(v.text)
		whole, rest, _ := strings.Cut(text, "-")
		g.add(v, fmt.Sprintf("%s: %s may be a mixed number of inches or a difference", key, text), fmt.Sprintf("write %s %s in, or %s - %s", whole, rest, whole, rest))
		return 0, false
	}
	l, err := length.Parse(v.text, g.r.out.Units)
	if err != nil && g.r.isFormula(v.text) {
		return g.r.worked(g, v, key)
	}
	if err != nil {
		g.r.list = append(g.r.list, diag.Finding{
			Pos: v.pos, Part: g.what, Fact: key + ": " + diag.Brief(err), Err: err,
			Remedy: `write a number, perhaps with a unit, as in 600, 18.5 mm, 23 11/16 in`,
		})
		return 0, false
	}
	return l, true
}

// whole returns a whole number from least to most; missing is def.
func (g *group) whole(key string, def, least, most int) int {
	s, v := g.word(key)
	if v == nil {
		return def
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < least || n > most {
		g.add(v, fmt.Sprintf("%s: %q is not a whole number from %d to %d", key, clip(s), least, most), "write a whole number in that range")
		return def
	}
	return n
}

// number returns a plain decimal from 0 to most; missing is 0.
func (g *group) number(key string, most float64) float64 {
	s, v := g.word(key)
	if v == nil {
		return 0
	}
	t := strings.Replace(s, ",", ".", 1)
	if strings.Trim(t, "0123456789.") != "" || len(t) > 24 {
		g.add(v, fmt.Sprintf("%s: %q is not a number from 0 to %g", key, clip(s), most), "write a plain number such as 685")
		return 0
	}
	n, ok := new(big.Rat).SetString(t)
	if !ok {
		g.add(v, fmt.Sprintf("%s: %q is not a number from 0 to %g", key, clip(s), most), "write a plain number such as 685")
		return 0
	}
	f, _ := n.Float64()
	if f > most {
		g.add(v, fmt.Sprintf("%s: %s is more than %g", key, clip(s), most), fmt.Sprintf("use %g or less", most))
		return 0
	}
	return f
}

// price returns an amount of zero or more, and whether it was given.
func (g *group) price(key string) (money.Amount, bool) {
	s, v := g.word(key)
	if v == nil {
		return 0, false
	}
	a, err := money.Parse(s)
	if err != nil {
		g.add(v, key+": "+diag.Brief(err), "write the amount without currency, as in 84.50")
		return 0, false
	}
	if a < 0 {
		g.add(v, fmt.Sprintf("%s: %s is negative", key, clip(s)), "a price is zero or more")
		return 0, false
	}
	return a, true
}

// list returns the items of a list; a key that is not given has none.
func (g *group) list(key string, most int) []*value {
	v := g.get(key)
	if v == nil || v.shape == null {
		return nil
	}
	if v.shape != sequence {
		g.add(v, fmt.Sprintf("%s: expected a list, got %s", key, describe(v)), "start each entry with a dash")
		return nil
	}
	if len(v.items) > most {
		g.add(v, fmt.Sprintf("%s: a list of %d entries is too long", key, len(v.items)), fmt.Sprintf("use %d or fewer", most))
		return nil
	}
	return v.items
}
