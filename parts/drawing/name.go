package drawing

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/peterstace/simplefeatures/rtree"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// name gives each loop its texts and each panel and opening its name: that of the
// first text of which it is the innermost loop, or a number.
func (s *study) name(n *nested, texts []int) {
	for _, i := range texts {
		s.homeOf(n, i)
	}
	panels := newNames()
	openings := map[*loop]*names{} // of each panel
	// Texts first, so that a number does not take the name of a text.
	for _, numbered := range [2]bool{false, true} {
		for _, l := range n.loops {
			if numbered != (len(l.texts) == 0) {
				continue
			}
			taken, kind := panels, "panel"
			if l.opening() {
				if openings[l.parent] == nil {
					openings[l.parent] = newNames()
				}
				taken, kind = openings[l.parent], "opening"
			}
			if numbered {
				l.name = s.ownName(l, taken)
				if l.name == "" {
					l.name = taken.free(kind, 1)
				}
			} else {
				s.fromTexts(l, taken, kind)
			}
			taken.taken[l.name] = true
		}
	}
}

// ownName returns the name of a loop's first piece that has one, unlike others;
// nothing when it has none.
func (s *study) ownName(l *loop, taken *names) string {
	name := ""
	for _, i := range append([]int{l.first}, l.from...) {
		if name = title(s.d.Pieces[i].Name); name != "" {
			break
		}
	}
	if name == "" || !taken.taken[name] {
		return name
	}
	return taken.free(name, 2)
}

// names are the names in use, and the number to try next after each.
type names struct {
	taken map[string]bool
	next  map[string]int
}

func newNames() *names { return &names{map[string]bool{}, map[string]int{}} }

// free returns a name with a number, from a given one, that is not taken.
func (n *names) free(name string, from int) string {
	for i := max(from, n.next[name]); ; i++ {
		if s := fmt.Sprintf("%s %d", name, i); !n.taken[s] {
			n.next[name] = i + 1
			return s
		}
	}
}

// homeOf gives a text to the innermost loop it stands in, if any.
func (s *study) homeOf(n *nested, text int) {
	t := &s.d.Texts[text]
	if title(t.Content) == "" || max(t.At.X.Abs(), t.At.Y.Abs()) >= length.Max {
		return
	}
	x, y := float64(t.At.X), float64(t.At.Y)
	var home *loop
	// A point as an outline: the least square there is about it.
	dot := outline.Rectangle(2, 2).Translate(t.At.Sub(geom.Pt(1, 1))).Trace()
	at, _ := n.overlapping(rtree.Box{MinX: x, MinY: y, MaxX: x, MaxY: y}, len(n.loops), func(int) bool { return true })
	for _, i := range at {
		if l := n.loops[i]; (home == nil || l.depth > home.depth) && n.trace(i).Contains(dot) == nil {
			home = l
		}
	}
	if home != nil {
		home.texts = append(home.texts, text)
	}
}

// fromTexts names a loop for the first of its texts.
func (s *study) fromTexts(l *loop, taken *names, kind string) {
	first := &s.d.Texts[l.texts[0]]
	l.name = title(first.Content)
	if len(l.texts) > 1 {
		second := &s.d.Texts[l.texts[1]]
		s.warn(second.Source, fmt.Sprintf("%s %s holds %d texts: the first, of line %d, names it, not %s", kind, quote(l.name), len(l.texts), first.Line, quote(title(second.Content))),
			"leave one text in it, or put the others on a layer that is ignored")
	}
	if taken.taken[l.name] {
		name := taken.free(l.name, 2)
		s.warn(first.Source, fmt.Sprintf("there is another %s %s: the one at %s is called %s", kind, quote(l.name), s.d.place(first.At), quote(name)),
			"give each its own name, or draw it once and give its quantity")
		l.name = name
	}
}

// title returns the first line of a text that is not blank, its blanks made single
// and cut to [MaxName] characters.
func title(text string) string {
	for line := range strings.Lines(text) {
		words := strings.FieldsFunc(line, func(c rune) bool { return unicode.IsSpace(c) || !unicode.IsPrint(c) })
		if len(words) == 0 {
			continue
		}
		name := []rune(strings.Join(words, " "))
		return strings.TrimSpace(string(name[:min(len(name), MaxName)]))
	}
	return ""
}
