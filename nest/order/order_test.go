package order_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/order"
	"panelyard/nest/saw"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const mm = length.Millimetre

func at(x, y, l, w length.Length) geom.Box {
	return geom.BoxFromSize(geom.Pt(x*mm, y*mm), geom.Pt(l*mm, w*mm))
}

// laid returns a problem and a sheet with panels at boxes, and offcuts to keep.
func laid(s parts.Saw, size geom.Point, trim, k length.Length, blanks, kept []geom.Box) (*nest.Problem, *nest.Sheet) {
	p := &nest.Problem{
		Cut: kerf.Saw, Kerf: k, Gap: k, Saw: s, Keep: parts.KeepRule{Short: 100 * mm, Long: 400 * mm},
		Stocks: []nest.Stock{{
			Name: "sheet", Size: size, Usable: geom.Box{Max: size}.Inset(trim, trim, trim, trim), Available: parts.Unlimited, KGPerM2: 12.33,
		}},
	}
	sh := &nest.Sheet{}
	for i, b := range blanks {
		p.Parts = append(p.Parts, nest.Part{
			Name: fmt.Sprint("panel ", i), Copies: 1, Blank: b.Size(), Shape: geom.Polygon{Outer: geom.BoxFromSize(geom.Point{}, b.Size()).Ring()},
		})
		sh.Placements = append(sh.Placements, nest.Placement{Part: i, Copy: 1, At: b.Min})
	}
	for _, b := range kept {
		sh.Offcuts = append(sh.Offcuts, nest.Offcut{Box: b, Keep: true})
	}
	return p, sh
}

// trace replays the cuts of a sheet and returns what each was made in and what it
// left. It shares nothing with the package: it knows of pieces and the blade only.
type traced struct {
	piece geom.Box
	left  []geom.Box
	cut   nest.Cut
}

func trace(t *testing.T, p *nest.Problem, s *nest.Sheet) (steps []traced, end []geom.Box) {
	t.Helper()
	half := p.Kerf / 2
	end = []geom.Box{{Max: p.Stocks[s.Stock].Size}}
	for n, c := range s.Cuts {
		blade := geom.Box{Min: c.From, Max: c.To}
		upright := c.From.X == c.To.X
		if upright {
			blade.Min.X -= half
			blade.Max.X += half
		} else {
			blade.Min.Y -= half
			blade.Max.Y += half
		}
		in := slices.IndexFunc(end, func(b geom.Box) bool {
			if upright {
				return b.Min.Y == blade.Min.Y && b.Max.Y == blade.Max.Y && blade.Max.X > b.Min.X && blade.Min.X < b.Max.X
			}
			return b.Min.X == blade.Min.X && b.Max.X == blade.Max.X && blade.Max.Y > b.Min.Y && blade.Min.Y < b.Max.Y
		})
		if in < 0 {
			t.Fatalf("cut %d, %v to %v, runs through no piece", n+1, c.From, c.To)
		}
		step := traced{piece: end[in], cut: c}
		low, high := end[in], end[in]
		if upright {
			low.Max.X, high.Min.X = blade.Min.X, blade.Max.X
		} else {
			low.Max.Y, high.Min.Y = blade.Min.Y, blade.Max.Y
		}
		end = slices.Delete(end, in, in+1)
		for _, b := range []geom.Box{low, high} {
			if !b.Empty() {
				step.left = append(step.left, b)
				end = append(end, b)
			}
		}
		steps = append(steps, step)
	}
	return steps, end
}

func area(b geom.Box) int64 { return int64(b.Dx()) * int64(b.Dy()) }

