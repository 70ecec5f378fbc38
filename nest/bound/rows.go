package bound

import (
	"math"
	"slices"
)

// rows are patterns of a kind of sheet, a byte for the copies of each kind, so that all of them are
// weighed in one go.
type rows struct {
	columns []int32 // of the question; at the end the first comes again
	count   int     // how many there are
	width   int     // of each row, whole blocks
	copies  []uint8
	odds    []float32 // logarithms of their probabilities
	biases  []int32   // what these are worth in the draws of a temperature
}

const (
	// rowBlock is how many kinds a vector register has, and rowsAtOnce of how many patterns what
	// is missing is summed up together.
	rowBlock, rowsAtOnce = 32, 4
	// trust is which share of their odds patterns are drawn by, and leastOdds where these end.
	trust, leastOdds = 0.5, -50
)

// rowWidth returns how wide rows of so many kinds are.
func rowWidth(kinds int) int { return (kinds + rowBlock - 1) / rowBlock * rowBlock }

// newRows returns some patterns of a kind of sheet, with the logarithms of their probabilities, of
// all patterns.
func newRows(t *choice, columns []int32, odds []float64) *rows {
	r := &rows{width: rowWidth(len(t.wanted)), columns: slices.Clone(columns)}
	for _, c := range columns {
		r.odds = append(r.odds, float32(max(odds[c], leastOdds)))
	}
	r.fill(t)
	return r
}

// fill makes the rows of the columns.
func (r *rows) fill(t *choice) {
	r.count = len(r.columns)
	for len(r.columns)%rowsAtOnce > 0 {
		r.columns, r.odds = append(r.columns, r.columns[0]), append(r.odds, r.odds[0])
	}
	r.biases = make([]int32, len(r.columns))
	r.copies = make([]uint8, len(r.columns)*r.width)
	for i, c := range r.columns {
		copy(r.copies[i*r.width:], t.row(c))
	}
}

// drop takes columns out, and reports whether there are others.
func (r *rows) drop(t *choice, columns []int32) bool {
	n := 0
	for i, c := range r.columns[:r.count] {
		if !slices.Contains(columns, c) {
			r.columns[n], r.odds[n] = c, r.odds[i]
			n++
		}
	}
	r.columns, r.odds = r.columns[:n], r.odds[:n]
	if n == 0 {
		return false
	}
	r.fill(t)
	return true
}

// bias makes patterns be drawn as if each had some more energy at a temperature, the less likely
// the more.
func (r *rows) bias(heat float64) {
	h := float32(heat * trust)
	for i, p := range r.odds {
		r.biases[i] = int32(-h * p)
	}
}

// worthAt is where in a list of worths that of a kind is: registers are spread to words by halves.
func worthAt(kind int) int {
	half := kind / 8 % 4
	return kind - kind%rowBlock + [4]int{0, 16, 8, 24}[half] + kind%8
}

// leastPlain works out what each pattern leaves missing: the worths of the copies that are lacked
// and that it does not have, and some noise. It returns the least value. Lists of kinds are as long
// as a row is wide.
func (r *rows) leastPlain(values []int32, lack []uint8, worth []int16, noise []int32) int32 {
	type need struct{ kind, copies, worth int32 }
	var needs []need
	for k, l := range lack {
		if l > 0 {
			needs = append(needs, need{int32(k), int32(l), int32(worth[worthAt(k)])})
		}
	}
	least := int32(math.MaxInt32)
	for i := range r.columns {
		row := r.copies[i*r.width:][:r.width]
		sum := noise[i]
		for _, n := range needs {
			sum += max(n.copies-int32(row[n.kind]), 0) * n.worth
		}
		values[i] = sum
		least = min(least, sum)
	}
	return least
}
