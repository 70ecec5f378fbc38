package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"panelyard/parts/length"
	"panelyard/parts/rack"
)

func (f *rackFlags) listCommand(s streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "list",
		Short: "List the boards in the rack",
		Long: `List the boards in the rack: all, or those of a material, or those out of which a
rectangle can be cut, turned either way.`,
		Example: "  panelyard rack list --material \"birch 18\" --length 600 --width 300\n  panelyard rack list --json",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			unit, list := f.begin(c)
			l, w := f.size(&list, "length", f.length, unit), f.size(&list, "width", f.width, unit)
			if err := list.Err(); err != nil {
				return err
			}
			r, found := rack.ReadFile(f.path())
			if r == nil {
				return found.Err()
			}
			s.warn(found)
			var pieces []rack.Piece
			for _, p := range r.Pieces() {
				if (!f.set.Changed("material") || p.Material == f.material) && p.Holds(l, w) {
					pieces = append(pieces, p)
				}
			}
			if f.json {
				return rackJSON(s, pieces)
			}
			rackTable(s, pieces, len(r.Pieces()), newMeasures(unit))
			return nil
		},
	}
	fs := c.Flags()
	fs.StringVar(&f.material, "material", "", "only boards of this material")
	fs.StringVar(&f.length, "length", "", "only boards that hold a piece of this length")
	fs.StringVar(&f.width, "width", "", "only boards that hold a piece of this width")
	fs.BoolVar(&f.json, "json", false, "print JSON, sizes in millimetres")
	return c
}

// rackTable prints boards as a table, of all that there are.
func rackTable(s streams, pieces []rack.Piece, all int, m measures) {
	rows := [][]string{{"label", "material", "size (" + m.Unit() + ")", "thick", "grain", "price", "date", "from", "note"}}
	area := 0.0
	for i := range pieces {
		p := &pieces[i]
		thick, price := "-", "-"
		if p.Thickness > 0 {
			thick = m.to(p.Thickness)
		}
		if p.Priced {
			price = p.Price.String()
		}
		rows = append(rows, []string{
			p.Label, p.Material, m.to(p.Length) + " x " + m.to(p.Width), thick, dash(p.Grain.String()), price, dash(p.Date), dash(oneLine(p.From)), dash(oneLine(p.Note)),
		})
		area += p.Length.MM() * p.Width.MM()
	}
	if len(pieces) > 0 {
		table(s, rows)
	}
	of := ""
	if all != len(pieces) {
		of = fmt.Sprintf(" of %d", all)
	}
	s.say("%s%s, %.3f m2", count(len(pieces), "board"), of, area/1e6)
}

// oneLine writes a note of several lines in one.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// rackJSON prints boards for other programs: sizes in millimetres, null for what is not
// known.
func rackJSON(s streams, pieces []rack.Piece) error {
	type board struct {
		Label     string       `json:"label"`
		Material  string       `json:"material"`
		Thickness *json.Number `json:"thickness"`
		Length    json.Number  `json:"length"`
		Width     json.Number  `json:"width"`
		Grain     *string      `json:"grain"`
		Price     *json.Number `json:"price"`
		Date      string       `json:"date"`
		From      string       `json:"from"`
		Note      string       `json:"note"`
	}
	doc := struct {
		Format  string  `json:"format"`
		Version int     `json:"version"`
		Units   string  `json:"units"`
		Boards  []board `json:"boards"`
	}{"panelyard-rack", 1, "mm", []board{}}
	mm := func(l length.Length) json.Number { return json.Number(l.Decimal()) }
	for i := range pieces {
		p := &pieces[i]
		b := board{Label: p.Label, Material: p.Material, Length: mm(p.Length), Width: mm(p.Width), Date: p.Date, From: p.From, Note: p.Note}
		if p.Thickness > 0 {
			n := mm(p.Thickness)
			b.Thickness = &n
		}
		if p.Grain != rack.Unknown {
			g := p.Grain.String()
			b.Grain = &g
		}
		if p.Priced {
			n := json.Number(p.Price.String())
			b.Price = &n
		}
		doc.Boards = append(doc.Boards, b)
	}
	e := json.NewEncoder(s.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(&doc)
}
