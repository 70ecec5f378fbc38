package book

import "panelyard/export/pdf"

// Measures of columns in mm.
const (
	tickWide  = 3.4 // of a box to tick
	writeWide = 60  // of a line to write on, where there is room
	shortWide = 24  // texts up to it are not broken
	wordWide  = 45  // words up to it are not broken
)

// fitted is a column with its width, the gap to the next one included.
type fitted struct {
	column
	wide float64
}

// fitted returns the columns of a table with their widths, which together are as wide as
// a page. Columns of measures and numbers are as wide as their widest cell, so that none
// is broken. The others take what is left by their shares, each no less than its longest
// word and no more than its longest line. Cost: the letters of all
// cells.
func (b *book) fitted(columns []column, rows [][]cell) []fitted {
	list := make([]fitted, len(columns))
	room := b.long - 2*margin
	floor, natural := make([]float64, len(columns)), make([]float64, len(columns))
	shares, least := 0.0, columns[0].share
	for i, c := range columns {
		list[i].column = c
		floor[i], natural[i] = widths(&c, i, rows)
		shares, least = shares+c.share, min(least, c.share)
	}
	// The widths that a share of so much a unit gives.
	give := func(unit float64) (total float64) {
		for i := range list {
			c := &list[i]
			c.wide = min(max(c.share*unit, floor[i]), natural[i])
			total += c.wide
		}
		return total
	}
	low, high := 0.0, room/least
	for range 40 {
		if mid := (low + high) / 2; give(mid) > room {
			high = mid
		} else {
			low = mid
		}
	}
	// What is left when no cell needs more, or is missing when even the least is too
	// wide, is for all of them.
	total := give(low)
	for i := range list {
		c := &list[i]
		if total > room {
			c.wide *= room / total
		} else {
			c.wide += (room - total) * c.share / shares
		}
	}
	return list
}

// widths returns the least width of a column and the most that it has a use for, the gap
// to the next one included.
func widths(c *column, i int, rows [][]cell) (floor, natural float64) {
	// A heading may be broken, but not a word of it.
	_, floor = pdf.Widest(c.head, body, pdf.Bold)
	natural = floor
	for _, r := range rows {
		at := &r[i]
		line, word := pdf.Widest(at.text, body, at.face)
		switch {
		case at.form == toTick:
			line, word = tickWide, tickWide
		case at.form == toWrite:
			line, word = writeWide, writeWide/2
		case c.align == left:
			word = min(word, wordWide)
		default:
			word = line
		}
		natural = max(natural, line)
		floor = max(floor, word)
	}
	if natural <= shortWide {
		floor = natural
	}
	// A hair more, so that what just fits is not broken.
	const hair = 1e-6
	return floor + colGap + hair, natural + colGap + hair
}
