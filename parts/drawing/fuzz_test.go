package drawing

import (
	"math"
	"math/rand/v2"
	"testing"

	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// reading hands out the bytes of a fuzz input, then zeros.
type reading struct{ rest []byte }

func (r *reading) byte() int {
	if len(r.rest) == 0 {
		return 0
	}
	b := r.rest[0]
	r.rest = r.rest[1:]
	return int(b)
}

// bulges are those a fuzz input chooses from.
var bulges = []float64{0, 0, 0, 0, 1, -1, 0.5, -0.5, math.Tan(math.Pi / 8), 3, 1e-13, 1e-7, -2e6, math.NaN(), math.Inf(1), math.Inf(-1)}

// steps are the grids that the ends of a fuzz input lie on: whole millimetres and
// lengths about the tolerance, so that ends meet, nearly meet, and do not.
var grids = []length.Length{1, length.Micrometre, 20 * length.Micrometre, 50 * length.Micrometre, mm, 20 * mm, length.Max / 100}

// pieces reads pieces.
func (r *reading) pieces() (d *Drawing, opt Options) {
	d = &Drawing{File: "a", Unit: length.IN}
	layers := []string{"CUT", "cut", "HOLES", "", "ä*\x00"}
	opt.KeepSegments = r.byte()%2 == 0
	for range r.byte() % 4 {
		opt.Layers = append(opt.Layers, Rule{[]string{"*", "c*", "HOLES", ""}[r.byte()%4], Role(r.byte() % 3)})
	}
	for len(r.rest) > 0 && len(d.Pieces) < 200 {
		p := Piece{Source: Source{Entity: "PIECE", Line: len(d.Pieces) + 1}, Layer: layers[r.byte()%len(layers)], Closed: r.byte()%2 == 0}
		p.Within = length.Length(r.byte())
		grid := grids[r.byte()%len(grids)]
		for range r.byte() % 12 {
			at := geom.Pt(length.Length(r.byte()-128)*grid, length.Length(r.byte()-128)*grid)
			p.Path = append(p.Path, outline.Vertex{At: at, Bulge: bulges[r.byte()%len(bulges)]})
		}
		d.Pieces = append(d.Pieces, p)
		if len(p.Path) > 0 {
			d.Texts = append(d.Texts, Text{Source: p.Source, Layer: p.Layer, At: p.Path[0].At, Content: "text"})
		}
	}
	return d, opt
}

// sound checks what holds of every result: panels or a mistake, outlines that are
// simple and run counter-clockwise, openings inside, names that are unique.
func sound(t *testing.T, panels []Panel, list diag.List) {
	t.Helper()
	if panels != nil && list.Err() != nil {
		t.Fatal("panels and a mistake")
	}
	for _, f := range list {
		if f.Fact == "" || f.Remedy == "" || f.Pos.File == "" {
			t.Fatalf("%+v", f)
		}
	}
	names := map[string]bool{}
	for _, p := range panels {
		if names[p.Name] || p.Name == "" {
			t.Fatalf("the name %q", p.Name)
		}
		names[p.Name] = true
		for _, o := range append([]Loop{p.Loop}, p.Openings...) {
			if err := o.Outline.Validate(); err != nil || o.Outline.Area2() <= 0 {
				t.Fatalf("%v: %v, area %v", o.Outline, err, o.Outline.Area2())
			}
		}
		for i, o := range p.Openings {
			if err := p.Outline.Trace().Contains(o.Outline.Trace()); err != nil {
				t.Fatalf("opening %d: %v", i, err)
			}
		}
	}
}

func FuzzPanels(f *testing.F) {
	f.Add([]byte{0, 0, 0, 0, 0, 4, 4, 128, 128, 0, 138, 128, 0, 138, 138, 0, 128, 138, 0})
	f.Add([]byte{1, 1, 0, 0, 0, 1, 9, 3, 3, 128, 128, 4, 148, 128, 5, 130, 128, 0, 0, 1, 0, 3, 2, 148, 128, 0, 130, 128, 0})
	f.Fuzz(func(t *testing.T, src []byte) {
		r := reading{src}
		d, opt := r.pieces()
		panels, list := Panels(d, opt)
		sound(t, panels, list)
		again, second := Panels(d, opt)
		if len(again) != len(panels) || second.Error() != list.Error() {
			t.Fatal("the same drawing gives two results")
		}
	})
}

// FuzzJoin cuts known outlines, each in a cell of its own with perhaps an opening
// in it, into pieces of any order and direction: the area of the panels is the
// signed area of the pieces.
func FuzzJoin(f *testing.F) {
	f.Add(uint64(1), []byte{0, 1, 2, 3, 4, 5, 6, 7})
	f.Add(uint64(2), []byte{9, 9, 255, 0, 17, 80, 80, 3})
	f.Fuzz(func(t *testing.T, seed uint64, src []byte) {
		r := reading{src}
		var pieces []Piece
		area, panelCount, openings := 0.0, 0, 0
		for len(r.rest) > 0 && panelCount < 50 {
			x, y := float64(panelCount%7)*1000, float64(panelCount/7)*1000
			outer := blob(&r, x, y, 300, 400)
			area += outline.Outline(outer.Path).AreaMM2()
			pieces = append(pieces, outer)
			panelCount++
			if r.byte()%2 == 1 {
				inner := blob(&r, x, y, 50, 100)
				area -= outline.Outline(inner.Path).AreaMM2()
				pieces = append(pieces, inner)
				openings++
			}
		}
		if panelCount == 0 {
			return
		}
		d := sheet(broken(rand.New(rand.NewPCG(seed, 3)), pieces, 0))
		panels, list := Panels(d, Options{KeepSegments: true})
		sound(t, panels, list)
		if len(list) != 0 || len(panels) != panelCount {
			t.Fatalf("%d panels, want %d: %v", len(panels), panelCount, list)
		}
		for _, p := range panels {
			openings -= len(p.Openings)
		}
		if got := net(panels); openings != 0 || math.Abs(got-area) > 1e-9*area {
			t.Fatalf("area %v, want %v; %d openings missing", got, area, openings)
		}
	})
}

// blob is a star-shaped loop about a point, its corners between two radii, some of
// its sides arcs that stay between little more than them.
func blob(r *reading, x, y, least, most float64) Piece {
	n := 5 + r.byte()%20
	p := corners(true)
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		radius := least + (most-least)*float64(r.byte())/255
		v := outline.Vertex{At: pt(x+radius*c, y+radius*s)}
		if r.byte()%3 == 0 {
			v.Bulge = 0.05
		}
		p.Path = append(p.Path, v)
	}
	return p
}
