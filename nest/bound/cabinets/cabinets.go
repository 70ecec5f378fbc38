// Package cabinets makes problems for tests and measurements: cabinet jobs as a
// workshop gets them, as many as are wanted, each by its seed.
//
//	seed, wishes -> New -> nest.Problem
package cabinets

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const mm = length.Millimetre

// Wishes say what a job is to be like.
type Wishes struct {
	Panels int // about so many
	Stocks int // kinds of sheet of the carcass board, 1 to 4
}

// sheet is a size that is sold: common sizes of plywood and faced board from data
// sheets of mills, 8 x 4 ft, 10 x 5 ft and the like. The grain runs along the length.
type sheet struct {
	name          string
	length, width length.Length
}

// large sheets take every panel, small ones only some.
func large() []sheet {
	return []sheet{
		{"2440 x 1220", 2440 * mm, 1220 * mm},
		{"2500 x 1250", 2500 * mm, 1250 * mm},
		{"3050 x 1525", 3050 * mm, 1525 * mm},
		{"2800 x 2070", 2800 * mm, 2070 * mm},
		{"3050 x 1220", 3050 * mm, 1220 * mm},
	}
}

func small() []sheet {
	return []sheet{
		{"1525 x 1525", 1525 * mm, 1525 * mm},
		{"2440 x 610", 2440 * mm, 610 * mm},
		{"1220 x 610", 1220 * mm, 610 * mm},
	}
}

// Measures of the construction, as in the worked example of TestBaseUnit.
const (
	board    = 18 * mm
	back     = 6 * mm  // its thickness
	rear     = 12 * mm // from the rear to the groove
	groove   = 9 * mm  // its depth
	loose    = 1 * mm  // a side, of shelves and backs
	setback  = 20 * mm // of shelves, from the front
	gap      = 2 * mm  // round doors
	railWide = 100 * mm
	sawKerf  = 3200 * length.Micrometre
	trim     = 5 * mm
)

// unit is a cabinet: what it measures over all, and what is in it.
type unit struct {
	name                 string
	width, height, depth length.Length
	rails                bool // two instead of a top
	shelves, doors       int
}

// New returns a job of units of a kitchen of sorts, for a saw: carcass boards with
// shelves and doors of one material, backs of another. Panels of equal name and size
// are one part. Same seed and wishes, same job.
func New(seed uint64, w Wishes) *nest.Problem {
	rng := rand.New(rand.NewPCG(seed, 1961))
	j := &job{
		Problem: &nest.Problem{Cut: kerf.Saw, Kerf: sawKerf, Gap: sawKerf, Keep: parts.KeepRule{Short: 100 * mm, Long: 400 * mm}},
		grain:   rng.IntN(4) > 0, // three jobs of four are of board with grain
	}
	j.stock(rng, w.Stocks)
	widths := []length.Length{300 * mm, 400 * mm, 450 * mm, 500 * mm, 600 * mm, 800 * mm, 900 * mm}
	if rng.IntN(3) == 0 {
		// A run that is fitted between walls: its units are no round measure.
		for i := range widths {
			widths[i] += length.Length(rng.IntN(45)) * mm
		}
	}
	rng.Shuffle(len(widths), func(a, b int) { widths[a], widths[b] = widths[b], widths[a] })
	widths = widths[:2+rng.IntN(4)]
	base := []length.Length{720 * mm, 560 * mm}
	wall := []length.Length{[]length.Length{600 * mm, 720 * mm, 900 * mm}[rng.IntN(3)], length.Length(300+10*rng.IntN(6)) * mm}
	tall := []length.Length{length.Length(1950+10*rng.IntN(20)) * mm, 560 * mm}
	for {
		u := unit{width: widths[rng.IntN(len(widths))]}
		switch k := rng.IntN(10); {
		case k < 5:
			u.name, u.height, u.depth, u.rails, u.shelves = "base", base[0], base[1], true, 1
		case k < 9:
			u.name, u.height, u.depth, u.shelves = "wall", wall[0], wall[1], 2
		default:
			u.name, u.height, u.depth, u.shelves = "tall", tall[0], tall[1], 4
		}
		if rng.IntN(5) > 0 {
			u.doors = 1
			if u.width > 600*mm {
				u.doors = 2
			}
		}
		if n := j.Copies(); n > 0 && n+u.panels() > w.Panels {
			break
		}
		j.unit(u)
	}
	return j.Problem
}

