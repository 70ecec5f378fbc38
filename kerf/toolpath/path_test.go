package toolpath

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

func asOutline(line []outline.Vertex) outline.Outline { return line }

// The outside of a convex shape moved out by r grows by perimeter·r + π·r², and its
// length by 2·π·r (Steiner's formula, textbook); inside a smooth one it shrinks so.
func TestSteiner(t *testing.T) {
	for _, d := range []float64{1, 6, 12.7, 25} {
		r := d / 2
		for _, o := range []outline.Outline{rect(0, 0, 400, 300), circle(80, 80, 160), slot(0, 0, 300, 60), loopOf(0, 0, 0, 300, 0, 0, 300, 200, 0.2, 0, 200, 0)} {
			run := mustOf(t, named{"", item(parts.NoRelief, o), bit(d)}).List[0]
			want := o.AreaMM2() + o.Perimeter().MM()*r + math.Pi*r*r
			if got := loopArea(run); math.Abs(got-want) > 0.01*o.Perimeter().MM()*0.1 {
				t.Errorf("bit %v round %v: area %.3f, Steiner says %.3f", d, o.Box().Size(), got, want)
			}
			if got, want := run.Length().MM(), o.Perimeter().MM()+2*math.Pi*r; math.Abs(got-want) > 0.002 {
				t.Errorf("bit %v round %v: length %.4f, want %.4f", d, o.Box().Size(), got, want)
			}
		}
	}
}

// Arcs stay arcs about their centres, and outside corners are arcs of the bit's
// radius.
func TestArcsStay(t *testing.T) {
	o := loopOf(0, 0, 0, 300, 0, 0, 300, 200, -0.2, 0, 200, 0)
	run := mustOf(t, named{"", item(parts.NoRelief, o), bit(6)}).List[0]
	was := o.Radius(2) / float64(unit)
	hollow, corners := 0, 0
	for i, v := range run.Line {
		switch r := asOutline(run.Line).Radius(i) / float64(unit); {
		case v.Bulge < 0 && math.Abs(r-(was-3)) < 0.001:
			hollow++
		case v.Bulge > 0 && math.Abs(r-3) < 0.001:
			corners++
		case v.Bulge != 0:
			t.Errorf("an arc of radius %.4f", r)
		}
	}
	if hollow != 1 && hollow != 2 || corners != 4 {
		t.Errorf("%d hollow arcs, %d corners", hollow, corners)
	}
}

// Without an outside tool: no place of a path is nearer to the panel than the bit's
// radius, and every place of the wall is reached or named.
func TestDistance(t *testing.T) {
	for i, c := range append(shapes(), randoms(60)...) {
		ps, list := Of(c.item, c.router, 18*unit)
		if list.Err() != nil {
			t.Errorf("%d %s: %v", i, c.name, list)
			continue
		}
		r := ps.Bit.MM() / 2
		least := math.Inf(1)
		for _, p := range ps.List {
			for _, c := range p.curves() {
				for k := range 41 {
					at := c.at(c.len * float64(k) / 40)
					for _, o := range append([]outline.Outline{ps.Outline}, ps.Openings...) {
						least = min(least, distanceTo(o, at))
					}
				}
			}
		}
		if least < r-0.005 {
			t.Errorf("%d %s: a path is %.4f mm from the panel, radius %v", i, c.name, least, r)
		}
		if strings.Contains(list.Error(), "could not be joined") {
			t.Errorf("%d %s: %v", i, c.name, list)
		}
	}
}

// distanceTo returns the distance in mm of a point in units from an outline, drawn
// as a fine polyline by package outline.
func distanceTo(o outline.Outline, p vec) float64 {
	pts := o.Points(8)
	least := math.Inf(1)
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		ux, uy := b[0]-a[0], b[1]-a[1]
		k := 0.0
		if n := ux*ux + uy*uy; n > 0 {
			k = max(0, min(1, ((p.x-a[0])*ux+(p.y-a[1])*uy)/n))
		}
		least = min(least, math.Hypot(a[0]+k*ux-p.x, a[1]+k*uy-p.y))
	}
	return least / float64(unit)
}

