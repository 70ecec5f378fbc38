package check

import (
	"fmt"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
)

// problem reads the problem itself, and notes what is sound enough to go on.
func (j *judge) problem() {
	v := func(index int, name, format string, args ...any) {
		j.report(&Violation{
			Kind: BadProblem, Sheet: -1, Index: index, Part: name, Fact: fmt.Sprintf(format, args...),
		})
	}
	j.cutOK = true
	switch p := j.p; {
	case p.Cut != kerf.Saw && p.Cut != kerf.Router:
		v(-1, "", "unknown way to cut %d", int(p.Cut))
		j.cutOK = false
	case p.Gap < 0 || p.Gap > Limit || p.Kerf < 0 || p.Kerf > Limit:
		v(-1, "", "kerf %d or gap %d units is negative or too large", int64(p.Kerf), int64(p.Gap))
		j.cutOK = false
	case p.Apart < 0 || p.Apart > Limit:
		v(-1, "", "%d units between panels that share a blank", int64(p.Apart))
		j.cutOK = false
	case p.Cut == kerf.Saw && p.Kerf%2 != 0:
		v(-1, "", "kerf %v is an odd number of units and has no half", p.Kerf)
		j.cutOK = false
	}
	if j.p.Strip && j.p.Apart > 0 {
		v(-1, "", "a strip with shared blanks")
	}
	if j.p.Strip && len(j.p.Stocks) != 1 {
		v(-1, "", "a strip with %d stocks", len(j.p.Stocks))
	}
	j.partOK = make([]bool, len(j.p.Parts))
	for i := range j.p.Parts {
		part := &j.p.Parts[i]
		if part.Copies < 0 {
			v(i, part.Name, "%d copies", part.Copies)
		}
		why := partFault(part, j.p.Cut)
		if why != "" {
			v(i, part.Name, "%s", why)
		}
		j.partOK[i] = why == ""
	}
	j.stockOK = make([]bool, len(j.p.Stocks))
	for i := range j.p.Stocks {
		stock := &j.p.Stocks[i]
		if stock.Available < 0 && stock.Available != parts.Unlimited {
			v(i, stock.Name, "%d sheets available", stock.Available)
		}
		why := stockFault(stock)
		if why != "" {
			v(i, stock.Name, "%s", why)
		}
		j.stockOK[i] = why == ""
	}
}

// stockFault says what is wrong with a stock, or nothing. A usable area
// without an area is sound: nothing fits on the sheet, which is the plan's
// affair.
func stockFault(s *nest.Stock) string {
	switch {
	case s.Size.X <= 0 || s.Size.Y <= 0 || !inRange(s.Size):
		return fmt.Sprintf("size (%d, %d) units", int64(s.Size.X), int64(s.Size.Y))
	case !inRange(s.Usable.Min) || !inRange(s.Usable.Max):
		return "usable area out of range"
	case s.Usable.Min.X < s.Usable.Max.X && s.Usable.Min.Y < s.Usable.Max.Y && !holds(geom.Box{Max: s.Size}, s.Usable):
		return fmt.Sprintf("usable area %s is not on the sheet", spread(s.Usable))
	}
	return ""
}

// partFault says what is wrong with a part, or nothing.
func partFault(t *nest.Part, cut kerf.Cut) string {
	if len(t.Shape.Outer) < 3 {
		return fmt.Sprintf("outline of %d points", len(t.Shape.Outer))
	}
	for _, p := range t.Shape.Outer {
		if !inRange(p) {
			return fmt.Sprintf("outline point (%d, %d) units", int64(p.X), int64(p.Y))
		}
	}
	box := boxOf(t.Shape.Outer)
	for _, h := range t.Shape.Holes {
		if len(h) < 3 {
			return fmt.Sprintf("hole of %d points", len(h))
		}
		if !holds(box, boxOf(h)) {
			return "a hole beyond the outline"
		}
	}
	size := box.Max
	switch {
	case box.Min != geom.Point{}:
		return fmt.Sprintf("outline starts at %s, not at the origin", at(box.Min))
	case size.X == 0 || size.Y == 0 || area2(t.Shape.Outer) == 0:
		return "outline without area"
	case !inRange(t.Blank) || !inRange(t.Inset):
		return "blank or inset out of range"
	case t.Inset.X < 0 || t.Inset.Y < 0 || t.Inset.X+size.X > t.Blank.X || t.Inset.Y+size.Y > t.Blank.Y:
		return fmt.Sprintf("outline of %s does not lie in the blank of %s at %s", at(size), at(t.Blank), at(t.Inset))
	case cut == kerf.Router && t.Blank != size:
		return fmt.Sprintf("blank of %s for the router is not the box of the outline, %s", at(t.Blank), at(size))
	}
	return ""
}

