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
}

const (
	// rowBlock is how many kinds a vector register has, and rowsAtOnce of how many patterns what
	// is missing is summed up together.
	rowBlock, rowsAtOnce = 32, 4
)

// rowWidth returns how wide rows of so many kinds are.
func rowWidth(kinds int) int { return (kinds + rowBlock - 1) / rowBlock * rowBlock }

// newRows returns the first patterns of a kind of sheet, up to most of those that are listed, and
// those of the program, which come last; nil when there are none.
func newRows(t *choice, sheet, most int) *rows {
	r := &rows{width: rowWidth(len(t.wanted))}
	for c := range t.columns {
		if t.columns[c].sheet == sheet && (len(r.columns) < most || c >= t.listed) {
			r.columns = append(r.columns, int32(c))
		}
	}
	if len(r.columns) == 0 {
		return nil
	}
	r.fill(t)
	return r
}

// fill makes the rows of the columns.
func (r *rows) fill(t *choice) {
	r.count = len(r.columns)
	for len(r.columns)%rowsAtOnce > 0 {
		r.columns = append(r.columns, r.columns[0])
	}
	r.copies = make([]uint8, len(r.columns)*r.width)
	for i, c := range r.columns {
		copy(r.copies[i*r.width:], t.row(c))
	}
}

// drop takes columns out, and reports whether there are others.
func (r *rows) drop(t *choice, columns []int32) bool {
	r.columns = slices.DeleteFunc(r.columns[:r.count], func(c int32) bool { return slices.Contains(columns, c) })
	if len(r.columns) == 0 {
		return false
	}
	r.fill(t)
	return true
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
