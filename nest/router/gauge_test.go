package router

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

type instance struct {
	Name      string
	Container struct {
		Kind          string
		Width, Height float64
	}
	Pieces []struct {
		ID       any
		Quantity int
		Turns    []int `json:"rotations_deg"`
		Outer    [][2]float64
		Holes    [][][2]float64
	}
	Optimum int `json:"known_optimal_bins"`
}

func load(t *testing.T, file string) (*nest.Problem, float64, *instance) {
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var in instance
	if err := json.Unmarshal(src, &in); err != nil {
		t.Fatal(err)
	}
	dec := 0
	for _, p := range in.Pieces {
		for _, q := range p.Outer {
			for _, v := range q {
				s := strconv.FormatFloat(v, 'f', -1, 64)
				if i := strings.IndexByte(s, '.'); i >= 0 {
					dec = max(dec, len(s)-i-1)
				}
			}
		}
	}
	dec = min(dec, 4)
	scale := math.Pow(10, float64(dec))
	total := 0.0
	for scale*in.Container.Width < 1e6 {
		scale *= 10
	}
	p := &nest.Problem{Cut: kerf.Router, Strip: in.Container.Kind == "strip"}
	for _, q := range in.Pieces {
		var r geom.Ring
		for _, v := range q.Outer {
			r = append(r, geom.Pt(length.Length(math.Round(v[0]*scale)), length.Length(math.Round(v[1]*scale))))
		}
		if r.Area2() < 0 {
			r = r.Reversed()
		}
		r = r.Translate(r.Box().Min.Neg())
		total += float64(r.Area2()) / 2 * float64(q.Quantity)
		p.Parts = append(p.Parts, nest.Part{Name: fmt.Sprint(q.ID), Copies: q.Quantity, Shape: geom.Polygon{Outer: r}, Blank: r.Box().Size(), Turns: q.Turns})
	}
	w, h := length.Length(math.Round(in.Container.Width*scale)), length.Length(math.Round(in.Container.Height*scale))
	if p.Strip {
		w, h = length.Length(total/float64(w)*4), w
		for _, q := range p.Parts {
			w = max(w, 2*q.Blank.X, 2*q.Blank.Y)
		}
	}
	p.Stocks = []nest.Stock{{Name: "s", Size: geom.Pt(w, h), Usable: geom.BoxFromSize(geom.Point{}, geom.Pt(w, h)), Cost: 1, Available: -1}}
	if p.Strip {
		p.Stocks[0].Available = 1
	}
	return p, scale, &in
}

func TestGauge(t *testing.T) {
	dir := os.Getenv("PANELYARD_BENCH")
	if dir == "" {
		t.Skip("PANELYARD_BENCH names no folder of instances")
	}
	sec, _ := strconv.ParseFloat(os.Getenv("SEC"), 64)
	for _, name := range strings.Split(os.Getenv("INST"), ",") {
		p, scale, in := load(t, filepath.Join(dir, name+".json"))
		budget := -1
		ctx, cancel := context.WithTimeout(context.Background(), time.Duration(sec*float64(time.Second)))
		if n, err := strconv.Atoi(os.Getenv("PASSES")); err == nil {
			budget = n
			ctx, cancel = context.WithCancel(context.Background())
		}
		start := time.Now()
		var curve []string
		total := 0.0
		for _, q := range p.Parts {
			total += float64(q.Shape.Area2()) / 2 * float64(q.Copies)
		}
		last := 0.0
		seed, _ := strconv.ParseUint(os.Getenv("SEED"), 10, 64)
		plan, st, err := New().Solve(ctx, p, nest.Settings{Seed: seed, Budget: budget, Workers: 2, Watch: func(pr nest.Progress) {
			if pr.Elapsed.Seconds() > last*1.8+0.3 {
				last = pr.Elapsed.Seconds()
				if p.Strip {
					curve = append(curve, fmt.Sprintf("%.0fs:%.2f", last, 100*total/float64(pr.Used)/float64(p.Stocks[0].Size.Y)))
				} else {
					curve = append(curve, fmt.Sprintf("%.0fs:%d", last, pr.Sheets))
				}
			}
		}})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		if err := check.Plan(p, plan); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if p.Strip {
			var used length.Length
			for _, pl := range plan.Sheets[0].Placements {
				s, _ := p.Place(pl)
				used = max(used, s.Box().Max.X)
			}
			fmt.Printf("%-10s %.2f %%  length %.3f  passes %d  %.1fs  %v\n", name, 100*total/float64(used)/float64(p.Stocks[0].Size.Y), float64(used)/scale, st.Rounds, time.Since(start).Seconds(), curve)
		} else {
			fmt.Printf("%-10s %d bins, optimum %d passes %d %.1fs %v\n", name, len(plan.Sheets), in.Optimum, st.Rounds, time.Since(start).Seconds(), curve)
		}
	}
}
