package jobfile

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"panelyard/parts"
	"panelyard/parts/length"
)

const sizesJob = `job: signal cabin
materials: [{name: board, thickness: 18}]
stock: [{name: sheet, material: board, length: 2440, width: 1220}]
variables: {width: 600, depth: 400, half: width/2, doors: 2, odd: 23 11/16 in}
carcasses:
  - {name: base, material: board, width: 500, height: 700, depth: 300, back: none}
panels:
  - {name: bottom, material: board, length: width - 36, width: depth}
  - {name: flap, material: board, length: half, width: width/doors, pair: yes}
  - {name: side, material: board, length: 700, width: odd, pair: yes}
  - {name: middle, same_as: side}
  - {name: lid, material: board, outline: {rectangle: {length: 640, width: 410, radius: 20}}}
  - name: front
    material: board
    length: 300
    width: 200
    openings: [{name: slot, at: [10, 10], rectangle: {length: 285, width: 50}}]
  - {name: sign, material: board, outline: {circle: {diameter: 300}}}
lists: [{file: more.csv}]
variants:
  - {name: small, variables: {width: 500}}
`

func sizesModel(t *testing.T, variant string) (*Model, *parts.Job) {
	t.Helper()
	dir := t.TempDir()
	file := filepath.Join(dir, "job.yaml")
	for name, text := range map[string]string{"job.yaml": sizesJob, "more.csv": "name,length,width,material\nkick,480,90,board\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	m := NewModel(file, variant)
	job, list := m.Job()
	if list.Err() != nil {
		t.Fatal(list)
	}
	return m, job
}

// sized returns the size of a name.
func sized(t *testing.T, m *Model, name string) Size {
	t.Helper()
	at := slices.IndexFunc(m.Sizes(), func(s Size) bool { return s.String() == name })
	if at < 0 {
		t.Fatalf("no size %s among %v", name, m.Sizes())
	}
	return m.Sizes()[at]
}

// Only what stands in plain figures is a size: what is worked out follows.
func TestSizes(t *testing.T) {
	m, _ := sizesModel(t, "")
	var got []string
	for _, s := range m.Sizes() {
		got = append(got, s.String()+" "+s.Value.Decimal())
	}
	want := []string{
		`variable "width" 600`, `variable "depth" 400`, `variable "doors" 2`, `variable "odd" 601.6625`,
		`carcass "base", width 500`, `carcass "base", height 700`, `carcass "base", depth 300`,
		`panel "side", length 700`, `panel "lid", length 640`, `panel "lid", width 410`,
		`panel "front", length 300`, `panel "front", width 200`, `panel "kick", length 480`, `panel "kick", width 90`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("sizes\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// What follows from a size moves along. Sizes worked out by hand.
func TestLess(t *testing.T) {
	const mm = length.Millimetre
	for _, c := range []struct {
		variant, size string
		by            length.Length
		want          []string // panels that change
	}{
		{"", `variable "width"`, 10 * mm, []string{"bottom 554 x 400", "flap-left 295 x 295", "flap-right 295 x 295"}},
		{"small", `variable "width"`, 10 * mm, []string{"bottom 454 x 400", "flap-left 245 x 245", "flap-right 245 x 245"}},
		{"", `variable "odd"`, length.Inch / 16, []string{"side-left 700 x 600.075", "side-right 700 x 600.075", "middle 700 x 600.075"}},
		{"", `panel "side", length`, 3 * mm, []string{"side-left 697 x 601.6625", "side-right 697 x 601.6625", "middle 697 x 601.6625"}},
		{"", `panel "lid", width`, 5 * mm, []string{"lid 640 x 405"}},
		{"", `panel "kick", length`, mm, []string{"kick 479 x 90"}},
		{"", `carcass "base", depth`, 10 * mm, []string{"base side-left 700 x 290", "base side-right 700 x 290", "base bottom 464 x 290", "base top 464 x 290"}},
	} {
		t.Run(c.variant+c.size, func(t *testing.T) {
			m, base := sizesModel(t, c.variant)
			job, list := m.Less(sized(t, m, c.size), c.by)
			if list.Err() != nil {
				t.Fatal(list)
			}
			if len(job.Panels) != len(base.Panels) {
				t.Fatalf("%d panels of %d", len(job.Panels), len(base.Panels))
			}
			var got []string
			for i := range job.Panels {
				p := &job.Panels[i]
				if s := p.Size(); s != base.Panels[i].Size() {
					got = append(got, p.Name+" "+s.X.Decimal()+" x "+s.Y.Decimal())
				}
			}
			slices.Sort(got)
			slices.Sort(c.want)
			if !slices.Equal(got, c.want) {
				t.Errorf("changed: %q, want %q", got, c.want)
			}
			if again, _ := m.Job(); facts(again) != facts(base) {
				t.Error("the job as written has changed")
			}
		})
	}
}

// What cannot be made smaller says why.
func TestLessRefused(t *testing.T) {
	m, _ := sizesModel(t, "")
	for _, c := range []struct {
		size string
		by   length.Length
		want string
	}{
		{`panel "front", length`, 6 * length.Millimetre, "slot"}, // it would reach over the edge
		{`variable "doors"`, length.Millimetre, "flap"},          // a count is no length
		{`panel "kick", width`, 90 * length.Millimetre, "greater than zero"},
	} {
		job, list := m.Less(sized(t, m, c.size), c.by)
		if job != nil || list.Err() == nil || !strings.Contains(list.Error(), c.want) {
			t.Errorf("%s: %v, %v", c.size, job != nil, list)
		}
	}
}

// A file that is not there is a finding.
func TestModelOfNothing(t *testing.T) {
	m := NewModel(filepath.Join(t.TempDir(), "none.yaml"), "")
	if job, list := m.Job(); job != nil || list.Err() == nil || len(m.Sizes()) != 0 {
		t.Errorf("%v, %v", job, list)
	}
}
