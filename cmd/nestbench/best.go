package main

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// bestKnownFile lies beside strip instances. Its lines are separated by tabs;
// lines with # are remarks, and the first other line names the columns. The
// columns name and best_length are read; where an instance has no best_length,
// it follows from the density in percent in the column best2025_best.
const bestKnownFile = "best_known_strip.tsv"

// addBestKnown gives each strip its best known length: the optimum of its own
// file, or that of the table beside it.
func addBestKnown(list []*instance) []error {
	tables := map[string]map[string]bestKnown{}
	var faults []error
	for _, in := range list {
		if !in.strip() {
			continue
		}
		if in.bestLength = in.OptimalLength; in.bestLength > 0 {
			continue
		}
		dir := filepath.Dir(in.file)
		table, read := tables[dir]
		if !read {
			var err error
			if table, err = readBestKnown(filepath.Join(dir, bestKnownFile)); err != nil {
				faults = append(faults, err)
			}
			tables[dir] = table
		}
		b := table[in.Name]
		if in.bestLength = b.length; b.length == 0 && b.density > 0 {
			in.bestLength = in.area / (in.Container.Width * b.density / 100)
		}
	}
	return faults
}

// bestKnown is the best known length of a strip, or its density in percent.
type bestKnown struct{ length, density float64 }

// readBestKnown reads a table; one that is not there is empty.
func readBestKnown(file string) (map[string]bestKnown, error) {
	f, err := os.Open(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	table := map[string]bestKnown{}
	var columns []string
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		if strings.HasPrefix(lines.Text(), "#") || strings.TrimSpace(lines.Text()) == "" {
			continue
		}
		cells := strings.Split(lines.Text(), "\t")
		if columns == nil {
			columns = cells
			if !slices.Contains(columns, "name") {
				return nil, fmt.Errorf("%s:%d: no column name", file, n)
			}
			continue
		}
		cell := func(column string) string {
			if i := slices.Index(columns, column); i >= 0 && i < len(cells) {
				return strings.TrimSpace(cells[i])
			}
			return ""
		}
		number := func(column string) (float64, error) {
			if cell(column) == "" {
				return 0, nil
			}
			v, err := strconv.ParseFloat(cell(column), 64)
			if err != nil || !positive(v) {
				return 0, fmt.Errorf("%s:%d: %s %q: want a number above 0", file, n, column, cell(column))
			}
			return v, nil
		}
		l, err1 := number("best_length")
		d, err2 := number("best2025_best")
		if err := errors.Join(err1, err2); err != nil {
			return nil, err
		}
		table[cell("name")] = bestKnown{l, d}
	}
	return table, lines.Err()
}

// largeFamily is the number of instances from which a family is a set of its own.
const largeFamily = 5

// assignSets puts each instance into a set: its folder, and within it the family,
// the letters its name begins with, when that is large. Strips and bins are apart.
func assignSets(list []*instance) {
	members := map[string]int{}
	key := func(in *instance) (folder, family string) {
		dir, err := filepath.Abs(filepath.Dir(in.file))
		if err != nil {
			dir = filepath.Dir(in.file)
		}
		folder = filepath.Base(dir)
		if i := strings.IndexFunc(in.Name, func(r rune) bool { return r >= '0' && r <= '9' }); i > 0 {
			return folder, folder + "/" + strings.TrimRight(in.Name[:i], "-_ .")
		}
		return folder, folder + "/" + in.Name
	}
	for _, in := range list {
		_, family := key(in)
		members[in.Container.Kind+" "+family]++
	}
	for _, in := range list {
		folder, family := key(in)
		if in.set = folder; members[in.Container.Kind+" "+family] >= largeFamily {
			in.set = family
		}
	}
}
