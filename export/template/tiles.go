package template

import (
	"fmt"
	"math"
	"strconv"

	"panelyard/export/pdf"
)

// MaxPages is how many pages of the panel a template may have.
const MaxPages = 400

// clearance is how far the panel at least stays from the edges of the outer windows,
// so that its outline is not mistaken for them, in mm.
const clearance = 3.0

// grid is windows of one size over the panel, row by row from the upper left.
type grid struct {
	cols, rows    int
	w, h, overlap float64
	x0, y1        float64 // upper left corner of the first window
	inked, joins  []bool  // by row*cols+col: something is drawn there; or it joins others
}

// newGrid spreads windows of a size over a box, their overlap and what they stand over
// it evenly.
func newGrid(box Rect, w, h, overlap float64) grid {
	number := func(l, window float64) int {
		return 1 + max(0, int(math.Ceil((l+2*clearance-window)/(window-overlap)-1e-9)))
	}
	g := grid{cols: number(box.width(), w), rows: number(box.height(), h), w: w, h: h, overlap: overlap}
	span := g.span()
	g.x0 = box.X0 - (span.width()-box.width())/2
	g.y1 = box.Y1 + (span.height()-box.height())/2
	g.inked, g.joins = make([]bool, g.cols*g.rows), make([]bool, g.cols*g.rows)
	return g
}

// span returns what all windows cover together.
func (g grid) span() Rect {
	first, last := g.window(0, 0), g.window(g.rows-1, g.cols-1)
	return Rect{first.X0, last.Y0, last.X1, first.Y1}
}

// window returns a window in coordinates of the panel.
func (g grid) window(row, col int) Rect {
	x, y := g.x0+float64(col)*(g.w-g.overlap), g.y1-float64(row)*(g.h-g.overlap)
	return Rect{x, y - g.h, x + g.w, y}
}

// name returns the name of a page: B3. Rows after Z are AA, AB, ...
func (g grid) name(row, col int) string {
	letters := ""
	for row++; row > 0; row = (row - 1) / 26 {
		letters = string(rune('A'+(row-1)%26)) + letters
	}
	return letters + strconv.Itoa(col+1)
}

// printed reports whether a window is printed; beyond the grid nothing is.
func (g grid) printed(row, col int) bool {
	return row >= 0 && row < g.rows && col >= 0 && col < g.cols && (g.inked[row*g.cols+col] || g.joins[row*g.cols+col])
}

// pages returns how many windows are printed.
func (g grid) pages() int {
	n := 0
	for i := range g.inked {
		if g.inked[i] || g.joins[i] {
			n++
		}
	}
	return n
}

// ink marks the windows in which a line with the width of the pen shows. Cost: the
// rows, and what is marked.
func (g grid) ink(a, b pdf.Point) {
	half := outlinePen.Width / 2
	step := g.w - g.overlap
	top, bottom := max(a.Y, b.Y)+half, min(a.Y, b.Y)-half
	first := max(0, int(math.Ceil((g.y1-g.h-top)/(g.h-g.overlap))))
	last := min(g.rows-1, int(math.Floor((g.y1-bottom)/(g.h-g.overlap))))
	for row := first; row <= last; row++ {
		w := g.window(row, 0)
		from, to, ok := clip(a, b, Rect{math.Inf(-1), w.Y0 - half, math.Inf(1), w.Y1 + half})
		if !ok {
			continue
		}
		x, y := a.X+from*(b.X-a.X), a.X+to*(b.X-a.X)
		left, right := min(x, y)-half-g.x0, max(x, y)+half-g.x0
		for col := max(0, int(math.Ceil((left-g.w)/step))); col <= min(g.cols-1, int(math.Floor(right/step))); col++ {
			g.inked[row*g.cols+col] = true
		}
	}
}

// join adds pages without ink until every page is a neighbour, by a side, of another
// and all hang together: an opening amid a large panel would have no place otherwise.
// Pages are added along shortest ways from the part that holds the first page to the
// nearest one outside. Cost: the windows for each part.
func (g grid) join() {
	for {
		way := g.way()
		if way == nil {
			return
		}
		for _, i := range way {
			g.joins[i] = !g.inked[i]
		}
	}
}

// way returns the windows without a page on a shortest way between the part of the
// first page and another one; nil when there is one part.
func (g grid) way() []int {
	from := make([]int, len(g.inked)) // the window before, plus one; 0 is not reached
	var queue, next []int
	reach := func(i, before int) {
		if from[i] == 0 {
			from[i] = before + 1
			queue = append(queue, i)
		}
	}
	each := func(i int, f func(j int)) {
		row, col := i/g.cols, i%g.cols
		for _, d := range [4][2]int{{-1, 0}, {0, -1}, {0, 1}, {1, 0}} {
			if r, c := row+d[0], col+d[1]; r >= 0 && r < g.rows && c >= 0 && c < g.cols {
				f(r*g.cols + c)
			}
		}
	}
	is := func(i int) bool { return g.inked[i] || g.joins[i] }
	for i := range g.inked {
		if is(i) {
			reach(i, i)
			break
		}
	}
	for k := 0; k < len(queue); k++ { // the part of the first page
		each(queue[k], func(j int) {
			if is(j) {
				reach(j, j)
			}
		})
	}
	for len(queue) > 0 {
		next, queue = queue, nil
		for _, i := range next {
			found := -1
			each(i, func(j int) {
				if from[j] == 0 && is(j) && found < 0 {
					found = j
				}
				reach(j, i)
			})
			if found >= 0 {
				var way []int
				for ; !is(i); i = from[i] - 1 {
					way = append(way, i)
				}
				return way
			}
		}
	}
	return nil
}

// mark is a registration mark: a cross at one place of the panel on all the pages that
// show it.
type mark struct {
	at     pdf.Point
	number string
}

// marks returns the marks that two pages or more show: in the overlap of neighbours two
// on each side, a quarter of the way from its ends, and one where four pages meet.
func (g grid) marks() []mark {
	var xs, ys []float64 // middles of the overlaps
	for c := 1; c < g.cols; c++ {
		xs = append(xs, g.x0+float64(c)*(g.w-g.overlap)+g.overlap/2)
	}
	for r := 1; r < g.rows; r++ {
		ys = append(ys, g.y1-float64(r)*(g.h-g.overlap)-g.overlap/2)
	}
	var list []mark
	add := func(x, y float64, pages ...bool) {
		n := 0
		for _, p := range pages {
			if p {
				n++
			}
		}
		if n >= 2 {
			list = append(list, mark{pdf.Point{X: x, Y: y}, strconv.Itoa(len(list) + 1)})
		}
	}
	for r := range g.rows {
		for c := range g.cols {
			w := g.window(r, c)
			here, right, below := g.printed(r, c), g.printed(r, c+1), g.printed(r+1, c)
			for _, k := range [2]float64{0.25, 0.75} {
				if c < len(xs) {
					add(xs[c], w.Y1-k*g.h, here, right)
				}
			}
			for _, k := range [2]float64{0.25, 0.75} {
				if r < len(ys) {
					add(w.X0+k*g.w, ys[r], here, below)
				}
			}
			if c < len(xs) && r < len(ys) {
				add(xs[c], ys[r], here, right, below, g.printed(r+1, c+1))
			}
		}
	}
	return list
}

// tooMany is the error of a template with too many pages.
func (g grid) tooMany(paper string) (fact, remedy string) {
	return fmt.Sprintf("it takes %d pages of %s, %d at most", g.pages(), paper, MaxPages),
		"take larger paper, such as --paper a3, or --svg, which has no pages, and let a plotter or a copy shop print it"
}