// What the bit does not get to is named with place and width.
func TestNamed(t *testing.T) {
	want := map[string][]string{
		"dumbbell":                       {"8 inside corners", "does not pass beyond (87.8, 70.0), where the walls stand 4.000 mm apart", "(152.2, 70.0)"},
		"bay behind a throat":            {"4 inside corners", "(202.2, 47.0), where the walls stand 4.000", "(147.8, 47.0)"},
		"V notch":                        {"corner at (100.0, 40.0) keeps the radius of the bit, 15.248 mm"},
		"square slot as wide as the bit": {"1.243 mm of board in 2 hollows"},
		"slot as wide as the bit":        {},
		"dumbbell just passed":           {"8 inside corners"},
		"hole under the bit":             {}, // kerf.Build says so
		"fillet under the bit":           {}, // and so
	}
	kinds := map[string]string{
		"slot as wide as the bit": "open2", "square slot as wide as the bit": "open2", "hole as wide as the bit": "open1",
		"dumbbell": "closed8 closed8", "bay behind a throat": "", "hole under the bit": "",
	}
	for _, c := range shapes() {
		ps, list := Of(c.item, c.router, 18*unit)
		if w, ok := want[c.name]; ok {
			if len(list) != len(w) {
				t.Errorf("%s: %d findings, want %d\n%v", c.name, len(list), len(w), list)
			}
			for i := range min(len(w), len(list)) {
				if !strings.Contains(list[i].Fact, w[i]) {
					t.Errorf("%s: %q does not say %q", c.name, list[i].Fact, w[i])
				}
			}
		}
		if k, ok := kinds[c.name]; ok {
			var got []string
			for _, p := range ps.List {
				if p.Kind == Opening {
					got = append(got, map[bool]string{true: "closed", false: "open"}[p.Closed]+strconv.Itoa(len(p.Line)))
				}
			}
			if s := strings.Join(got, " "); s != k {
				t.Errorf("%s: openings %q, want %q", c.name, s, k)
			}
		}
		if n := len(ps.List); n == 0 || ps.List[n-1].Kind != Outline {
			t.Errorf("%s: the outline is not last", c.name)
		}
	}
	// A slot across the axes, narrower than the bit, is not seen by its box.
	_, list := Of(item(parts.NoRelief, rect(0, 0, 200, 200), loopOf(50, 50, 0, 53, 50, 0, 103, 100, 0, 100, 100, 0)), bit(6), 18*unit)
	if len(list) != 1 || !strings.Contains(list[0].Fact, `opening "a" is nowhere as wide as the bit`) {
		t.Errorf("%v", list)
	}
}

// Two arcs that run back along each other may cross within the tolerance of
// outline.Validate. A case found by a seeded search.
func TestTipThatCrosses(t *testing.T) {
	o := loopOf(103.329, 74.361875, 0.025983930223710372, 74.143625, 90.753, 0, 53.603, 103.989, -0.26263691602347167,
		3.50475, 78.22875, -0.5642923147717639, 15.276375, 58.31725, 0, 41.11825, 39.226875, 0.28271952199677275,
		81.52375, 28.811, 0.4042126123773605, 102.19925, 45.87, -0.1554903094850701)
	if err := o.Validate(); err != nil {
		t.Fatal(err)
	}
	if ps, list := Of(item(parts.NoRelief, o), bit(6.35), 18*unit); list.Err() != nil || len(ps.List) != 1 {
		t.Errorf("%d paths, %v", len(ps.List), list)
	}
}

// Climb has the panel on the right of the bit, the outline clockwise (from memory:
// cutter compensation to the left of the contour with a spindle turning clockwise).
func TestDirection(t *testing.T) {
	it := item(parts.NoRelief, rect(0, 0, 400, 300), rect(50, 50, 100, 60))
	for _, c := range []struct {
		dir     parts.Direction
		outline float64
	}{{parts.Climb, -1}, {parts.Conventional, 1}} {
		r := bit(6)
		r.Direction = c.dir
		ps, _ := Of(it, r, 18*unit)
		for _, flip := range []bool{false, true} {
			for _, turn := range []int{0, 90, 180, 270, 15} {
				for _, p := range ps.Place(flip, turn, at(500, 600), 1).List {
					want := c.outline
					if p.Kind == Opening {
						want = -want
					}
					if a := asOutline(p.Line).Area2(); a*want <= 0 {
						t.Errorf("%v flip %t turn %d: %v has area %v", c.dir, flip, turn, p.Kind, a)
					}
				}
			}
		}
	}
}

