package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// pt returns the point at millimetres.
func pt(x, y float64) geom.Point {
	return geom.Pt(length.Length(math.Round(x*float64(mm))), length.Length(math.Round(y*float64(mm))))
}

// corners makes a piece of corners in millimetres.
func corners(closed bool, xy ...float64) Piece {
	p := Piece{Source: Source{Entity: "LINE"}, Layer: "CUT", Closed: closed}
	for i := 0; i < len(xy); i += 2 {
		p.Path = append(p.Path, outline.Vertex{At: pt(xy[i], xy[i+1])})
	}
	return p
}

// polyline is open.
func polyline(xy ...float64) Piece { return corners(false, xy...) }

func line(x0, y0, x1, y1 float64) Piece { return corners(false, x0, y0, x1, y1) }

// arc is an open arc with a bulge.
func arc(x0, y0, x1, y1, bulge float64) Piece {
	p := line(x0, y0, x1, y1)
	p.Entity, p.Path[0].Bulge = "ARC", bulge
	return p
}

func circle(x, y, r float64) Piece {
	p := corners(true, x-r, y, x+r, y)
	p.Entity, p.Path[0].Bulge, p.Path[1].Bulge = "CIRCLE", 1, 1
	return p
}

// rectangle is a closed polyline.
func rectangle(x, y, w, h float64) Piece {
	p := corners(true, x, y, x+w, y, x+w, y+h, x, y+h)
	p.Entity = "LWPOLYLINE"
	return p
}

// sides are four lines.
func sides(x, y, w, h float64) []Piece {
	return []Piece{line(x, y, x+w, y), line(x+w, y, x+w, y+h), line(x+w, y+h, x, y+h), line(x, y+h, x, y)}
}

// on puts pieces on a layer.
func on(layer string, pieces ...Piece) []Piece {
	pieces = slices.Clone(pieces)
	for i := range pieces {
		pieces[i].Layer = layer
	}
	return pieces
}

// sheet makes a drawing of pieces; each has its number as its line.
func sheet(pieces ...[]Piece) *Drawing {
	d := &Drawing{File: "a"}
	for _, p := range pieces {
		d.Pieces = append(d.Pieces, slices.Clone(p)...)
	}
	for i := range d.Pieces {
		d.Pieces[i].Line = i + 1
	}
	return d
}

// panelsOf returns the panels of a drawing without mistakes.
func panelsOf(t *testing.T, d *Drawing, opt Options) []Panel {
	t.Helper()
	panels, list := Panels(d, opt)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	return panels
}

// net returns the area of panels less their openings, in square millimetres.
func net(panels []Panel) float64 {
	sum := 0.0
	for _, p := range panels {
		sum += p.Outline.AreaMM2()
		for _, o := range p.Openings {
			sum -= o.Outline.AreaMM2()
		}
	}
	return sum
}

// broken cuts closed pieces into their segments, each turned either way, in any
// order, with ends moved by up to a length.
func broken(r *rand.Rand, pieces []Piece, by float64) []Piece {
	var out []Piece
	for _, p := range pieces {
		n := len(p.Path)
		for i, v := range p.Path {
			seg := p
			seg.Closed = false
			seg.Path = []outline.Vertex{v, {At: p.Path[(i+1)%n].At}}
			for k := range seg.Path {
				at := &seg.Path[k].At
				*at = at.Add(pt((r.Float64()*2-1)*by, (r.Float64()*2-1)*by))
			}
			if r.IntN(2) == 0 {
				seg.Path = reversed(seg.Path)
			}
			out = append(out, seg)
		}
	}
	r.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// says wants a list to hold findings that contain texts, and no others.
func says(t *testing.T, list diag.List, want ...string) {
	t.Helper()
	var b strings.Builder
	for _, f := range list {
		if f.Remedy == "" || f.Pos.File == "" {
			t.Errorf("no remedy or place: %v", f)
		}
		fmt.Fprintln(&b, f.Error())
	}
	if len(list) != len(want) {
		t.Errorf("%d findings, want %d:\n%s", len(list), len(want), b.String())
		return
	}
	for _, w := range want {
		if !strings.Contains(b.String(), w) {
			t.Errorf("no finding with %q:\n%s", w, b.String())
		}
	}
}
