package drawing

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"testing"
)

// tree writes panels with their openings.
func tree(panels []Panel) string {
	var b strings.Builder
	for _, p := range panels {
		fmt.Fprintf(&b, "%s(", p.Name)
		for i, o := range p.Openings {
			if i > 0 {
				b.WriteString(" ")
			}
			b.WriteString(o.Name)
		}
		b.WriteString(") ")
	}
	return strings.TrimSpace(b.String())
}

func TestNestAndName(t *testing.T) {
	word := func(x, y float64, s string) Text {
		return Text{Source: Source{Entity: "TEXT", Line: 1000}, Layer: "0", At: pt(x, y), Content: s}
	}
	rings := func(n int) []Piece { // one in the other
		var out []Piece
		for i := range n {
			out = append(out, rectangle(float64(i), float64(i), float64(200-2*i), float64(200-2*i)))
		}
		return out
	}
	for _, c := range []struct {
		name   string
		pieces []Piece
		texts  []Text
		want   string
		says   []string
	}{
		{"one", rings(1), nil, "panel 1()", nil},
		{"five rings", rings(5), nil, "panel 1(opening 1) panel 2(opening 1) panel 3()", nil},
		{"from small to large", reversedPieces(rings(4)), nil, "panel 1(opening 1) panel 2(opening 1)", nil},
		{"two openings", []Piece{rectangle(0, 0, 200, 200), circle(50, 50, 10), circle(150, 50, 10)}, nil, "panel 1(opening 1 opening 2)", nil},
		{"the innermost loop wins", rings(3), []Text{word(1.5, 1.5, "window"), word(0.5, 0.5, "side"), word(50, 50, "lid")}, "side(window) lid()", nil},
		{"outside", rings(1), []Text{word(-5, 0, "note"), word(0, 0, "on the edge"), word(1e6, 0, "far")}, "panel 1()", nil},
		{"blanks", rings(1), []Text{word(5, 5, " \n\t\n  left   side \nsecond line")}, "left side()", nil},
		{"no words", rings(1), []Text{word(5, 5, " \n\x07")}, "panel 1()", nil},
		{"two texts", rings(1), []Text{word(5, 5, "side"), word(6, 6, "18 mm")}, "side()", []string{`panel "side" holds 2 texts: the first, of line 1000, names it, not "18 mm"`}},
		{"a name twice", []Piece{rectangle(0, 0, 10, 10), rectangle(20, 0, 10, 10), rectangle(40, 0, 10, 10)}, []Text{word(5, 5, "foot"), word(25, 5, "foot")}, "foot() foot 2() panel 1()", []string{`there is another panel "foot": the one at (25, 5) is called "foot 2"`}},
		{"a number that is taken", []Piece{rectangle(0, 0, 10, 10), rectangle(20, 0, 10, 10)}, []Text{word(25, 5, "panel 1")}, "panel 2() panel 1()", nil},
		{"a long name", rings(1), []Text{word(5, 5, strings.Repeat("ä", 300))}, strings.Repeat("ä", MaxName) + "()", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := sheet(c.pieces)
			d.Texts = c.texts
			panels, list := Panels(d, Options{})
			says(t, list, c.says...)
			if got := tree(panels); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

func reversedPieces(p []Piece) []Piece {
	slices.Reverse(p)
	return p
}

func TestLayers(t *testing.T) {
	plate := on("CUT", rectangle(0, 0, 200, 200))
	hole := on("HOLES-10", circle(50, 50, 10))
	notes := on("NOTES", line(0, 0, 300, 300))
	island := on("HOLES-10", circle(50, 50, 3))
	outside := on("HOLES-10", circle(500, 50, 3))
	for _, c := range []struct {
		name   string
		pieces [][]Piece
		rules  []Rule
		hidden string
		want   string
		says   []string
	}{
		{"no rules", [][]Piece{plate, hole}, nil, "", "panel 1(opening 1)", nil},
		{"outline and opening", [][]Piece{plate, hole}, []Rule{{"cut", Outline}, {"hole*", Opening}}, "", "panel 1(opening 1)", nil},
		{"the first rule holds", [][]Piece{plate, hole}, []Rule{{"cut", Outline}, {"*", Ignore}}, "", "panel 1()", nil},
		{"ignored", [][]Piece{plate, notes}, []Rule{{"notes", Ignore}}, "", "panel 1()", nil},
		{"not named", [][]Piece{plate, notes}, []Rule{{"cut", Outline}}, "", "panel 1()", []string{`layer "NOTES" is not named among the layers to be read: its one piece is ignored`}},
		{"no such layer", [][]Piece{plate}, []Rule{{"cuts", Outline}}, "", "", []string{"no line, arc or curve", `no layer of the drawing is called "cuts"`, `layer "CUT" is not named`}},
		{"hidden", [][]Piece{plate, notes}, nil, "NOTES", "panel 1()", []string{`layer "NOTES" is switched off or not plotted`}},
		{"hidden but named", [][]Piece{plate, hole}, []Rule{{"CUT", Outline}, {"HOLES-10", Opening}}, "HOLES-10", "panel 1(opening 1)", nil},
		{"hidden and not named in full", [][]Piece{plate, hole}, []Rule{{"CUT", Outline}, {"HOLES*", Opening}}, "HOLES-10", "panel 1()", []string{"is switched off"}},
		{"opening in no panel", [][]Piece{plate, outside}, []Rule{{"HOLES*", Opening}}, "", "", []string{"is an opening by its layer but lies in no panel, at (497, 50)"}},
		{"opening in an opening", [][]Piece{plate, hole, island}, []Rule{{"HOLES*", Opening}}, "", "", []string{"lies in an opening, CIRCLE, line 2"}},
		{"opening in a broken panel", [][]Piece{on("CUT", polyline(0, 0, 200, 0, 200, 200, 0, 200)), hole}, []Rule{{"HOLES*", Opening}}, "", "", []string{"is open"}},
		{"roles do not join", [][]Piece{on("CUT", line(0, 0, 10, 0)), on("HOLES-10", line(10, 0, 0, 10), line(0, 10, 0, 0))}, []Rule{{"HOLES*", Opening}}, "", "", []string{"a:1:", "a:2:"}},
		{"layers of one role do", [][]Piece{on("CUT", line(0, 0, 10, 0)), on("HOLES-10", line(10, 0, 0, 10), line(0, 10, 0, 0))}, nil, "", "panel 1()", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := sheet(c.pieces...)
			if c.hidden != "" {
				d.Layers = []Layer{{Name: c.hidden, Hidden: true}}
			}
			panels, list := Panels(d, Options{Layers: c.rules})
			says(t, list, c.says...)
			if got := tree(panels); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

// Patterns against those of package path, which agree where no other sign of a
// pattern is in them.
func TestPatterns(t *testing.T) {
	letters := []string{"", "a", "b", "*", "A", "ab"}
	var words []string
	for _, a := range letters {
		for _, b := range letters {
			for _, c := range letters {
				for _, d := range letters {
					words = append(words, a+b+c+d)
				}
			}
		}
	}
	slices.Sort(words)
	words = slices.Compact(words)
	n := 0
	for _, p := range words {
		for _, w := range words {
			if strings.Contains(w, "*") {
				continue
			}
			want, err := path.Match(strings.ToLower(p), strings.ToLower(w))
			if err != nil {
				t.Fatal(err)
			}
			if got := (Rule{Pattern: p}).matches(w); got != want {
				t.Fatalf("%q matches %q: %v, want %v", p, w, got, want)
			}
			n++
		}
	}
	if n < 10_000 {
		t.Errorf("%d cases", n)
	}
}
