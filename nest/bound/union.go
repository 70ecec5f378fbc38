package bound

import "slices"

// filling is a pattern of a kind of sheet, to be found again by.
type filling struct {
	sheet  int
	copies string
}

// known returns the patterns that there are.
func (t *choice) known() map[filling]bool {
	list := make(map[filling]bool, len(t.columns))
	for c := range t.columns {
		list[filling{t.columns[c].sheet, string(t.row(int32(c)))}] = true
	}
	return list
}

// addOf adds the patterns of another question, if any, that t does not have, and reports whether t
// had some that the other one had not.
func (t *choice) addOf(other *choice) bool {
	if other == nil || !slices.Equal(t.wanted, other.wanted) {
		return true
	}
	known := t.known()
	for c := range other.columns {
		if sheet, row := other.columns[c].sheet, other.row(int32(c)); !known[filling{sheet, string(row)}] {
			t.addRow(sheet, row)
		}
	}
	return len(t.columns) > len(other.columns)
}

// addFound adds the patterns of the program's solutions, as far as there are copies: in the list of
// the heaviest a kind may be missing. In rasters that round they are left out: of some thirty that
// were met in the plans of three jobs, none was a pattern in true sizes.
func (t *choice) addFound() {
	known := t.known()
	copies := make([]uint8, len(t.wanted))
	for _, f := range t.p.found[t.p.coarse:] {
		for k, m := range f.counts {
			copies[k] = uint8(min(int(m), copiesOf(t.lister.limit, k)))
		}
		if s := (filling{f.sheet, string(copies)}); t.mix[f.sheet] > 0 && !known[s] {
			known[s] = true
			t.addRow(f.sheet, copies)
		}
	}
}
