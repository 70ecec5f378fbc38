package xlsx

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/export"
)

// order says where in the plan a sheet of an ID comes.
type order struct {
	of  map[string]int
	ids []string
}

func newOrder(sheets []export.SheetMap) order {
	o := order{of: map[string]int{}}
	for i := range sheets {
		o.of[sheets[i].ID] = i
		o.ids = append(o.ids, sheets[i].ID)
	}
	return o
}

// onSheets lists the sheets of some copies: "S1 (2), S3 to S9 (4 each)". Three
// sheets or more that follow each other and hold as many copies are taken
// together. An ID that is no sheet's stands for a copy without a place.
func onSheets(ids []string, o order) string {
	copies := map[int]int{}
	unplaced := 0
	for _, id := range ids {
		if n, ok := o.of[id]; ok {
			copies[n]++
		} else {
			unplaced++
		}
	}
	numbers := make([]int, 0, len(copies))
	for n := range copies {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	var list []string
	for i := 0; i < len(numbers); {
		k := i + 1
		for k < len(numbers) && numbers[k] == numbers[k-1]+1 && copies[numbers[k]] == copies[numbers[i]] {
			k++
		}
		n := copies[numbers[i]]
		if k-i > 2 {
			s := o.ids[numbers[i]] + " to " + o.ids[numbers[k-1]]
			if n > 1 {
				s += fmt.Sprintf(" (%d each)", n)
			}
			list = append(list, s)
		} else {
			for _, m := range numbers[i:k] {
				s := o.ids[m]
				if n > 1 {
					s += fmt.Sprintf(" (%d)", n)
				}
				list = append(list, s)
			}
		}
		i = k
	}
	if unplaced > 0 {
		list = append(list, fmt.Sprintf("NOT PLACED (%d)", unplaced))
	}
	return strings.Join(list, ", ")
}