// verify checks what must hold of the cuts of any sheet.
func verify(t *testing.T, p *nest.Problem, s *nest.Sheet, kept []nest.Offcut) {
	t.Helper()
	steps, end := trace(t, p, s)
	var blanks []geom.Box
	for _, pl := range s.Placements {
		_, b := p.Place(pl)
		if pl.IsShared() {
			b = pl.Shared
		}
		if !slices.Contains(end, b) {
			t.Errorf("blank %v is not freed", b)
		}
		blanks = append(blanks, b)
	}
	// All there is, is a piece or was taken by the blade: no more and no less than a
	// kerf wide where the piece is wider.
	sum, raw := int64(0), area(geom.Box{Max: p.Stocks[s.Stock].Size})
	for _, b := range end {
		sum += area(b)
	}
	last := 0
	for n, st := range steps {
		c := st.cut
		long := area(geom.Box{Max: geom.Pt(c.To.X-c.From.X+1, c.To.Y-c.From.Y+1)}) - 1
		taken := area(st.piece)
		for _, b := range st.left {
			taken -= area(b)
		}
		if most := long * int64(p.Kerf); len(st.left) == 2 && taken != most || taken > most {
			t.Errorf("cut %d takes %d, a kerf is %d", n+1, taken, most)
		}
		sum += taken
		for _, b := range blanks {
			if !st.piece.Overlaps(b) {
				continue
			}
			if !slices.ContainsFunc(st.left, func(q geom.Box) bool { return q.Contains(b) }) {
				t.Errorf("cut %d runs through blank %v", n+1, b)
			}
		}
		// What must be carried comes first, then stage after stage.
		switch {
		case c.BreakDown && n > 0 && !steps[n-1].cut.BreakDown:
			t.Errorf("cut %d breaks a piece down after other cuts", n+1)
		case c.BreakDown && p.Saw.Movable(st.piece.Size(), float64(area(st.piece))/64e12*p.Stocks[s.Stock].KGPerM2):
			t.Errorf("cut %d breaks down %v, which can be carried", n+1, st.piece)
		case c.Stage < last:
			t.Errorf("cut %d is of stage %d after stage %d", n+1, c.Stage, last)
		}
		last = max(last, c.Stage)
		fits := slices.ContainsFunc(st.left, func(q geom.Box) bool { return c.Fence == q.Dx() || c.Fence == q.Dy() })
		if !fits {
			t.Errorf("cut %d: the fence at %v measures no side of %v", n+1, c.Fence, st.left)
		}
	}
	if sum != raw {
		t.Errorf("pieces and kerfs are %d, the sheet is %d", sum, raw)
	}
	for _, k := range kept {
		if !k.Keep {
			continue
		}
		if !slices.ContainsFunc(s.Offcuts, func(o nest.Offcut) bool { return o.Keep && o.Box.Contains(k.Box) }) {
			t.Errorf("offcut %v was to be kept, the cuts leave %v", k.Box, s.Offcuts)
		}
	}
	for _, o := range s.Offcuts {
		if !slices.ContainsFunc(end, func(b geom.Box) bool { return b.Contains(o.Box) }) {
			t.Errorf("offcut %v is not there", o.Box)
		}
	}
}

// Random jobs for saws of all kinds.
func TestRandom(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	cuts, broken := 0, 0
	for range 400 {
		s := parts.Saw{Kind: parts.SawKind(rng.IntN(3))}
		if rng.IntN(2) == 0 {
			s.Heaviest = float64(5 + rng.IntN(30))
		}
		if rng.IntN(3) == 0 {
			s.Largest = geom.Pt(length.Length(800+rng.IntN(1500))*mm, length.Length(400+rng.IntN(900))*mm)
		}
		if rng.IntN(3) == 0 {
			s.Fence = length.Length(300+rng.IntN(900)) * mm
		}
		k := length.Length(rng.IntN(3)) * 1600 * length.Micrometre
		p, _ := laid(s, geom.Pt(length.Length(1000+rng.IntN(1500))*mm, length.Length(600+rng.IntN(700))*mm), length.Length(rng.IntN(3)*4)*mm, k, nil, nil)
		for i := range 1 + rng.IntN(10) {
			size := geom.Pt(length.Length(50+rng.IntN(1200))*mm, length.Length(30+rng.IntN(600))*mm+length.Length(rng.IntN(2)))
			p.Parts = append(p.Parts, nest.Part{
				Name: fmt.Sprint("panel ", i), Copies: 1 + rng.IntN(4), Blank: size, Shape: geom.Polygon{Outer: geom.BoxFromSize(geom.Point{}, size).Ring()},
			})
		}
		plan, _, err := saw.New().Solve(context.Background(), p, nest.Settings{Seed: 1, Budget: 2})
		if err != nil {
			t.Fatal(err)
		}
		for i := range plan.Sheets {
			sh := &plan.Sheets[i]
			verify(t, p, sh, nil)
			before := slices.Clone(sh.Offcuts)
			if err := order.Sheet(p, sh); err != nil {
				t.Fatal(err)
			}
			verify(t, p, sh, before)
			cuts += len(sh.Cuts)
			for _, c := range sh.Cuts {
				if c.BreakDown {
					broken++
				}
			}
		}
		if t.Failed() {
			return
		}
	}
	if cuts == 0 || broken == 0 {
		t.Errorf("%d cuts, %d of them break sheets down: the test shows nothing", cuts, broken)
	}
}

// A pinwheel cannot be cut from edge to edge.
func TestNotThrough(t *testing.T) {
	p, s := laid(parts.Saw{}, geom.Pt(300*mm, 300*mm), 0, 0, []geom.Box{
		at(0, 0, 200, 100), at(200, 0, 100, 200), at(100, 200, 200, 100), at(0, 100, 100, 200), at(100, 100, 100, 100),
	}, nil)
	if err := order.Sheet(p, s); !errors.Is(err, order.ErrNotThrough) {
		t.Errorf("error %v", err)
	}
}

// fences returns the settings of a sheet in order, each once while it stays.
func fences(s *nest.Sheet) []float64 {
	var list []float64
	for _, c := range s.Cuts {
		if f := c.Fence.MM(); len(list) == 0 || list[len(list)-1] != f {
			list = append(list, f)
		}
	}
	return list
}

