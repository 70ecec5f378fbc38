package kerf

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

func all(o outline.Outline, d length.Length) []length.Length {
	list := make([]length.Length, len(o))
	for i := range list {
		list[i] = d
	}
	return list
}

// The cabinet of 600 x 720 x 560 mm worked in the trade notes: 1 mm band on
// front edges, 2 mm all round the door. Cut size = finished size less the bands
// of the two opposite edges (common practice, computed).
func TestDeductCarcass(t *testing.T) {
	for _, c := range []struct {
		name         string
		l, w         length.Length
		deduct       [4]length.Length // bottom, right, top, left
		wantL, wantW length.Length
	}{
		{"side", 720 * mm, 560 * mm, [4]length.Length{mm}, 720 * mm, 559 * mm},
		{"bottom", 564 * mm, 542 * mm, [4]length.Length{mm}, 564 * mm, 541 * mm},
		{"shelf", 562 * mm, 522 * mm, [4]length.Length{0, 0, mm, 0}, 562 * mm, 521 * mm},
		{"door", 716 * mm, 596 * mm, [4]length.Length{2 * mm, 2 * mm, 2 * mm, 2 * mm}, 712 * mm, 592 * mm},
	} {
		t.Run(c.name, func(t *testing.T) {
			o, err := Deduct(outline.Rectangle(c.l, c.w), c.deduct[:])
			if err != nil {
				t.Fatal(err)
			}
			if got := o.Box().Size(); got != geom.Pt(c.wantL, c.wantW) || !o.IsRectangle() {
				t.Errorf("cut size %v x %v, want %v x %v, a rectangle", got.X, got.Y, c.wantL, c.wantW)
			}
		})
	}
}

// A closed curve moved inwards by d loses perimeter·d - π·d² of area when it is
// convex and smooth (Steiner's formula for parallel curves, textbook).
func TestDeductSteiner(t *testing.T) {
	r := func(v length.Length) [4]length.Length { return [4]length.Length{v, v, v, v} }
	for _, o := range []outline.Outline{
		outline.Circle(300 * mm),
		outline.RoundedRectangle(600*mm, 400*mm, r(50*mm)),
		outline.RoundedRectangle(400*mm, 400*mm, r(200*mm)),
	} {
		for _, d := range []length.Length{mm / 2, mm, 3 * mm} {
			cut, err := Deduct(o, all(o, d))
			if err != nil {
				t.Fatal(err)
			}
			want := o.AreaMM2() - o.Perimeter().MM()*d.MM() + math.Pi*d.MM()*d.MM()
			if got := cut.AreaMM2(); math.Abs(got-want) > 0.05 {
				t.Errorf("%v in by %v: area %.3f mm2, Steiner says %.3f", o.Box().Size(), d, got, want)
			}
		}
	}
}

// A concave front keeps its centre: its radius grows by the band.
func TestDeductConcave(t *testing.T) {
	bulge, err := outline.BulgeFromRadius(geom.Pt(600*mm, 500*mm), geom.Pt(0, 500*mm), 925*mm, false, false)
	if err != nil {
		t.Fatal(err)
	}
	o := outline.Outline{
		{At: geom.Pt(0, 0), Edge: "back"},
		{At: geom.Pt(600*mm, 0), Edge: "end"},
		{At: geom.Pt(600*mm, 500*mm), Edge: "front", Bulge: bulge},
		{At: geom.Pt(0, 500*mm), Edge: "start"},
	}
	cut, err := Deduct(o, []length.Length{0, 0, 2 * mm, 0})
	if err != nil {
		t.Fatal(err)
	}
	if got := cut.Radius(2) / float64(mm); math.Abs(got-927) > 0.001 {
		t.Errorf("radius of the cut front %.4f mm, want 927", got)
	}
	if cut[2].At.X != 600*mm || cut[3].At.X != 0 {
		t.Errorf("the front's ends left the sides: %v, %v", cut[2].At, cut[3].At)
	}
	if cut[0].At != o[0].At || cut[1].At != o[1].At {
		t.Error("edges without a band moved")
	}
}

func TestDeductRefuses(t *testing.T) {
	capsule := outline.RoundedRectangle(300*mm, 100*mm, [4]length.Length{50 * mm, 50 * mm, 50 * mm, 50 * mm})
	one := all(capsule, 0)
	one[0] = mm
	for _, c := range []struct {
		name   string
		o      outline.Outline
		deduct []length.Length
		want   error
	}{
		{"band wider than the panel", outline.Rectangle(10*mm, 4*mm), []length.Length{2 * mm, 2 * mm, 2 * mm, 2 * mm}, ErrEdgeGone},
		{"smooth joint", capsule, one, ErrSmoothJoint},
		{"radius under the band", outline.Circle(4 * mm), all(outline.Circle(mm), 3*mm), ErrRadiusTooBig},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := Deduct(c.o, c.deduct); !errors.Is(err, c.want) {
				t.Errorf("got %v, want %v", err, c.want)
			}
		})
	}
}

// Deducting nothing changes nothing, and a cut outline lies in the finished one.
func TestDeductInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length.Length(rapid.IntRange(100, 2000).Draw(t, "length")) * mm
		w := length.Length(rapid.IntRange(100, 1000).Draw(t, "width")) * mm
		bulge := rapid.Float64Range(-0.2, 0.5).Draw(t, "bulge")
		o := outline.Rectangle(l, w)
		o[1].Bulge = bulge
		d := make([]length.Length, 4)
		for i := range d {
			d[i] = length.Length(rapid.IntRange(0, 3000).Draw(t, "band")) * length.Micrometre
		}
		same, err := Deduct(o, make([]length.Length, 4))
		if err != nil {
			t.Fatal(err)
		}
		for i := range o {
			if same[i].At != o[i].At || math.Abs(same[i].Bulge-o[i].Bulge) > 1e-9 {
				t.Fatalf("no band moved vertex %d: %v to %v", i, o[i], same[i])
			}
		}
		cut, err := Deduct(o, d)
		if err != nil {
			t.Fatal(err)
		}
		ring := o.Cover(8)
		for _, p := range cut.Points(100) {
			// A unit of slack for rounding.
			q := geom.Pt(length.Length(math.Round(p[0])), length.Length(math.Round(p[1])))
			if ring.Locate(q) == geom.Outside && ring.Locate(q.Add(geom.Pt(-1, 0))) == geom.Outside &&
				ring.Locate(q.Add(geom.Pt(1, 0))) == geom.Outside && ring.Locate(q.Add(geom.Pt(0, 1))) == geom.Outside &&
				ring.Locate(q.Add(geom.Pt(0, -1))) == geom.Outside {
				t.Fatalf("point %v of the cut outline is outside the finished one", q)
			}
		}
	})
}
