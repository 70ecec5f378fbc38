package drawing

import (
	"math"
	"strings"
	"testing"
	"time"

	"panelyard/parts/diag"
)

// Very large and very bad drawings: they end soon, with panels or with findings.
func TestLimits(t *testing.T) {
	const n = 100_000
	grid := func(f func(i int, x, y float64) []Piece) []Piece {
		var out []Piece
		for i := 0; len(out) < n; i++ {
			out = append(out, f(i, float64(i%300)*100, float64(i/300)*100)...)
		}
		return out
	}
	many := func(f func(i int) Piece) []Piece {
		out := make([]Piece, n)
		for i := range out {
			out[i] = f(i)
		}
		return out
	}
	nested := func(n int) []Piece {
		var out []Piece
		for i := range n {
			out = append(out, rectangle(float64(i), float64(i), float64(30000-2*i), float64(30000-2*i)))
		}
		return out
	}
	fine := polygon(MaxVertices+1, 10000)
	teeth := curve(2*MaxVertices, func(t float64) (float64, float64) {
		s, c := math.Sincos(2 * math.Pi * t)
		r := 10000 + float64(int(t*2*MaxVertices+0.5)%2)
		return r * c, r * s
	})
	for _, c := range []struct {
		name   string
		pieces []Piece
		panels int
		want   string
	}{
		{"squares of lines", grid(func(_ int, x, y float64) []Piece { return sides(x, y, 90, 90) }), n / 4, ""},
		{"squares that do not quite meet", grid(func(_ int, x, y float64) []Piece {
			return []Piece{line(x, y+0.03, x+90, y), line(x+90.02, y, x+90, y+90), line(x+90, y+90.01, x, y+90), line(x, y+90, x, y)}
		}), n / 4, ""},
		{"holes in a plate", append(grid(func(_ int, x, y float64) []Piece { return []Piece{circle(x, y, 3)} }), rectangle(-50, -50, 30100, 33500)), 1, ""},
		{"one line many times", append(many(func(int) Piece { return line(0, 0, 10, 0) }), sides(100, 0, 10, 10)...), 0, "is drawn twice"},
		{"a star of lines", many(func(i int) Piece {
			s, c := math.Sincos(float64(i))
			return line(0, 0, 1000*c, 1000*s)
		}), 0, "100000 ends meet at (0, 0)"},
		{"ends in a heap", many(func(i int) Piece {
			s, c := math.Sincos(float64(i))
			return line(0.02*c, 0.02*s, 1000*c, 1000*s)
		}), 0, "ends meet"},
		{"lines through a point", many(func(i int) Piece {
			s, c := math.Sincos(float64(i))
			return line(-1000*c, -1000*s, 1000*c, 1000*s)
		}), 0, "is open"},
		{"nothing joins", many(func(i int) Piece {
			return line(float64(i%1000)*10, float64(i/100), float64(i%1000)*10+5, float64(i/100))
		}), 0, "more findings are not listed"},
		{"one outline", many(func(i int) Piece {
			at := func(i int) (x, y float64) {
				s, c := math.Sincos(2 * math.Pi * float64(i%n) / n)
				return 15000 * c, 15000 * s
			}
			x0, y0 := at(i)
			x1, y1 := at(i + 1)
			return line(x0, y0, x1, y1)
		}), 1, ""},
		{"one in the other", nested(1000), 500, ""},
		{"too many in each other", nested(2100), 0, "more than 2000000 pairs of loops lie over each other"},
		{"most segments", func() []Piece {
			var out []Piece
			for i := range MaxSegments / 10_000 {
				p := polygon(10_000, 100)
				for k := range p.Path {
					p.Path[k].At = p.Path[k].At.Add(pt(float64(i%10)*300, float64(i/10)*300))
				}
				out = append(out, p)
			}
			return out
		}(), MaxSegments / 10_000, ""},
		{"too many segments", many(func(int) Piece { return polygon(11, 10) }), 0, "the drawing has 1100000 segments, 1000000 at most"},
		{"too many corners", []Piece{teeth}, 0, "the outline has 20000 corners, 10000 at most"},
		{"corners that become arcs", []Piece{fine}, 1, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			panels, list := Panels(sheet(c.pieces), Options{})
			d := time.Since(start)
			t.Logf("%d pieces in %v", len(c.pieces), d)
			if d > 30*time.Second { // a loaded machine
				t.Errorf("took %v", d)
			}
			if c.want == "" && (len(panels) != c.panels || len(list) != 0) {
				t.Errorf("%d panels, want %d: %.500s", len(panels), c.panels, list.Error())
			}
			if c.want != "" && !strings.Contains(list.Error(), c.want) {
				t.Errorf("no %q in %.1000s", c.want, list.Error())
			}
			if len(list) > diag.MaxFindings+1 {
				t.Errorf("%d findings", len(list))
			}
		})
	}
}
