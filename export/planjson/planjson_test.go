package planjson_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/peterstace/simplefeatures/geom"

	"panelyard/export/exporttest"
	"panelyard/export/planjson"
	"panelyard/kerf"
)

func write(t *testing.T, cut kerf.Cut, names ...string) map[string]any {
	t.Helper()
	var b bytes.Buffer
	if err := planjson.Write(&b, exporttest.Dossier(t, exporttest.Job(names...), cut)); err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(b.Bytes(), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// The keys other programs rely on.
func TestKeys(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		v := write(t, cut)
		want := func(what string, m any, keys ...string) {
			t.Helper()
			for _, k := range keys {
				if _, ok := m.(map[string]any)[k]; !ok {
					t.Errorf("%v: %s has no key %q", cut, what, k)
				}
			}
		}
		want("the plan", v, "format", "version", "units", "job", "variant", "cut", "seed", "kerf", "sheets", "unplaced", "buy", "bound", "totals")
		if v["format"] != "panelyard-plan" || v["version"] != 1.0 || v["units"] != "mm" || v["cut"] != cut.String() {
			t.Errorf("%v: head %v %v %v %v", cut, v["format"], v["version"], v["units"], v["cut"])
		}
		want("bound", v["bound"], "sheets", "cost", "method", "proved")
		want("totals", v["totals"], "parts_area", "sheet_area", "yield", "kerf_area", "offcut_area", "cost")
		for _, s := range v["sheets"].([]any) {
			want("a sheet", s, "id", "stock", "material", "length", "width", "grain", "trim", "price", "placements", "cuts", "offcuts")
			sheet := s.(map[string]any)
			want("trim", sheet["trim"], "left", "right", "bottom", "top")
			for _, p := range sheet["placements"].([]any) {
				want("a placement", p, "part", "copy", "outline", "holes", "blank", "rotation_deg", "flipped")
				want("a blank", p.(map[string]any)["blank"], "x", "y", "length", "width")
			}
			cuts := sheet["cuts"].([]any)
			if (cut == kerf.Saw) != (len(cuts) > 0) {
				t.Errorf("%v: %d cuts", cut, len(cuts))
			}
			for i, c := range cuts {
				want("a cut", c, "order", "from", "to", "fence")
				if c.(map[string]any)["order"] != float64(i+1) {
					t.Errorf("cut %d is numbered %v", i+1, c.(map[string]any)["order"])
				}
			}
			for _, o := range sheet["offcuts"].([]any) {
				want("an offcut", o, "x", "y", "length", "width", "keep")
			}
		}
		for _, b := range v["buy"].([]any) {
			want("a line to buy", b, "stock", "count", "cost")
		}
	}
}

// What the file says of areas is what a general geometry library finds in its
// outlines, within the chord tolerance of 0.1 mm along the outlines.
func TestAreas(t *testing.T) {
	v := write(t, kerf.Router)
	sum, slack := 0.0, 0.0
	for _, s := range v["sheets"].([]any) {
		for _, p := range s.(map[string]any)["placements"].([]any) {
			pl := p.(map[string]any)
			rings := append([]any{pl["outline"]}, pl["holes"].([]any)...)
			var lines []geom.LineString
			for _, r := range rings {
				var xy []float64
				for _, q := range slices.Concat(r.([]any), r.([]any)[:1]) {
					xy = append(xy, q.([]any)[0].(float64), q.([]any)[1].(float64))
				}
				l := geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
				slack += l.Length() * 0.1
				lines = append(lines, l)
			}
			poly := geom.NewPolygon(lines)
			if err := poly.Validate(); err != nil {
				t.Errorf("%v: %v", pl["part"], err)
			}
			sum += poly.Area()
		}
	}
	got := v["totals"].(map[string]any)["parts_area"].(float64)
	if sum < got-0.01 || sum > got+slack {
		t.Errorf("outlines hold %.2f mm2, parts_area is %.2f (slack %.2f)", sum, got, slack)
	}
	if math.IsNaN(got) || got <= 0 {
		t.Errorf("parts_area %v", got)
	}
}

func TestNames(t *testing.T) {
	v := write(t, kerf.Saw, exporttest.Nasty...)
	var found []string
	for _, s := range v["sheets"].([]any) {
		for _, p := range s.(map[string]any)["placements"].([]any) {
			found = append(found, p.(map[string]any)["part"].(string))
		}
	}
	for _, n := range exporttest.Nasty {
		if !slices.Contains(found, n) {
			t.Errorf("no placement of %q", n)
		}
	}
}

func TestWriterFails(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	var whole bytes.Buffer
	if err := planjson.Write(&whole, d); err != nil {
		t.Fatal(err)
	}
	size := whole.Len()
	for n := 0; n < size; n += max(1, min(size/200, size-1-n)) { // the last byte, too
		if err := planjson.Write(&exporttest.Failing{Left: n}, d); !errors.Is(err, exporttest.ErrFull) {
			t.Errorf("a disk full after %d bytes gave %v", n, err)
		}
	}
}
