package jobfile

import (
	"fmt"
	"testing"

	"panelyard/parts/length"
)

// Worked examples of joints. The first is printed in a workshop magazine (as the
// trade notes quote it): a cabinet 26 in wide, dadoes 3/8 in deep, the shelf comes
// out at 25 7/16 in of board that is 21/32 in thick. The others are the carcass that the
// trade notes work out: 600 wide, 18 thick, bottom butted 564, housed by 6 mm 576.
func TestJointedSizes(t *testing.T) {
	for _, c := range []struct {
		units, thickness, length, measured, joint, want string
	}{
		{"in", "21/32", "26", "outside", "{joint: dado, depth: 3/8}", "646.1125 mm"},
		{"mm", "18", "600", "outside", "butt", "564 mm"},
		{"mm", "18", "600", "outside", "{joint: housed, depth: 6}", "576 mm"},
		{"mm", "18", "564", "inside", "{joint: housed, depth: 6}", "576 mm"},
		{"mm", "18", "564", "inside", "butt", "564 mm"},
		{"mm", "17.7", "600", "outside", "{joint: dado, depth: 5.9}", "576.4 mm"},
	} {
		job, list := Read("job.yaml", fmt.Appendf(nil, `job: a
units: %s
materials: [{name: m, thickness: %s}]
stock: [{name: s, material: m, length: 2440 mm, width: 1220 mm}]
panels: [{name: p, length: %s, width: 300 mm, measured: %s, joints: {left: %s, right: %s}}]
`, c.units, c.thickness, c.length, c.measured, c.joint, c.joint))
		if job == nil {
			t.Fatal(list)
		}
		if got := job.Panels[0].Size().X.String(); got != c.want {
			t.Errorf("%s %s of %s, %s: %s, want %s", c.length, c.measured, c.thickness, c.joint, got, c.want)
		}
	}
}

// A warning about a joint, such as a formula that counts with the nominal thickness,
// does not lose the panel.
func TestJointWithWarning(t *testing.T) {
	const src = `job: A
materials: [{name: birch 18, thickness: 18, measured: 17.4}]
stock: [{name: s, material: birch 18, length: 2440, width: 1220}]
panels:
  - {name: shelf, length: 600, width: 300, material: birch 18, joints: {left: {joint: dado, depth: 18*0.3}}}
`
	job, list := Read("a.yaml", []byte(src))
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	if len(list) == 0 {
		t.Fatal("no warning: the test shows nothing")
	}
	if len(job.Panels) != 1 || job.Panels[0].Size().X != 605400*length.Micrometre {
		t.Errorf("%d panels, %+v", len(job.Panels), job.Panels)
	}
}
