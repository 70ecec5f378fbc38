package rest_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/nest/choose"
	"panelyard/nest/order"
	"panelyard/nest/rest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// job returns a random job of one material: rectangles, a curved panel, one or two
// kinds of sheet, perhaps few of them, and perhaps an offcut.
func job(rng *rand.Rand) *parts.Job {
	j := &parts.Job{
		Name: "Tide-table kiosk", Tolerance: parts.DefaultTolerance, Saw: parts.DefaultSaw(parts.SawKind(rng.IntN(3))),
		Router: parts.Router{Bit: parts.DefaultBit, Gap: parts.DefaultGap, Margin: parts.DefaultMargin},
		Keep:   parts.KeepRule{Short: parts.DefaultKeepShort, Long: parts.DefaultKeepLong},
		Materials: []parts.Material{
			{Name: "birch 18", Nominal: 18 * mm, Measured: 18 * mm, Density: 685, Grained: true, GoodFaces: 1},
		},
	}
	sheet := func(name string, l, w length.Length, available int) {
		j.Stock = append(j.Stock, parts.Stock{
			Name: name, Material: "birch 18", Length: l, Width: w, Grain: parts.AlongLength, Price: money.Amount(l/mm) * money.One / 30, Priced: true,
			Available: available, Trim: parts.Trim{Left: 5 * mm, Right: 5 * mm, Bottom: 5 * mm, Top: 5 * mm},
		})
	}
	sheet("large", 2440*mm, 1220*mm, []int{parts.Unlimited, 6}[rng.IntN(2)])
	sheet("small", 1525*mm, 1525*mm, parts.Unlimited)
	if rng.IntN(2) == 0 {
		sheet("offcut", 800*mm, 600*mm, 1)
		s := &j.Stock[2]
		s.Offcut, s.Trim, s.Price = true, parts.Trim{}, 0
	}
	for i := range 2 + rng.IntN(6) {
		l, w := length.Length(200+rng.IntN(900))*mm, length.Length(100+rng.IntN(500))*mm
		o := outline.Rectangle(l, w)
		if i == 0 {
			o = outline.RoundedRectangle(l, w, [4]length.Length{80 * mm, 0, 0, 50 * mm})
		}
		j.Panels = append(j.Panels, parts.Panel{
			Name: fmt.Sprint("panel ", i), Quantity: 1 + rng.IntN(4), Material: "birch 18", Grain: parts.AlongLength,
			Outline: o, Edging: make([]string, len(o)),
		})
	}
	return j
}

// planned returns the plan of a job.
func planned(t *testing.T, j *parts.Job, cut kerf.Cut) (*kerf.Demand, *nest.Problem, *nest.Plan) {
	t.Helper()
	d, list := kerf.Build(j, cut)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	p := nest.FromDemand(d)
	r, err := choose.Plan(context.Background(), p, nest.Settings{Seed: 3, Budget: 3})
	if err != nil {
		t.Fatal(err)
	}
	return d, p, r.Plan
}

// Work stops at any cut, some panels are spoiled, and the job goes on: what is done
// stays done, every copy is done or missing and never both, pieces lie clear of what
// is done and of each other, and the plan that goes on is accepted for what there is.
func TestGoesOn(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	partly, spoiled, pieces := 0, 0, 0
	for round := range 120 {
		cut := kerf.Cut(round % 4 / 3) // the router now and then
		d, p, plan := planned(t, job(rng), cut)
		st := rest.State{Cuts: map[int]int{}}
		for i := range plan.Sheets {
			switch rng.IntN(3) {
			case 0:
				st.Cuts[i] = rest.All
			case 1:
				if cut == kerf.Saw {
					st.Cuts[i] = rng.IntN(len(plan.Sheets[i].Cuts) + 1)
					partly++
				}
			}
		}
		before, err := rest.Of(p, plan, st)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range before.Done {
			if rng.IntN(4) == 0 {
				st.Spoiled = append(st.Spoiled, x.Panel)
				spoiled++
			}
		}
		left, err := rest.Of(p, plan, st)
		if err != nil {
			t.Fatal(err)
		}
		pieces += len(left.Pieces)
		if len(left.Done)+len(st.Spoiled) != len(before.Done) || !slices.EqualFunc(left.Pieces, before.Pieces, func(a, b rest.Piece) bool { return a.Box == b.Box }) {
			t.Fatalf("spoiling %d of %d panels leaves %d", len(st.Spoiled), len(before.Done), len(left.Done))
		}
		count(t, p, left)
		clear(t, p, plan, left)
		ids := make([]string, len(plan.Sheets))
		for i := range ids {
			ids[i] = fmt.Sprintf("S%d", i+1)
		}
		next := left.Job(d, plan, ids, true)
		wanted := 0
		for _, q := range next.Panels {
			if q.Quantity != len(q.Numbers) || q.Of < q.Quantity {
				t.Errorf("%s: %d of %d, numbers %v", q.Name, q.Quantity, q.Of, q.Numbers)
			}
			wanted += q.Quantity
		}
		d2, p2, plan2 := planned(t, next, cut) // judged by choose
		if plan2.Placed()+unplaced(plan2) != wanted {
			t.Errorf("%d panels to go on with, the plan has %d", wanted, plan2.Placed())
		}
		if len(plan.Unplaced) == 0 && len(plan2.Unplaced) > 0 && len(st.Spoiled) == 0 {
			t.Logf("round %d: %d panels that had a place have none now", round, unplaced(plan2))
		}
		asPlanned(t, p, plan, left, d, ids, d2, p2)
		balance(t, left, st, d, plan, next, d2, plan2)
		if t.Failed() {
			t.Fatalf("round %d", round)
		}
	}
	if partly == 0 || spoiled == 0 || pieces == 0 {
		t.Errorf("%d sheets cut in part, %d spoiled, %d pieces: the test shows nothing", partly, spoiled, pieces)
	}
}

