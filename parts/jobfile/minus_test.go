package jobfile

import (
	"strings"
	"testing"

	"panelyard/parts/length"
)

// A minus between blanks is one; without them it may be that of a mixed number, which is
// one where the job is in inches, and is asked about where it is not.
func TestMinus(t *testing.T) {
	const in, mm = length.Inch, length.Millimetre
	for _, c := range []struct {
		units, text string
		want        length.Length
		say         string
	}{
		{"mm", "600 - 11", 589 * mm, ""},
		{"in", "23 - 11/16", 23*in - in*11/16, ""},
		{"in", "23-11/16", 23*in + in*11/16, ""},
		{"mm", "23-11/16 in", 23*in + in*11/16, ""},
		{"mm", "23-11/16", 0, "may be a mixed number of inches or a difference"},
		{"mm", "333,5", 333*mm + mm/2, ""},
	} {
		src := "job: Buoy\nunits: " + c.units + "\nmaterials: [{name: ply, thickness: 18 mm}]\nstock: [{name: s, material: ply, length: 2440 mm, width: 1220 mm}]\n" +
			"panels: [{name: shelf, length: 700 mm, width: \"" + c.text + "\"}]\n"
		job, list := Read("job.yaml", []byte(src))
		if c.say != "" {
			if list.Err() == nil || !strings.Contains(list.Error(), c.say) {
				t.Errorf("%s in %s: %v", c.text, c.units, list)
			}
			continue
		}
		if list.Err() != nil || job.Panels[0].Size().Y != c.want {
			t.Errorf("%s in %s: %v, %v, want %v", c.text, c.units, job, list, c.want)
		}
	}
}