// Two strips of equal doors, worked by hand: the saw takes off two factory edges,
// rips both strips at one setting and cuts all doors at one stop.
func TestStripsOfDoors(t *testing.T) {
	var doors []geom.Box
	for y := range length.Length(2) {
		for x := range length.Length(3) {
			doors = append(doors, at(5+x*703, 5+y*403, 700, 400))
		}
	}
	p, s := laid(parts.Saw{}, geom.Pt(2440*mm, 1220*mm), 5*mm, 3*mm, doors, nil)
	if err := order.Sheet(p, s); err != nil {
		t.Fatal(err)
	}
	verify(t, p, s, nil)
	if want := []float64{1215, 2435, 400, 700}; !slices.Equal(fences(s), want) {
		t.Errorf("settings %v, want %v", fences(s), want)
	}
	if n := len(s.Cuts); n != 2+2+6 {
		t.Errorf("%d cuts, want 2 to square, 2 rips and 6 crosscuts", n)
	}
	settings, long := order.Effort(&nest.Plan{Sheets: []nest.Sheet{*s}})
	if settings != 4 || long != (2440+1215+2*2435+6*400)*mm {
		t.Errorf("%d settings, %v of cuts", settings, long)
	}
}

// A sheet that one person cannot carry is first cut near its middle.
func TestBreakDown(t *testing.T) {
	boxes := []geom.Box{at(5, 5, 1100, 600), at(5, 608, 1100, 600), at(1108, 5, 1300, 300), at(1108, 308, 1300, 600)}
	for _, c := range []struct {
		name string
		saw  parts.Saw
		want []bool
	}{
		{"36.7 kg, two halves", parts.Saw{Heaviest: 25}, []bool{true, false}},
		{"into a car", parts.Saw{Largest: geom.Pt(1400*mm, 1300*mm)}, []bool{true, false}},
		{"up the stairs", parts.Saw{Largest: geom.Pt(1400*mm, 700*mm)}, []bool{true, true, true, true, false}},
		{"as it is", parts.Saw{}, []bool{false}},
	} {
		p, s := laid(c.saw, geom.Pt(2440*mm, 1220*mm), 5*mm, 3*mm, boxes, nil)
		if err := order.Sheet(p, s); err != nil {
			t.Fatal(err)
		}
		verify(t, p, s, nil)
		for i, want := range c.want {
			if s.Cuts[i].BreakDown != want {
				t.Errorf("%s: cut %d breaks down: %v", c.name, i+1, s.Cuts[i].BreakDown)
			}
		}
		if c.want[0] && s.Cuts[0].From.X != 1106500*length.Micrometre {
			t.Errorf("%s: the first cut is at %v", c.name, s.Cuts[0].From)
		}
	}
}

// The kinds of saw begin differently where both directions divide a sheet.
func TestKinds(t *testing.T) {
	grid := []geom.Box{at(0, 0, 1000, 200), at(0, 203, 1000, 400), at(1003, 0, 600, 200), at(1003, 203, 600, 400)}
	for kind, level := range map[parts.SawKind]bool{parts.TableSaw: true, parts.TrackSaw: false, parts.BeamSaw: true} {
		p, s := laid(parts.Saw{Kind: kind}, geom.Pt(1700*mm, 700*mm), 0, 3*mm, grid, nil)
		if err := order.Sheet(p, s); err != nil {
			t.Fatal(err)
		}
		verify(t, p, s, nil)
		if got := s.Cuts[0].From.Y == s.Cuts[0].To.Y; got != level {
			t.Errorf("%v: the first cut is level: %v", kind, got)
		}
	}
	// A rail lies on the wide rest: the narrow strip comes off first.
	p, s := laid(parts.Saw{Kind: parts.TrackSaw}, geom.Pt(1000*mm, 700*mm), 0, 3*mm, []geom.Box{at(0, 0, 1000, 400), at(0, 403, 1000, 60)}, nil)
	if err := order.Sheet(p, s); err != nil {
		t.Fatal(err)
	}
	if want := []float64{463, 60}; !slices.Equal(fences(s), want) {
		t.Errorf("settings %v, want %v", fences(s), want)
	}
	// A beam saw begins with the direction that needs fewer stages.
	p, s = laid(parts.Saw{Kind: parts.BeamSaw}, geom.Pt(1203*mm, 600*mm), 0, 3*mm, []geom.Box{
		at(0, 0, 600, 600), at(603, 0, 600, 200), at(603, 203, 600, 397),
	}, nil)
	if err := order.Sheet(p, s); err != nil {
		t.Fatal(err)
	}
	if last := s.Cuts[len(s.Cuts)-1].Stage; last != 2 {
		t.Errorf("%d stages, want 2", last)
	}
}

// A fence that cannot be set wide enough measures the other side.
func TestFenceReach(t *testing.T) {
	p, s := laid(parts.Saw{Fence: 650 * mm}, geom.Pt(2000*mm, 1000*mm), 0, 0, []geom.Box{at(0, 0, 2000, 700)}, nil)
	if err := order.Sheet(p, s); err != nil {
		t.Fatal(err)
	}
	if want := []float64{300}; !slices.Equal(fences(s), want) {
		t.Errorf("settings %v, want %v", fences(s), want)
	}
}