// balance wants every board and band to be accounted for: what is taken of the stock of
// the job is what the job that goes on has less, what its plan does not take is left, band
// is in hand for what had a place and is to be cut, and going on once more from a plan of
// which nothing is begun finds as much again, each kind listed once.
func balance(t *testing.T, left *rest.Rest, st rest.State, d *kerf.Demand, plan *nest.Plan, next *parts.Job, d2 *kerf.Demand, plan2 *nest.Plan) {
	t.Helper()
	find := func(list []parts.Stock, name string) *parts.Stock {
		for i := range list {
			if list[i].Name == name {
				return &list[i]
			}
		}
		return &parts.Stock{}
	}
	taken := map[string]int{}
	for _, x := range left.Taken(d, plan, d.Job, []rest.Taken{{Stock: "large", Material: "birch 18", Count: 2}, {Stock: "gone", Count: 1}}) {
		taken[x.Stock] = x.Count
	}
	taken["large"] -= 2
	if taken["gone"] != 0 {
		t.Error("stock that the job has not is taken")
	}
	used := map[string]int{}
	for i := range plan2.Sheets {
		used[d2.Sheets[plan2.Sheets[i].Stock].Stock.Name]++
	}
	over := rest.Left(d2, plan2, d.Job)
	for i := range next.Stock {
		s := &next.Stock[i]
		if was := find(d.Job.Stock, s.Name); was.Name != "" {
			if was.Available != parts.Unlimited && s.Available+taken[s.Name] != was.Available {
				t.Errorf("%d x %s, of which %d are taken, leave %d", was.Available, s.Name, taken[s.Name], s.Available)
			}
			continue
		}
		if n := find(over, s.Name).Available; n+used[s.Name] != s.Available {
			t.Errorf("%d x %s, of which %d are used, leave %d", s.Available, s.Name, used[s.Name], n)
		}
	}
	placed := make([]int, len(d.Items))
	for i := range plan.Sheets {
		for _, pl := range plan.Sheets[i].Placements {
			placed[pl.Part]++
		}
	}
	for _, x := range left.Done {
		placed[x.Part]--
	}
	for _, x := range st.Spoiled {
		placed[x.Part]--
	}
	for i := range next.Panels {
		p := &next.Panels[i]
		if at := slices.IndexFunc(d.Items, func(it kerf.Item) bool { return it.Panel.Name == p.Name }); p.Banded != placed[at] {
			t.Errorf("band for %d of %s, want %d", p.Banded, p.Name, placed[at])
		}
	}
	// Once more.
	all := &rest.Rest{Missing: make([][]int, len(d2.Items))}
	ids := make([]string, len(plan2.Sheets))
	bought := 0
	for i := range plan2.Sheets {
		all.Uncut = append(all.Uncut, i)
		if !d2.Sheets[plan2.Sheets[i].Stock].Stock.Offcut {
			bought++
		}
	}
	again := all.Job(d2, plan2, ids, true)
	boards := func(list []parts.Stock) (n int) {
		for i := range list {
			if list[i].Offcut {
				n += list[i].Available
			}
			if find(list, list[i].Name) != &list[i] {
				t.Errorf("%s is listed twice", list[i].Name)
			}
		}
		return n
	}
	if before, after := boards(next.Stock), boards(again.Stock); before+bought != after {
		t.Errorf("%d boards in hand and %d bought are %d", before, bought, after)
	}
}

func unplaced(plan *nest.Plan) int {
	n := 0
	for _, u := range plan.Unplaced {
		n += u.Copies
	}
	return n
}