// panels returns how many panels a unit has.
func (u unit) panels() int {
	n := 2 + 1 + 1 + u.shelves + 1 + u.doors
	if u.rails {
		n++
	}
	return n
}

type job struct {
	*nest.Problem
	grain bool
}

// stock chooses kinds of sheet and their prices: by area, with a seller's ups and downs.
func (j *job) stock(rng *rand.Rand, kinds int) {
	l, s := large(), small()
	rng.Shuffle(len(l), func(a, b int) { l[a], l[b] = l[b], l[a] })
	rng.Shuffle(len(s), func(a, b int) { s[a], s[b] = s[b], s[a] })
	list := l[:1]
	for _, other := range slices.Concat(l[1:3], s[:1]) {
		if len(list) < kinds {
			list = append(list, other)
		}
	}
	add := func(material string, z sheet, perSquareMetre int64) {
		square := int64(z.length/mm) * int64(z.width/mm) // of which a square metre has 1e6
		cents := perSquareMetre * square / 1_000_000 * int64(92+rng.IntN(17)) / 100
		grain := parts.NoAxis
		if j.grain {
			grain = parts.AlongLength
		}
		size := geom.Pt(z.length, z.width)
		j.Stocks = append(j.Stocks, nest.Stock{
			Name: material + " " + z.name, Material: material, Size: size, Grain: grain, Available: parts.Unlimited,
			Usable: geom.BoxFromSize(geom.Point{}, size).Inset(trim, trim, trim, trim),
			Cost:   cents / 50 * 50 * 100, // whole halves of the currency, in ten-thousandths
		})
	}
	for i, z := range list {
		price := int64(3200)
		if i == 3 {
			price = price * 5 / 4 // small sheets are dear for what they are (common practice, no source)
		}
		add("board 18", z, price)
	}
	add("board 6", l[0], 1400)
}

// unit adds the panels of a unit. The formulas are those of frameless cabinets whose
// sides run the full height (common practice, no source).
func (j *job) unit(u unit) {
	inside := u.width - 2*board
	name := fmt.Sprintf("%s %d ", u.name, u.width/mm)
	j.panel(name+"side", "board 18", 2, u.height, u.depth)
	j.panel(name+"bottom", "board 18", 1, inside, u.depth-rear-back)
	if u.rails {
		j.panel(name+"rail", "board 18", 2, inside, railWide)
	} else {
		j.panel(name+"top", "board 18", 1, inside, u.depth-rear-back)
	}
	j.panel(name+"shelf", "board 18", u.shelves, inside-2*loose, u.depth-rear-back-setback)
	j.panel(name+"back", "board 6", 1, u.height, inside+2*(groove-loose))
	if n := length.Length(u.doors); n > 0 {
		j.panel(name+"door", "board 18", u.doors, u.height-2*gap, (u.width-(n+1)*gap)/n)
	}
}

// panel adds copies of a panel; its grain runs along its length.
func (j *job) panel(name, material string, copies int, l, w length.Length) {
	if copies == 0 {
		return
	}
	size := geom.Pt(l, w)
	k := slices.IndexFunc(j.Parts, func(p nest.Part) bool {
		return cmp.Or(cmp.Compare(p.Name, name), cmp.Compare(p.Blank.X, l), cmp.Compare(p.Blank.Y, w)) == 0
	})
	if k >= 0 {
		j.Parts[k].Copies += copies
		return
	}
	grain := parts.NoAxis
	if j.grain {
		grain = parts.AlongLength
	}
	j.Parts = append(j.Parts, nest.Part{
		Name: name, Material: material, Copies: copies, Blank: size, Grain: grain,
		Shape: geom.Polygon{Outer: geom.BoxFromSize(geom.Point{}, size).Ring()},
	})
}
