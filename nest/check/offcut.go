package check

import (
	"fmt"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
)

// offcuts judges the offcuts of a sheet one by one and returns those that could
// be measured.
func (j *judge) offcuts(sheet int, s *nest.Sheet, stock *nest.Stock) []panel {
	laid := make([]panel, 0, len(s.Offcuts))
	for i, o := range s.Offcuts {
		b := o.Box
		v := func(k Kind, format string, args ...any) {
			j.report(&Violation{
				Kind: k, Sheet: sheet, Index: i, At: b.Min,
				Fact: fmt.Sprintf("offcut %d ", i+1) + fmt.Sprintf(format, args...),
			})
		}
		if !inRange(b.Min) || !inRange(b.Max) {
			v(OutOfRange, "reaches beyond %d units", int64(Limit))
			continue
		}
		dx, dy := b.Max.X-b.Min.X, b.Max.Y-b.Min.Y
		if dx <= 0 || dy <= 0 {
			v(OffcutNotThere, "is empty: %s", spread(b))
			continue
		}
		if !holds(geom.Box{Max: stock.Size}, b) {
			v(OffcutNotThere, "%s reaches beyond the sheet of %s", spread(b), at(stock.Size))
			continue
		}
		rule := j.p.Keep
		if keep := min(dx, dy) >= rule.Short && max(dx, dy) >= rule.Long; keep != o.Keep {
			v(OffcutWrongKeep, "of %v x %v says keep %t, the rule (%v and %v) says %t", dx, dy, o.Keep, rule.Short, rule.Long, keep)
		}
		q := panel{index: i, box: b, offcut: true}
		if j.p.Cut == kerf.Router {
			q.shape = boxRegion(b)
		}
		laid = append(laid, q)
	}
	return laid
}