// A placed path is the path of the placed panel, exactly for quarter turns, and its
// leads stay in the waste.
func TestPlace(t *testing.T) {
	board := loopOf(0, 0, 0, 300, 0, 0, 300, 120, 0.3, 180, 200, 0, 0, 200, 0)
	c := named{"", item(parts.NoRelief, board, rect(30, 30, 80, 50)), bit(6)}
	c.router.Hold = parts.HoldTabs
	ps := mustOf(t, c)
	back := ps.Place(true, 0, geom.Point{}, 1).Place(true, 0, geom.Point{}, 1)
	for i, p := range ps.List {
		q := back.List[i]
		for k, v := range p.Line {
			if q.Line[k].At != v.At || q.Line[k].Bulge != v.Bulge {
				t.Fatalf("flipped twice, vertex %d is %v, was %v", k, q.Line[k], v)
			}
		}
		for k, tab := range p.Tabs {
			if q.Tabs[k] != tab {
				t.Errorf("flipped twice, tab %v, was %v", q.Tabs[k], tab)
			}
		}
	}
	for _, flip := range []bool{false, true} {
		for _, turn := range []int{0, 90, 180, 270, 30} {
			q := ps.Place(flip, turn, at(700, 800), 2)
			for _, p := range q.List {
				if p.Copy != 2 {
					t.Error("the copy is not noted")
				}
				if p.Kind == Opening && (p.Lead == nil || p.Lead[1].At != p.Line[0].At || p.Exit[0].At != p.Line[0].At) {
					t.Errorf("flip %t turn %d: leads do not meet the path", flip, turn)
				}
				for _, c := range p.curves() {
					for k := range 21 {
						x := c.at(c.len * float64(k) / 20)
						for _, o := range append([]outline.Outline{q.Outline}, q.Openings...) {
							if d := distanceTo(o, x); d < 3-0.002 {
								t.Fatalf("flip %t turn %d: the %v comes within %.4f mm", flip, turn, p.Kind, d)
							}
						}
					}
				}
				// The bit comes in tangentially.
				if p.Lead != nil {
					in, on := segment(p.Lead, 0), segment(p.Line, 0)
					if h := in.heading(in.len).dot(on.heading(0)); h < 0.99999 {
						t.Errorf("flip %t turn %d: the lead meets the path at %v", flip, turn, h)
					}
				}
			}
		}
	}
}

// Limits: 10,000 vertices end in seconds, more than MaxVertices are refused, a bit
// without width as well.
func TestLimits(t *testing.T) {
	for name, o := range map[string]outline.Outline{
		"teeth": star(5000, 500, 497), "fine circle": star(5000, 500, 499.99), "deep teeth": star(5000, 1000, 600),
		"all within the bit": star(5000, 30, 27),
	} {
		begin := time.Now()
		d := 6.0
		if o.Box().Dx() < 100*unit {
			d = 50
		}
		ps, list := Of(item(parts.NoRelief, o), bit(d), 18*unit)
		took := time.Since(begin)
		t.Logf("%s: %d vertices, %v, %d findings", name, len(o), took.Round(time.Millisecond), len(list))
		if list.Err() != nil || len(ps.List) == 0 || len(list) > 20 {
			t.Errorf("%s: %d paths, %v", name, len(ps.List), list)
		}
		if took > 30*time.Second {
			t.Errorf("%s took %v", name, took)
		}
	}
	if _, list := Of(item(parts.NoRelief, star(MaxVertices/2+1, 500, 400)), bit(6), 18*unit); list.Err() == nil {
		t.Error("too many vertices were taken")
	}
	if _, list := Of(item(parts.NoRelief, rect(0, 0, 100, 100)), parts.Router{}, 18*unit); list.Err() == nil {
		t.Error("a bit of no width was taken")
	}
	if _, list := Of(item(parts.NoRelief, rect(0, 0, 100, 100)), bit(6), length.Micrometre); list.Err() != nil {
		t.Error(list)
	}
}
