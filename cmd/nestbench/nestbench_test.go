package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// shelves lays the boxes of pieces in rows, each part in its last turn that fits.
// It is the tiny solver of these tests.
type shelves struct {
	apart int  // units between boxes; negative ones overlap
	still bool // waits for the context before it returns
	told  *int // how often it was asked
}

func (shelves) Name() string { return "shelves" }

func (s shelves) Solve(ctx context.Context, p *nest.Problem, set nest.Settings) (*nest.Plan, nest.Stats, error) {
	if s.told != nil {
		*s.told++
	}
	plan := &nest.Plan{}
	u := p.Stocks[0].Usable
	apart := length.Length(s.apart)
	var x, y, wide length.Length
	for i := range p.Parts {
		part := &p.Parts[i]
		turn, size := -1, geom.Point{}
		for _, t := range part.Turns {
			if b := part.Shape.Turned(t).Box().Size(); b.X <= u.Dx() && b.Y <= u.Dy() {
				turn, size = t, b
			}
		}
		if turn < 0 {
			plan.Unplaced = append(plan.Unplaced, nest.Unplaced{Part: i, Copies: part.Copies, Reason: "fits no sheet"})
			continue
		}
		for c := range part.Copies {
			if y+size.Y > u.Dy() {
				x, y, wide = x+wide+apart, 0, 0
			}
			if len(plan.Sheets) == 0 || x+size.X > u.Dx() {
				plan.Sheets = append(plan.Sheets, nest.Sheet{})
				x, y, wide = 0, 0, 0
			}
			last := &plan.Sheets[len(plan.Sheets)-1]
			last.Placements = append(last.Placements, nest.Placement{Part: i, Copy: c + 1, Turn: turn, At: geom.Pt(x, y)})
			y, wide = y+size.Y+apart, max(wide, size.X)
		}
	}
	if set.Watch != nil {
		used := length.Length(0)
		if p.Strip {
			used = x + wide
		}
		set.Watch(nest.Progress{Sheets: len(plan.Sheets), Used: used})
	}
	if s.still {
		<-ctx.Done()
	}
	return plan, nest.Stats{}, nil
}

// only returns a choice of one solver for true shapes.
func only(s nest.Solver) solverChoice {
	return func(string, bool) []stage { return []stage{{s, kerf.Router, 1}} }
}

