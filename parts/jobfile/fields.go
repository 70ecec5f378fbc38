package jobfile

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"unicode"
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

// group returns v as a group, or nil after a finding.
func (r *reader) group(v *value, what, remedy string) *group {
	if v.shape != mapping {
		r.list.Add(v.pos, what, fmt.Sprintf("expected a group of keys, got %s", describe(v)), remedy)
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

// add adds a mistake at a value.
func (g *group) add(v *value, fact, remedy string) { g.r.list.Add(v.pos, g.what, fact, remedy) }

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
		if near := nearest(e.key, known); near != "" {
			remedy = fmt.Sprintf("did you mean %q? %s", near, remedy)
		}
		g.r.list.Add(e.pos, g.what, fmt.Sprintf("unknown key %q", clip(e.key)), remedy)
	}
}

// nearest returns the word within two edits of s, or "".
func nearest(s string, words []string) string {
	best, word := 3, ""
	for _, w := range words {
		if d := edits(strings.ToLower(s), w); d < best && d < len(w) {
			best, word = d, w
		}
	}
	return word
}

// edits is the Levenshtein distance of short words.
func edits(a, b string) int {
	if len(a) > 40 {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// text returns a piece of text.
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

// name returns a name: required, trimmed, short and printable.
func (g *group) name(key string) (string, *value) {
	s, v := g.text(key)
	s = strings.TrimSpace(s)
	switch {
	case s == "":
		if v == nil {
			v = g.v
		}
		if !g.has(key) || v.shape == null || v.shape == scalar {
			g.add(v, "has no "+key, "add "+key+": and a name")
		}
		return "", nil
	case utf8.RuneCountInString(s) > MaxName:
		g.add(v, fmt.Sprintf("%s is longer than %d characters", key, MaxName), "shorten it")
	case strings.ContainsFunc(s, unicode.IsControl):
		g.add(v, key+" holds a control character", "write it on one line of plain text")
	}
	return s, v
}

// choice returns one of the words, or def when the key is not given.
func (g *group) choice(key, def string, words ...string) string {
	s, v := g.text(key)
	if v == nil || s == "" {
		return def
	}
	s = strings.TrimSpace(s)
	if slices.Contains(words, s) {
		return s
	}
	g.add(v, fmt.Sprintf("%s: %q is not known", key, clip(s)), "use "+strings.Join(words, ", "))
	return def
}

// yes returns a yes or no.
func (g *group) yes(key string) bool {
	s, v := g.text(key)
	if v == nil {
		return false
	}
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "yes", "true":
		return true
	case "no", "false", "":
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
		g.add(v, fmt.Sprintf("%s: %s must be greater than zero", key, v.text), "give the size as a positive length")
	case l < least:
		g.add(v, fmt.Sprintf("%s: %s is less than %s", key, v.text, least), fmt.Sprintf("use %s or more", least))
	case l > most:
		g.add(v, fmt.Sprintf("%s: %s is more than %s", key, v.text, most), fmt.Sprintf("use %s or less", most))
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
	l, err := length.Parse(v.text, g.r.out.Units)
	if err != nil {
		g.r.list = append(g.r.list, diag.Finding{
			Pos: v.pos, Part: g.what, Fact: key + ": " + clipped(err), Err: err,
			Remedy: `write a number, perhaps with a unit, as in 600, 18.5 mm, 23 11/16 in`,
		})
		return 0, false
	}
	return l, true
}

// clipped is the text of an error, short.
func clipped(err error) string {
	if r := []rune(err.Error()); len(r) > 160 {
		return string(r[:160]) + "…"
	}
	return err.Error()
}

// whole returns a whole number from least to most; missing is def.
func (g *group) whole(key string, def, least, most int) int {
	s, v := g.text(key)
	if v == nil {
		return def
	}
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil || n < least || n > most {
		g.add(v, fmt.Sprintf("%s: %q is not a whole number from %d to %d", key, clip(s), least, most), "write a whole number in that range")
		return def
	}
	return n
}

// number returns a plain decimal from 0 to most; missing is 0.
func (g *group) number(key string, most float64) float64 {
	s, v := g.text(key)
	if v == nil {
		return 0
	}
	t := strings.Replace(strings.TrimSpace(s), ",", ".", 1)
	if t == "" || strings.Trim(t, "0123456789.") != "" || len(t) > 24 {
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
	s, v := g.text(key)
	if v == nil || v.shape == null {
		return 0, false
	}
	a, err := money.Parse(s)
	if err != nil {
		g.add(v, key+": "+clipped(err), "write the amount without currency, as in 84.50")
		return 0, false
	}
	if a < 0 {
		g.add(v, fmt.Sprintf("%s: %s is negative", key, s), "a price is zero or more")
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
