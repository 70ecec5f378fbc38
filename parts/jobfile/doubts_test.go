package jobfile

import (
	"strings"
	"testing"
)

// Warnings for panels that may be meant otherwise, and none where all is well.
func TestDoubts(t *testing.T) {
	head := "job: a\nmaterials: [{name: ply, thickness: 18}, {name: both, thickness: 18, good_faces: 2}]\n" +
		"stock: [{name: s, material: ply, length: 2440, width: 1220}, {name: t, material: both, length: 2440, width: 1220}]\npanels:\n"
	slope := "outline: {profile: [{at: [0, 0]}, {at: [600, 0]}, {at: [600, 200]}, {at: [0, 300]}]}"
	hole := "openings: [{center: [100, 100], circle: {diameter: 40}}]"
	for _, c := range []struct {
		name, panels string
		want         []string
	}{
		{"two lefts", "  - {name: side left, material: ply, " + slope + "}\n  - {name: side right, material: ply, " + slope + "}\n", []string{`panel "side right": it is drawn like "side left", not mirrored`}},
		{"left and right", "  - {name: side left, material: ply, " + slope + "}\n  - {name: side right, material: ply, mirror: yes, same_as: side left}\n", nil},
		{"two lefts by a hole", "  - {name: Left door, material: ply, length: 600, width: 300, " + hole + "}\n  - {name: Right door, material: ply, length: 600, width: 300, " + hole + "}\n", []string{"two of one hand"}},
		{"symmetric", "  - {name: side-left, material: ply, length: 600, width: 300}\n  - {name: side-right, material: ply, length: 600, width: 300}\n", nil},
		{"two good faces", "  - {name: side-left, material: both, " + slope + "}\n  - {name: side-right, material: both, " + slope + "}\n", nil},
		{"numbers", "  - {name: side-left, material: ply, quantity: 2, length: 600, width: 300}\n  - {name: side-right, material: ply, length: 600, width: 300}\n", []string{`there are 1 of it and 2 of "side-left"`}},
		{"pair", "  - {name: side, pair: yes, material: ply, " + slope + "}\n", nil},
		{"a millimetre", "  - {name: shelf, material: ply, length: 600, width: 300}\n  - {name: top, material: ply, length: 601, width: 299.5}\n", []string{`panel "top": it is 601 x 299.5 mm and "shelf" is 600 x 300 mm`}},
		{"more than that", "  - {name: shelf, material: ply, length: 600, width: 300}\n  - {name: top, material: ply, length: 601.1, width: 300}\n", nil},
		{"equal", "  - {name: shelf, material: ply, length: 600, width: 300}\n  - {name: top, material: ply, length: 600, width: 300}\n", nil},
		{"another board", "  - {name: shelf, material: ply, length: 600, width: 300}\n  - {name: top, material: both, length: 601, width: 300}\n", nil},
	} {
		job, list := Read("job.yaml", []byte(head+c.panels))
		if job == nil {
			t.Errorf("%s: %v", c.name, list)
			continue
		}
		if len(list) != len(c.want) {
			t.Errorf("%s: %d warnings, want %d: %v", c.name, len(list), len(c.want), list)
		}
		for _, w := range c.want {
			if !strings.Contains(list.Error(), w) {
				t.Errorf("%s: no %q in %v", c.name, w, list)
			}
		}
	}
}