// write makes files in a new folder and returns it.
func write(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		name = filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// The instances are our own: parts of a kiosk that shows the tides.
const (
	// Four gussets and a shelf in a strip 10 wide: areas 4 x 8 + 20, rows of boxes.
	gussets = `{"name":"gussets","container":{"kind":"strip","width":10},"rotations_deg":[0,180],
		"pieces":[{"id":"gusset","quantity":4,"outer":[[0,0],[4,0],[0,4]]},
		{"id":7,"outer":[[1,1],[1,5],[6,5],[6,1],[1,1]],"rotations_deg":[90]}]}`
	// Six shelves that fill two boards.
	boards = `{"name":"boards","container":{"kind":"bin","width":12,"height":8},"known_optimal_bins":2,
		"pieces":[{"id":"shelf","quantity":6,"rotations_deg":[0,90],"outer":[[0,0],[8,0],[8,4],[0,4]]}]}`
)

func runWith(t *testing.T, ctx context.Context, choice solverChoice, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, err bytes.Buffer
	code = run(ctx, args, &out, &err, choice)
	return code, out.String(), err.String()
}

func TestTableAndLines(t *testing.T) {
	dir := write(t, map[string]string{
		"kiosk/gussets.json": gussets, "kiosk/boards.json": boards, "kiosk/notes.json": `{"remark":"no instance"}`, "kiosk/readme.txt": "{",
		"kiosk/best_known_strip.tsv": "# ours\nname\tbest2025_best\tbest_length\ngussets\t80\t6.5\n",
	})
	out := filepath.Join(dir, "out.jsonl")
	code, stdout, stderr := runWith(t, t.Context(), only(shelves{}), "--time", "1m", "--curve", "60", "--out", out, dir)
	if code != exitDone {
		t.Fatalf("exit code %d: %s", code, stderr)
	}
	// Shelves by hand. Strip: two gussets of box 4 x 4 in a row, twice, then the
	// shelf, 5 x 4 turned to 4 x 5: length 12, density 52/120. Bins: the last turn
	// is 4 x 8, three to a board: two boards, full, which is the bound.
	for _, want := range []string{
		"12 (43.33 %)", "6.5 (80.00 %)", "1.8462", "60 s: 43.33 %",
		"kiosk (strips)  1 instances, mean density 43.33 %, best known 80.00 % and mean ratio 1.8462 on 1, 0 proved",
		"kiosk (bins)    1 instances, 2 bins, bound 2, mean F 1.0000, 2 bins to best known 2 and mean ratio 1.0000 on 1, 1 proved",
	} {
		if !strings.Contains(stdout, want) {
			t.Errorf("no %q in\n%s", want, stdout)
		}
	}
	if !strings.Contains(stderr, "notes.json: skipped: no instance") || strings.Contains(stderr, "readme.txt") {
		t.Errorf("notes: %s", stderr)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	if len(lines) != 2 {
		t.Fatalf("%d lines, want 2: %s", len(lines), text)
	}
	var bins, strip struct {
		Instance, Cut string
		Bins          int
		Length, Cost  *float64
		Density       float64 `json:"density_pct"`
		Bound         *float64
		Seconds       *float64
		Layout        []struct {
			Bin, Copy int
			Piece     string
			Turn      *int `json:"rotation_deg"`
			Outer     [][2]float64
		}
	}
	if err := errors.Join(json.Unmarshal([]byte(lines[0]), &bins), json.Unmarshal([]byte(lines[1]), &strip)); err != nil {
		t.Fatal(err)
	}
	if bins.Instance != "boards" || bins.Cut != "router" || bins.Bins != 2 || bins.Length != nil || *bins.Cost != 2 || bins.Density != 100 || *bins.Bound != 2 || bins.Seconds == nil {
		t.Errorf("boards: %s", lines[0])
	}
	if strip.Instance != "gussets" || strip.Bins != 1 || *strip.Length != 12 || strip.Density != 43.333333 || *strip.Bound != 5.2 {
		t.Errorf("gussets: %s", lines[1])
	}
	last := bins.Layout[5]
	if last.Bin != 1 || last.Piece != "shelf" || last.Copy != 6 || *last.Turn != 90 || fmt.Sprint(last.Outer) != "[[12 0] [12 8] [8 8] [8 0]]" {
		t.Errorf("the last shelf: %+v", last)
	}
	if g := strip.Layout[2]; g.Piece != "gusset" || *g.Turn != 180 || fmt.Sprint(g.Outer) != "[[8 4] [4 4] [8 0]]" {
		t.Errorf("the third gusset: %+v", g)
	}
	if s := strip.Layout[4]; s.Piece != "7" || fmt.Sprint(s.Outer) != "[[12 0] [8 0] [8 5] [12 5]]" {
		t.Errorf("the shelf with a number for a name: %+v", s)
	}
}

// The solvers of the program, on what they are for. Bounds prove them right.
func TestSolvers(t *testing.T) {
	dir := write(t, map[string]string{"boards.json": boards})
	for _, cut := range []string{"saw", "free", "router"} {
		out := filepath.Join(dir, cut)
		code, stdout, stderr := runWith(t, t.Context(), solversFor, "--cut", cut, "--time", "20s", "--out", out, filepath.Join(dir, "boards.json"))
		if code != exitDone || !strings.Contains(stdout, "1 proved") {
			t.Errorf("--cut %s: exit code %d, %s%s", cut, code, stdout, stderr)
		}
		text, err := os.ReadFile(out)
		if err != nil || !strings.Contains(string(text), `"cut":"`+cut+`"`) {
			t.Errorf("--cut %s: %s %v", cut, text, err)
		}
	}
	dir = write(t, map[string]string{"gussets.json": gussets})
	code, stdout, stderr := runWith(t, t.Context(), solversFor, "--time", "300ms", dir)
	if code != exitDone || !strings.Contains(stdout, "gussets") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
}

// A counted budget gives the same layout each time, long before the time is up.
func TestRounds(t *testing.T) {
	dir := write(t, map[string]string{"gussets.json": gussets})
	var lines []string
	for _, name := range []string{"a", "b"} {
		out, prof := filepath.Join(dir, name), filepath.Join(dir, name+".prof")
		start := time.Now()
		code, _, stderr := runWith(t, t.Context(), solversFor, "--time", "10m", "--rounds", "200", "--profile", prof, "--out", out, filepath.Join(dir, "gussets.json"))
		if code != exitDone || time.Since(start) > time.Minute {
			t.Fatalf("exit code %d after %v: %s", code, time.Since(start), stderr)
		}
		text, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		_, layout, ok := strings.Cut(string(text), `"layout"`)
		if !ok {
			t.Fatalf("no layout: %s", text)
		}
		lines = append(lines, layout)
		if info, err := os.Stat(prof); err != nil || info.Size() == 0 {
			t.Errorf("no profile: %v", err)
		}
	}
	if lines[0] != lines[1] {
		t.Errorf("two layouts of one budget:\n%s\n%s", lines[0], lines[1])
	}
	for _, bad := range [][]string{{"--rounds", "-1"}, {"--profile", filepath.Join(dir, "no", "such")}} {
		if code, _, stderr := runWith(t, t.Context(), solversFor, append(bad, dir)...); code != exitBad || stderr == "" {
			t.Errorf("%v: exit code %d, %q", bad, code, stderr)
		}
	}
}

func TestExitCodes(t *testing.T) {
	dir := write(t, map[string]string{
		"a/gussets.json": gussets, "a/boards.json": boards, "other.json": `[1]`,
		"bad.json": `{"container":{"kind":"strip","width":0},"pieces":[{"id":"x","outer":[[0,0],[1,1],[2,2]]},{"id":"y","quantity":-1,"outer":[[0,0],[1,0],[0,1]]}]}`,
	})
	file := func(name string) string { return filepath.Join(dir, name) }
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	for _, c := range []struct {
		name string
		ctx  context.Context
		by   nest.Solver
		args []string
		code int
		want []string // in what is printed
	}{
		{"help", nil, shelves{}, []string{"--help"}, exitDone, []string{"Usage: nestbench", "--curve"}},
		{"nothing named", nil, shelves{}, nil, exitBad, []string{"no instance: name a file"}},
		{"wrong cut", nil, shelves{}, []string{"--cut", "knife", dir}, exitBad, []string{"--cut knife: want router, free or saw"}},
		{"no time", nil, shelves{}, []string{"--time", "0s", dir}, exitBad, []string{"--time 0s"}},
		{"no threads", nil, shelves{}, []string{"--threads", "0", dir}, exitBad, []string{"--threads 0"}},
		{"curve beyond the time", nil, shelves{}, []string{"--curve", "1,9", dir}, exitBad, []string{"--curve 1,9: want seconds above 0 up to --time, which is 5s"}},
		{"curve of no number", nil, shelves{}, []string{"--curve", "NaN", dir}, exitBad, []string{"--curve NaN"}},
		{"unknown flag", nil, shelves{}, []string{"--fast", dir}, exitBad, []string{"unknown flag"}},
		{"no file", nil, shelves{}, []string{file("none.json")}, exitBad, []string{"none.json"}},
		{"a file that is something else", nil, shelves{}, []string{file("other.json")}, exitBad, []string{"other.json: no instance: it has no container and pieces"}},
		{"all mistakes of a file, and the others are run", nil, shelves{}, []string{dir}, exitBad, []string{"container width 0", `piece "x": outer has no area`, `piece "y": quantity -1`, "12 (43.33 %)"}},
		{"a saw and triangles", nil, shelves{}, []string{"--cut", "saw", file("a/gussets.json")}, exitBad, []string{`gussets.json: skipped: piece "gusset" is no upright rectangle`, "no instance to work on"}},
		{"a layout with overlap", nil, shelves{apart: -1000}, []string{file("a")}, exitBad, []string{"the judge refused the layout"}},
		{"out that cannot be made", nil, shelves{}, []string{"--out", file("none/out"), file("a")}, exitBad, []string{"none"}},
		{"interrupted", ended, shelves{still: true}, []string{"--time", "1h", file("a")}, exitInterrupted, []string{"interrupted; 1 of 2", "boards", "2 bins"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			ctx := c.ctx
			if ctx == nil {
				ctx = t.Context()
			}
			code, stdout, stderr := runWith(t, ctx, only(c.by), c.args...)
			if code != c.code {
				t.Errorf("exit code %d, want %d", code, c.code)
			}
			for _, w := range c.want {
				if !strings.Contains(stdout+stderr, w) {
					t.Errorf("no %q in\n%s%s", w, stdout, stderr)
				}
			}
		})
	}
}

// A search ends when the bound is reached, and no other solver is asked then.
func TestEndsAtTheBound(t *testing.T) {
	dir := write(t, map[string]string{"boards.json": boards, "gussets.json": gussets})
	asked := 0
	both := func(string, bool) []stage {
		return []stage{{shelves{still: true}, kerf.Router, 0.5}, {shelves{told: &asked}, kerf.Router, 1}}
	}
	code, stdout, _ := runWith(t, t.Context(), both, "--time", "1h", filepath.Join(dir, "boards.json"))
	if code != exitDone || asked != 0 || !strings.Contains(stdout, "proved") {
		t.Errorf("exit code %d, the second was asked %d times: %s", code, asked, stdout)
	}
	code, _, _ = runWith(t, t.Context(), both, "--time", "200ms", filepath.Join(dir, "gussets.json"))
	if code != exitDone || asked != 1 {
		t.Errorf("exit code %d, the second was asked %d times, want once", code, asked)
	}
}

// Lines that were written stay when a later instance fails; an old file stays
// when nothing is measured.
func TestLinesStay(t *testing.T) {
	dir := write(t, map[string]string{"boards.json": boards, "old": "old\n"})
	old := filepath.Join(dir, "old")
	if code, _, _ := runWith(t, t.Context(), only(shelves{apart: -5}), "--out", old, dir); code != exitBad {
		t.Errorf("exit code %d", code)
	}
	if text, err := os.ReadFile(old); err != nil || string(text) != "old\n" {
		t.Errorf("%q %v", text, err)
	}
}

// Pieces too large for the container are counted, and there is no ratio.
func TestUnplaced(t *testing.T) {
	dir := write(t, map[string]string{"a.json": `{"container":{"kind":"bin","width":5,"height":5},"known_optimal_bins":1,
		"pieces":[{"id":"door","quantity":2,"outer":[[0,0],[6,0],[6,1],[0,1]]},{"id":"plinth","outer":[[0,0],[5,0],[5,1],[0,1]]}]}`})
	code, stdout, _ := runWith(t, t.Context(), only(shelves{}), dir)
	if code != exitDone || !strings.Contains(stdout, "2 pieces found no place") || strings.Contains(stdout, "1.0000") || strings.Contains(stdout, "1 proved") {
		t.Errorf("exit code %d\n%s", code, stdout)
	}
}

func TestSets(t *testing.T) {
	var list []*instance
	add := func(file, name, kind string) *instance {
		in := &instance{file: file, Name: name}
		in.Container.Kind = kind
		list = append(list, in)
		return in
	}
	lone := add("d/harbour.json", "harbour", "strip")
	few := add("d/tide1.json", "tide1", "strip")
	add("d/tide2.json", "tide2", "strip")
	many := add("d/buoy0a.json", "buoy0a", "bin")
	for i := range largeFamily - 1 {
		add(fmt.Sprintf("d/buoy%d.json", i+1), fmt.Sprintf("buoy%d", i+1), "bin")
	}
	other := add("d/buoy9.json", "buoy9", "strip")
	assignSets(list)
	if got := []string{lone.set, few.set, many.set, other.set}; !slices.Equal(got, []string{"d", "d", "d/buoy", "d"}) {
		t.Errorf("%q", got)
	}
}

func TestBestKnown(t *testing.T) {
	dir := write(t, map[string]string{
		"good.tsv": "# x\n\nname\tbest2025_best\tbest_length\na\t50\t\nb\t50\t7\nc\t\t\n",
		"bad.tsv":  "name\tbest_length\na\tlong\n",
		"none.tsv": "instance\n",
	})
	got, err := readBestKnown(filepath.Join(dir, "good.tsv"))
	if err != nil || got["a"] != (bestKnown{0, 50}) || got["b"] != (bestKnown{7, 50}) || got["c"] != (bestKnown{}) {
		t.Errorf("%v %v", got, err)
	}
	for name, want := range map[string]string{"bad.tsv": `bad.tsv:2: best_length "long"`, "none.tsv": "none.tsv:1: no column name"} {
		if _, err := readBestKnown(filepath.Join(dir, name)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if got, err := readBestKnown(filepath.Join(dir, "missing.tsv")); got != nil || err != nil {
		t.Errorf("%v %v", got, err)
	}
	// An optimum in the file counts, and a density gives a length.
	in := []*instance{{file: filepath.Join(dir, "x.json"), Name: "x", OptimalLength: 3}, {file: filepath.Join(dir, "y.json"), Name: "a", area: 40}}
	for _, i := range in {
		i.Container.Kind, i.Container.Width = "strip", 10
	}
	if err := os.Rename(filepath.Join(dir, "good.tsv"), filepath.Join(dir, bestKnownFile)); err != nil {
		t.Fatal(err)
	}
	if errs := addBestKnown(in); len(errs) > 0 || in[0].bestLength != 3 || math.Abs(in[1].bestLength-8) > 1e-12 {
		t.Errorf("%v %v %v", errs, in[0].bestLength, in[1].bestLength)
	}
}