// count checks that nothing is lost or double.
func count(t *testing.T, p *nest.Problem, left *rest.Rest) {
	t.Helper()
	for part := range p.Parts {
		var all []int
		all = append(all, left.Missing[part]...)
		for _, x := range left.Done {
			if x.Part == part {
				all = append(all, x.Copy)
			}
		}
		slices.Sort(all)
		for i, c := range all {
			if c != i+1 {
				t.Fatalf("part %d: done or missing are %v", part, all)
			}
		}
		if len(all) != p.Parts[part].Copies {
			t.Fatalf("part %d: %d of %d copies", part, len(all), p.Parts[part].Copies)
		}
	}
}

// clear checks that pieces lie on begun sheets, clear of what was freed.
func clear(t *testing.T, p *nest.Problem, plan *nest.Plan, left *rest.Rest) {
	t.Helper()
	for i, a := range left.Pieces {
		if slices.Contains(left.Uncut, a.Sheet) || !(geom.Box{Max: p.Stocks[plan.Sheets[a.Sheet].Stock].Size}).Contains(a.Box) {
			t.Errorf("piece %v is not of a begun sheet", a.Box)
		}
		for _, b := range left.Pieces[:i] {
			if a.Sheet == b.Sheet && a.Box.Overlaps(b.Box) {
				t.Errorf("pieces %v and %v overlap", a.Box, b.Box)
			}
		}
		for _, x := range left.Done {
			for _, pl := range plan.Sheets[a.Sheet].Placements {
				if _, box := p.Place(pl); x.Sheet == a.Sheet && pl.Part == x.Part && pl.Copy == x.Copy && p.Cut == kerf.Saw && box.Overlaps(a.Box) {
					t.Errorf("piece %v holds %q copy %d, which is done", a.Box, p.Parts[x.Part].Name, x.Copy)
				}
			}
		}
	}
}

// asPlanned checks that sheets not begun and pieces in hand can be cut as planned.
func asPlanned(t *testing.T, p *nest.Problem, plan *nest.Plan, left *rest.Rest, d *kerf.Demand, ids []string, d2 *kerf.Demand, p2 *nest.Problem) {
	t.Helper()
	var stay []rest.Carried
	for _, i := range left.Uncut {
		stay = append(stay, rest.Carried{Sheet: plan.Sheets[i], On: rest.InHand(d, plan.Sheets[i].Stock)})
	}
	for i := range left.Pieces {
		if q := &left.Pieces[i]; q.InHand {
			stay = append(stay, rest.Carried{Sheet: nest.Sheet{Placements: q.Planned, Offcuts: q.Kept}, On: q.Name(ids)})
		}
	}
	sheets, err := rest.Carry(stay, d, d2)
	if err != nil {
		t.Fatal(err)
	}
	on := &nest.Plan{Sheets: sheets}
	placed := map[int]int{}
	for i := range sheets {
		if p.Cut == kerf.Saw && len(sheets[i].Cuts) == 0 {
			if err := order.Sheet(p2, &sheets[i]); err != nil {
				t.Fatal(err)
			}
		}
		for _, pl := range sheets[i].Placements {
			placed[pl.Part]++
		}
	}
	for i := range p2.Parts {
		if n := p2.Parts[i].Copies - placed[i]; n > 0 {
			on.Unplaced = append(on.Unplaced, nest.Unplaced{Part: i, Copies: n})
		}
	}
	if err := check.Plan(p2, on); err != nil {
		t.Error(err)
	}
	if n := len(left.Only(plan, true).Missing); n != len(left.Missing) {
		t.Errorf("%d parts, want %d", n, len(left.Missing))
	}
	missing := 0
	for _, m := range left.Only(plan, true).Missing {
		missing += len(m)
	}
	if missing != unplaced(on) {
		t.Errorf("%d panels are to be placed, the plan leaves %d", missing, unplaced(on))
	}
}

// What cannot be is refused.
func TestRefused(t *testing.T) {
	_, p, plan := planned(t, job(rand.New(rand.NewPCG(1, 1))), kerf.Saw)
	for name, st := range map[string]rest.State{
		"no such sheet":  {Cuts: map[int]int{99: rest.All}},
		"too many cuts":  {Cuts: map[int]int{0: 1000}},
		"not cut":        {Spoiled: []rest.Panel{{Part: 0, Copy: 1}}},
		"fewer than all": {Cuts: map[int]int{0: -2}},
	} {
		if _, err := rest.Of(p, plan, st); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	_, p, plan = planned(t, job(rand.New(rand.NewPCG(1, 1))), kerf.Router)
	if _, err := rest.Of(p, plan, rest.State{Cuts: map[int]int{0: 2}}); err == nil {
		t.Error("steps of a router are accepted")
	}
}
