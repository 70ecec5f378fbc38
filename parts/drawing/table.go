package drawing

import (
	"fmt"
	"strings"
	"text/tabwriter"
)

// most is how many panels and layers a table lists.
const most = 40

// Table returns what was understood of a drawing as text for a terminal, ending in a
// line feed: its layers and what they are taken for, its panels and what they hold.
func Table(d *Drawing, opt Options, panels []Panel) string {
	var b strings.Builder
	fmt.Fprintf(&b, "drawing %s, in %s\n", d.File, d.unit().Name)
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "  layer\ttaken for\tpieces\ttexts")
	uses := Uses(d, opt.Layers)
	for i, u := range uses {
		if i == most {
			fmt.Fprintf(w, "  and %d more\n", len(uses)-i)
			break
		}
		role := u.Role.String()
		if u.Hidden && u.Role == Ignore {
			role += ", it is hidden"
		}
		fmt.Fprintf(w, "  %s\t%s\t%d\t%d\n", quote(u.Name), role, u.Pieces, u.Texts)
	}
	w.Flush()
	fmt.Fprintln(w, "  panel\tsize\topenings\tarcs recognised")
	for i := range panels {
		if i == most {
			fmt.Fprintf(w, "  and %d more\n", len(panels)-i)
			break
		}
		p := &panels[i]
		found := p.Recognised
		for k := range p.Openings {
			found = found.Add(p.Openings[k].Recognised)
		}
		arcs := "-"
		if found.Arcs > 0 {
			arcs = fmt.Sprintf("%d in %d segments, %s off at most", found.Arcs, found.Segments, d.distance(float64(found.Deviation)))
		}
		size := p.Outline.Box().Size()
		fmt.Fprintf(w, "  %s\t%s x %s\t%d\t%s\n", p.Name, d.number(float64(size.X)), d.distance(float64(size.Y)), len(p.Openings), arcs)
	}
	w.Flush()
	return b.String()
}
