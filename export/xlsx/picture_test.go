package xlsx

import (
	"image"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
)

// Beside millimetres, a fraction is the nearest sixty-fourth, reduced, and its number
// format shows the same one.
func TestNearestFraction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length.Length(rapid.Int64Range(0, int64(length.Max)).Draw(t, "length"))
		c := lengths{}.other(l)
		whole, part, _ := strings.Cut(c.shown, " ")
		if strings.Contains(whole, "/") {
			whole, part = "0", whole
		}
		shown, err := strconv.ParseFloat(whole, 64)
		if err != nil {
			t.Fatal(err)
		}
		den := 1.0
		if num, d, ok := strings.Cut(part, "/"); ok {
			n, err := strconv.ParseFloat(num, 64)
			if err != nil {
				t.Fatal(err)
			}
			if den, err = strconv.ParseFloat(d, 64); err != nil {
				t.Fatal(err)
			}
			if math.Mod(n, 2) == 0 {
				t.Fatalf("%s is not reduced", c.shown)
			}
			shown += n / den
		}
		inches := float64(l) / 25.4 / float64(length.Millimetre)
		if math.Abs(shown-inches) > 1.0/128+1e-9 || c.value.(float64) != l.Inches() {
			t.Fatalf("%v in, held as %v, are shown as %s", inches, c.value, c.shown)
		}
		if _, d, ok := strings.Cut(c.look.format, "/"); ok != (den > 1) || ok && d != strconv.Itoa(int(den)) {
			t.Fatalf("%s is formatted by %q", c.shown, c.look.format)
		}
	})
}

// A worked example: 600 x 400 of a sheet of 2440 x 1220 at 92.50 is 240,000 of
// 2,976,800 mm², 7.4577 of the currency. A half is rounded up.
func TestWorth(t *testing.T) {
	const mm = length.Millimetre
	for _, c := range []struct {
		l, w  length.Length
		price money.Amount
		sl    length.Length
		sw    length.Length
		want  money.Amount
	}{
		{600 * mm, 400 * mm, 92*money.One + money.One/2, 2440 * mm, 1220 * mm, 746 * money.One / 100},
		{1000 * mm, 1000 * mm, money.One / 100, 2000 * mm, 1000 * mm, money.One / 100},
		{999 * mm, 1000 * mm, money.One / 100, 2000 * mm, 1000 * mm, 0},
		{length.Max, length.Max, money.Max, length.Max, length.Max, money.Max}, // the limits
	} {
		o := &nest.Offcut{Box: geom.BoxFromSize(geom.Point{}, geom.Pt(c.l, c.w))}
		if got := worth(o, &parts.Stock{Length: c.sl, Width: c.sw}, c.price); got != c.want {
			t.Errorf("%v x %v of %v x %v at %v: %v, want %v", c.l, c.w, c.sl, c.sw, c.price, got, c.want)
		}
	}
}

// The place for a number against the slow way: every rectangle, pixel by pixel.
func TestRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dx, dy := rapid.IntRange(1, 12).Draw(t, "dx"), rapid.IntRange(1, 12).Draw(t, "dy")
		m := &room{box: image.Rect(3, 5, 3+dx, 5+dy)}
		for range dx * dy {
			m.free = append(m.free, rapid.IntRange(0, 5).Draw(t, "free") > 0)
		}
		w, h := rapid.IntRange(1, 5).Draw(t, "w"), rapid.IntRange(1, 5).Draw(t, "h")
		off := func(p image.Point) int {
			x, y := 2*(p.X-3)+w-dx, 2*(p.Y-5)+h-dy
			return x*x + y*y
		}
		holds := func(p image.Point) bool {
			for y := p.Y; y < p.Y+h; y++ {
				for x := p.X; x < p.X+w; x++ {
					if !image.Pt(x, y).In(m.box) || !m.free[m.index(x, y)] {
						return false
					}
				}
			}
			return true
		}
		least := -1
		for y := m.box.Min.Y; y < m.box.Max.Y; y++ {
			for x := m.box.Min.X; x < m.box.Max.X; x++ {
				if p := image.Pt(x, y); holds(p) && (least < 0 || off(p) < least) {
					least = off(p)
				}
			}
		}
		switch at, ok := m.find(w, h); {
		case ok != (least >= 0):
			t.Fatalf("found %v, but the least distance is %d", ok, least)
		case ok && (!holds(at) || off(at) != least):
			t.Fatalf("%v is not free, or not the nearest to the middle", at)
		}
	})
}
