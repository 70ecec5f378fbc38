package toolpath

import (
	"bufio"
	"bytes"
	"encoding/json"
	"os/exec"
	"testing"

	"panelyard/parts"
	"panelyard/parts/outline"
	"panelyard/parts/partstest"
)

// swept is what the script says of a case.
type swept struct {
	Found []string
	Bite  float64
}

// sweep has shapely, a general-purpose library for planar geometry, sweep the bit
// along the paths of cases.
func sweep(t *testing.T, cases []named) []swept {
	t.Helper()
	const python = "/usr/bin/python3"
	partstest.Need(t, "python3-shapely", exec.Command(python, "-c", "import shapely").Run())
	var in bytes.Buffer
	enc := json.NewEncoder(&in)
	type path struct {
		Line   [][3]float64 `json:"line"`
		Closed bool         `json:"closed"`
		Lead   [][3]float64 `json:"lead"`
		Exit   [][3]float64 `json:"exit"`
	}
	for _, c := range cases {
		ps := mustOf(t, c)
		var list []path
		for _, p := range ps.List {
			list = append(list, path{plain(p.Line), p.Closed, plain(p.Lead), plain(p.Exit)})
		}
		openings := [][][3]float64{}
		for _, o := range ps.Openings {
			openings = append(openings, plain(o))
		}
		err := enc.Encode(map[string]any{
			"r": (ps.Bit / 2).MM(), "outline": plain(ps.Outline), "openings": openings, "paths": list,
			"relief": c.item.Panel.Relief != parts.NoRelief,
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(python, "testdata/sweep.py")
	cmd.Stdin = &in
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, stderr.Bytes())
	}
	var list []swept
	for s := bufio.NewScanner(bytes.NewReader(out)); s.Scan(); {
		var r swept
		if err := json.Unmarshal(s.Bytes(), &r); err != nil {
			t.Fatal(err)
		}
		list = append(list, r)
	}
	if len(list) != len(cases) {
		t.Fatalf("%d answers for %d cases", len(list), len(cases))
	}
	return list
}

// plain returns a line in millimetres.
func plain(line []outline.Vertex) [][3]float64 {
	list := [][3]float64{}
	for _, v := range line {
		list = append(list, [3]float64{v.At.X.MM(), v.At.Y.MM(), v.Bulge})
	}
	return list
}

// The bit stays out of the panel, and runs wherever shapely says it can.
func TestSweep(t *testing.T) {
	cases := append(shapes(), randoms(60)...)
	for i, r := range sweep(t, cases) {
		for _, s := range r.Found {
			t.Errorf("%d %s: %s", i, cases[i].name, s)
		}
	}
}
