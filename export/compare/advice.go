package compare

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"panelyard/parts/money"
)

// advise says which row to build, and why.
func advise(rows []Row) string {
	var whole []*Row
	fewest := -1 // the row with the fewest panels without a place
	for i := range rows {
		r := &rows[i]
		if r.Whole() {
			whole = append(whole, r)
		} else if r.Planned() && (fewest < 0 || r.Missing < rows[fewest].Missing) {
			fewest = i
		}
	}
	call := func(r *Row) string { return title(r, rows) }
	switch {
	case len(whole) == 0 && fewest < 0:
		return "There is no plan to choose from."
	case len(whole) == 0:
		r := &rows[fewest]
		return fmt.Sprintf("None can be built as it is: every plan leaves panels without a place, %s the fewest (%d).", call(r), r.Missing)
	case len(whole) == 1 && len(rows) == 1:
		return fmt.Sprintf("There is only %s, so there is nothing to choose.", call(whole[0]))
	case len(whole) == 1:
		return fmt.Sprintf("Build %s: it is the only one in which every panel has a place.", call(whole[0]))
	}
	for _, r := range whole {
		if r.Currency != whole[0].Currency {
			return fmt.Sprintf("Costs in %s and %s cannot be compared: choose by the table.", currency(whole[0]), currency(r))
		}
	}
	priced := !slices.ContainsFunc(whole, func(r *Row) bool { return !r.Priced })
	slices.SortStableFunc(whole, func(a, b *Row) int { return rank(a, b, priced) })
	n := 1 // rows that are as good as the first
	for n < len(whole) && rank(whole[0], whole[n], priced) == 0 {
		n++
	}
	return sentence(whole, n, priced, call)
}

// rank compares rows: less cost where everything has a price, then fewer sheets, then
// more area of kept offcuts, to a square millimetre.
func rank(a, b *Row, priced bool) int {
	byCost := 0
	if priced {
		byCost = cmp.Compare(a.Cost, b.Cost)
	}
	return cmp.Or(byCost, cmp.Compare(a.Sheets, b.Sheets), cmp.Compare(keptMM2(b), keptMM2(a)))
}

func keptMM2(r *Row) float64 { return math.Round(r.Areas.Kept) }

// sentence says which of the rows to build, the best first, when the first n are as
// good as each other. Without prices there is no cheapest, and none is called best.
func sentence(rows []*Row, n int, priced bool, call func(*Row) string) string {
	best := rows[0]
	named := func(word string) string { return named(rows[:n], word, call) }
	if !priced {
		const unknown = "Not everything has a price, so the cheapest is not known: "
		if n == len(rows) {
			return fmt.Sprintf("%s%s take as many sheets (%d) with as much to keep.", unknown, named("and"), best.Sheets)
		}
		return fmt.Sprintf("%s%s %s than %s.", unknown, named("or"), tie(best, rows[n]), call(rows[n]))
	}
	var text string
	switch {
	case n == len(rows):
		text = fmt.Sprintf("The difference is nothing: %s cost %s each, on as many sheets and with as much to keep; build the one you like",
			named("and"), sum(best, best.Cost))
	case rows[n].Cost > best.Cost:
		less := rows[n].Cost - best.Cost
		text = fmt.Sprintf("Build %s%s: the cost is the least, %s, which is %s (%s) less than that of %s", named("or"), either(n),
			sum(best, best.Cost), sum(best, less), best.Percent(less.Float()/rows[n].Cost.Float()), call(rows[n]))
	default:
		text = fmt.Sprintf("Build %s%s: the cost is %s as for %s, but it %s", named("or"), either(n), sum(best, best.Cost), call(rows[n]), tie(best, rows[n]))
	}
	return text + open(rows, best.Cost, call) + "."
}

// open says for which rows but the first a plan that was not found may cost less than
// the best: the difference is then within the gap of the bound.
func open(rows []*Row, best money.Amount, call func(*Row) string) string {
	var list []*Row
	for _, r := range rows[1:] {
		if !r.Bound.Proved && r.Bound.Cost+r.Edging < best {
			list = append(list, r)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return fmt.Sprintf("; this is within the gap of the bound, though: a plan that costs less is not ruled out for %s", named(list, "and", call))
}

// named lists rows with a word before the last one. A variant that follows itself is
// there for the other way to cut.
func named(rows []*Row, word string, call func(*Row) string) string {
	var names []string
	for i, r := range rows {
		if i > 0 && rows[i-1].Name == r.Name {
			names[len(names)-1] += fmt.Sprintf(" %s the %v", word, r.Cut)
			continue
		}
		names = append(names, call(r))
	}
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " " + word + " " + names[last]
}

// either says that it does not matter which of several rows is built.
func either(n int) string {
	if n == 1 {
		return ""
	}
	return ", no matter which"
}

// tie says what decides between rows of the same cost: "takes fewer sheets".
func tie(best, next *Row) string {
	if best.Sheets < next.Sheets {
		return fmt.Sprintf("takes fewer sheets (%d, not %d)", best.Sheets, next.Sheets)
	}
	return fmt.Sprintf("leaves more to keep (%s m2, not %s)", best.M2(best.Areas.Kept), next.M2(next.Areas.Kept))
}

// sum writes an amount with the currency of a row.
func sum(r *Row, a money.Amount) string {
	return strings.TrimSpace(r.write.Amount(a) + " " + r.Currency)
}

func currency(r *Row) string {
	if r.Currency == "" {
		return "no currency"
	}
	return r.Currency
}
