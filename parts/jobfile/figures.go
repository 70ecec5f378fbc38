package jobfile

import (
	"fmt"
	"strconv"
	"strings"

	"panelyard/parts"
	"panelyard/parts/length"
)

// figures reads how the papers write numbers.
func (r *reader) figures(top *group) {
	v := top.get("figures")
	if v == nil || v.shape == null {
		return
	}
	g := r.group(v, "", "figures", "write {units: in, fraction: 16, decimal: point, thousands: comma}")
	if g == nil {
		return
	}
	f := &r.out.Figures
	switch g.choice("units", "", "mm", "in") {
	case "mm":
		f.Unit = length.MM
	case "in":
		f.Unit = length.IN
	}
	if s, at := g.word("fraction"); at != nil {
		n, err := strconv.ParseInt(strings.TrimPrefix(s, "1/"), 10, 64)
		if f.Fraction = n; err != nil || n == 0 {
			g.add(at, fmt.Sprintf("fraction: %s is no part of an inch", clip(s)), "write 16, 32 or 64")
			f.Fraction = 0
		}
	}
	f.Comma = g.choice("decimal", "point", "point", "comma") == "comma"
	f.Thousands = parts.Thousands[g.choice("thousands", "none", parts.ThousandsNames...)]
	if err := f.Check(r.out.Units); err != nil {
		g.add(v, err.Error(), "change one of the keys of figures")
	}
	g.done("units", "fraction", "decimal", "thousands")
}
