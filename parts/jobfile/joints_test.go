package jobfile

import (
	"fmt"
	"testing"
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