// copies checks that every copy is placed once or counted as unplaced.
// Time and memory are linear in the plan, not in the copies asked for.
func (j *judge) copies() {
	type key struct{ part, copy int }
	seen := make(map[key]int)             // sheet of the first
	placed := make([]int, len(j.p.Parts)) // different copies
	for si := range j.plan.Sheets {
		for i, pl := range j.plan.Sheets[si].Placements {
			if pl.Part < 0 || pl.Part >= len(j.p.Parts) {
				j.report(&Violation{
					Kind: NoSuchPart, Sheet: si, Index: i, Copy: pl.Copy, At: pl.At,
					Fact: fmt.Sprintf("part %d of %d", pl.Part, len(j.p.Parts)),
				})
				continue
			}
			part := &j.p.Parts[pl.Part]
			v := &Violation{Sheet: si, Index: i, Part: part.Name, Copy: pl.Copy, At: pl.At}
			first, twice := seen[key{pl.Part, pl.Copy}]
			switch {
			case pl.Copy < 1 || pl.Copy > part.Copies:
				v.Kind, v.Fact = NoSuchCopy, fmt.Sprintf("copy %d of %d", pl.Copy, part.Copies)
				j.report(v)
			case twice:
				v.Kind, v.Fact = CopyTwice, fmt.Sprintf("also on sheet %d", first+1)
				j.report(v)
			default:
				seen[key{pl.Part, pl.Copy}] = si
				placed[pl.Part]++
			}
		}
	}
	unplaced := make([]int, len(j.p.Parts))
	for i, u := range j.plan.Unplaced {
		v := &Violation{Sheet: -1, Index: i}
		if u.Part < 0 || u.Part >= len(j.p.Parts) {
			v.Kind, v.Fact = NoSuchPart, fmt.Sprintf("unplaced part %d of %d", u.Part, len(j.p.Parts))
			j.report(v)
			continue
		}
		v.Part = j.p.Parts[u.Part].Name
		// Comparing before adding keeps sums of wild numbers from wrapping.
		if left := j.p.Parts[u.Part].Copies - placed[u.Part] - unplaced[u.Part]; u.Copies < 1 || u.Copies > left {
			v.Kind, v.Fact = WrongCount, fmt.Sprintf("%d unplaced copies, %d are left", u.Copies, left)
			j.report(v)
			continue
		}
		unplaced[u.Part] += u.Copies
	}
	for i := range j.p.Parts {
		part := &j.p.Parts[i]
		if missing := part.Copies - placed[i] - unplaced[i]; missing > 0 {
			j.report(&Violation{
				Kind: WrongCount, Sheet: -1, Index: i, Part: part.Name,
				Fact: fmt.Sprintf("%d copies, %d placed and %d unplaced", part.Copies, placed[i], unplaced[i]),
			})
		}
	}
}

// stocks checks how many sheets are used.
func (j *judge) stocks() {
	used := make([]int, len(j.p.Stocks))
	for i := range j.plan.Sheets {
		if s := j.plan.Sheets[i].Stock; s >= 0 && s < len(used) {
			used[s]++
		}
	}
	for i := range j.p.Stocks {
		s := &j.p.Stocks[i]
		if s.Available != parts.Unlimited && used[i] > max(s.Available, 0) {
			j.report(&Violation{
				Kind: StockRanOut, Sheet: -1, Index: i, Part: s.Name,
				Fact: fmt.Sprintf("%d sheets used, %d available", used[i], s.Available),
			})
		}
	}
	if n := len(j.plan.Sheets); j.p.Strip && n > 1 {
		j.report(&Violation{Kind: SecondStrip, Sheet: 1, Index: -1, Fact: fmt.Sprintf("%d sheets", n)})
	}
}

// turnFault says what is wrong with a turn, or nothing.
//
//	part \ sheet   none          length    width
//	none           0 90 180 270  same      same
//	length         same          0 180     90 270
//	width          same          90 270    0 180
func (j *judge) turnFault(t *nest.Part, s *nest.Stock, turn int) string {
	if turn < 0 || turn >= 360 {
		return fmt.Sprintf("turned by %d degrees, not 0 to 359", turn)
	}
	if j.p.Cut == kerf.Saw && turn%90 != 0 {
		return fmt.Sprintf("turned by %d degrees, a saw needs a quarter turn", turn)
	}
	if t.Turns != nil {
		for _, a := range t.Turns {
			if a == turn {
				return ""
			}
		}
		return fmt.Sprintf("turned by %d degrees, allowed is one of %d turns", turn, len(t.Turns))
	}
	if turn%90 != 0 {
		return fmt.Sprintf("turned by %d degrees, not a quarter turn", turn)
	}
	grained := t.Grain != parts.NoAxis && s.Grain != parts.NoAxis
	if t.OneWay {
		// As drawn; where grain crosses, by a quarter turn.
		want := 0
		if grained && t.Grain != s.Grain {
			want = 90
		}
		if turn != want {
			return fmt.Sprintf("turned by %d degrees, its board has one way up", turn)
		}
		return ""
	}
	half := turn == 0 || turn == 180
	if grained && (t.Grain == s.Grain) != half {
		return fmt.Sprintf("turned by %d degrees: grain of the part runs along its %v, of the sheet along its %v", turn, t.Grain, s.Grain)
	}
	return ""
}

// boxOf returns the box of a ring of one point or more.
func boxOf(r []geom.Point) geom.Box {
	b := geom.Box{Min: r[0], Max: r[0]}
	for _, p := range r[1:] {
		b.Min.X, b.Min.Y = min(b.Min.X, p.X), min(b.Min.Y, p.Y)
		b.Max.X, b.Max.Y = max(b.Max.X, p.X), max(b.Max.Y, p.Y)
	}
	return b
}

// area2 returns twice the signed area of a ring. Sums may wrap on the way; the
// result is exact, being at most 2^61.
func area2(r []geom.Point) int64 {
	var sum int64
	for i := 1; i+1 < len(r); i++ {
		sum += cross(r[0], r[i], r[i+1])
	}
	return sum
}

// cross returns twice the signed area of the triangle a, b, c.
func cross(a, b, c geom.Point) int64 {
	return int64(b.X-a.X)*int64(c.Y-a.Y) - int64(b.Y-a.Y)*int64(c.X-a.X)
}
