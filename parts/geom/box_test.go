package geom

import (
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/length"
)

func box(x0, y0, x1, y1 length.Length) Box { return Box{Pt(x0, y0), Pt(x1, y1)} }

func TestBoxEmpty(t *testing.T) {
	for _, c := range []struct {
		name string
		b    Box
		want bool
	}{
		{"zero", Box{}, true},
		{"unit", box(0, 0, 1, 1), false},
		{"no width", box(3, 0, 3, 5), true},
		{"no height", box(0, 4, 9, 4), true},
		{"inside out", box(5, 5, 0, 0), true},
		{"inset to nothing", box(0, 0, 10, 10).Inset(5, 5, 0, 0), true},
		{"inset past nothing", box(0, 0, 10, 10).Inset(8, 8, 0, 0), true},
		{"inset to a unit", box(0, 0, 10, 10).Inset(4, 5, 0, 0), false},
	} {
		if got := c.b.Empty(); got != c.want {
			t.Errorf("%s: Empty = %t", c.name, got)
		}
	}
}

func TestBoxOverlaps(t *testing.T) {
	b := box(0, 0, 10, 10)
	for _, c := range []struct {
		name string
		c    Box
		want bool
	}{
		{"itself", b, true},
		{"inside", box(2, 2, 3, 3), true},
		{"around", box(-5, -5, 20, 20), true},
		{"a cross", box(-5, 4, 20, 6), true},
		{"a corner unit", box(9, 9, 11, 11), true},
		{"next to it on the right", box(10, 0, 20, 10), false},
		{"next to it above", box(0, 10, 10, 20), false},
		{"corner on corner", box(10, 10, 20, 20), false},
		{"away", box(30, 0, 40, 10), false},
		{"empty, no width, inside", box(5, 2, 5, 8), false},
		{"empty, no height, inside", box(2, 5, 8, 5), false},
		{"a point inside", box(5, 5, 5, 5), false},
		{"inside out about the middle", box(6, 6, 4, 4), false},
	} {
		if got := b.Overlaps(c.c); got != c.want {
			t.Errorf("%s: Overlaps = %t", c.name, got)
		}
		if got := c.c.Overlaps(b); got != c.want {
			t.Errorf("%s, the other way round: Overlaps = %t", c.name, got)
		}
	}
	if (Box{}).Overlaps(Box{}) {
		t.Error("two empty boxes overlap")
	}
}

func TestBoxContains(t *testing.T) {
	b := box(0, 0, 10, 10)
	for _, c := range []struct {
		name string
		c    Box
		want bool
	}{
		{"itself", b, true},
		{"inside", box(2, 2, 3, 3), true},
		{"on the edge", box(0, 4, 10, 6), true},
		{"a unit too far right", box(0, 0, 11, 10), false},
		{"a unit too far left", box(-1, 0, 10, 10), false},
		{"a unit too low", box(0, -1, 10, 10), false},
		{"a unit too high", box(0, 0, 10, 11), false},
		{"a point on the corner", box(10, 10, 10, 10), true},
	} {
		if got := b.Contains(c.c); got != c.want {
			t.Errorf("%s: Contains = %t", c.name, got)
		}
	}
}

// TestBoxCells: a box is the set of its unit cells, half-open; overlap,
// containment, area and emptiness are what they are for those sets.
func TestBoxCells(t *testing.T) {
	type cell struct{ x, y length.Length }
	cells := func(b Box) map[cell]bool {
		m := map[cell]bool{}
		for x := b.Min.X; x < b.Max.X; x++ {
			for y := b.Min.Y; y < b.Max.Y; y++ {
				m[cell{x, y}] = true
			}
		}
		return m
	}
	coord := rapid.Map(rapid.IntRange(-4, 4), func(v int) length.Length { return length.Length(v) })
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) Box {
			return box(coord.Draw(t, name), coord.Draw(t, name), coord.Draw(t, name), coord.Draw(t, name))
		}
		b, c := draw("b"), draw("c")
		mine, theirs := cells(b), cells(c)
		common := 0
		for k := range theirs {
			if mine[k] {
				common++
			}
		}
		if got := b.Overlaps(c); got != (common > 0) {
			t.Fatalf("%v.Overlaps(%v) = %t with %d cells in common", b, c, got, common)
		}
		if b.Empty() != (len(mine) == 0) {
			t.Fatalf("%v.Empty() = %t with %d cells", b, b.Empty(), len(mine))
		}
		if !c.Empty() && b.Contains(c) != (common == len(theirs)) {
			t.Fatalf("%v.Contains(%v) = %t with %d of %d cells", b, c, b.Contains(c), common, len(theirs))
		}
		if b.Empty() {
			return
		}
		r := b.Ring()
		if r.Area2() != 2*int64(len(mine)) || r.Box() != b || !r.IsRectangle() {
			t.Fatalf("the ring of %v is %v", b, r)
		}
		if BoxFromSize(b.Min, b.Size()) != b || b.Size() != Pt(b.Dx(), b.Dy()) {
			t.Fatalf("the size of %v is %v", b, b.Size())
		}
		d := Pt(coord.Draw(t, "dx"), coord.Draw(t, "dy"))
		if got := b.Translate(d).Ring().Box(); got != b.Ring().Translate(d).Box() || got.Size() != b.Size() {
			t.Fatalf("%v moved by %v is %v", b, d, got)
		}
	})
}

func TestInset(t *testing.T) {
	if got, want := box(0, 0, 2440, 1220).Inset(5, 6, 7, 8), box(5, 7, 2434, 1212); got != want {
		t.Errorf("Inset = %v, want %v", got, want)
	}
	if got, want := box(0, 0, 10, 10).Inset(-1, -2, -3, -4), box(-1, -3, 12, 14); got != want {
		t.Errorf("Inset outwards = %v, want %v", got, want)
	}
}

func TestMeet(t *testing.T) {
	a, b := Box{Pt(0, 0), Pt(10, 6)}, Box{Pt(4, -2), Pt(14, 3)}
	if got, want := a.Meet(b), (Box{Pt(4, 0), Pt(10, 3)}); got != want || b.Meet(a) != want {
		t.Errorf("%v, want %v", got, want)
	}
	if !a.Meet(Box{Pt(11, 0), Pt(12, 1)}).Empty() {
		t.Error("boxes apart have a common part")
	}
}
