package jobfile

import (
	"os"
	"path/filepath"
	"testing"

	"panelyard/parts/length"
)

// A shelf between two sides of 18, 600 over all, is 564 long; with sides of 17 it is 566,
// of 19 562, by hand. The other board keeps what the file says.
func TestReadMeasured(t *testing.T) {
	file := filepath.Join(t.TempDir(), "job.yaml")
	text := `job: Case
materials: [{name: ply, thickness: 18, measured: 17.7}, {name: back, thickness: 6}]
stock: [{name: sheet, material: ply, length: 2440, width: 1220}, {name: thin, material: back, length: 2440, width: 1220}]
panels:
  - {name: shelf, material: ply, length: 600 - 2*thickness, width: 300}
  - {name: back, material: back, length: 600 - 2*thickness, width: 300}
`
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	const mm = length.Millimetre
	for _, c := range []struct{ at, want length.Length }{{17 * mm, 566 * mm}, {18 * mm, 564 * mm}, {19 * mm, 562 * mm}} {
		job, list := ReadMeasured(file, "", map[string]length.Length{"ply": c.at})
		if list.Err() != nil {
			t.Fatal(list)
		}
		if got := job.Panels[0].Size().X; got != c.want {
			t.Errorf("at %v: %v, want %v", c.at, got, c.want)
		}
		if got := job.Panels[1].Size().X; got != 588*mm {
			t.Errorf("the other board: %v", got)
		}
	}
	job, _ := ReadMeasured(file, "", nil)
	if got := job.Panels[0].Size().X; got != 600*mm-2*17700*length.Micrometre {
		t.Errorf("as the file says: %v", got)
	}
	if _, list := ReadMeasured(file, "none", nil); list.Err() == nil {
		t.Error("a variant that is not there was read")
	}
	if _, list := ReadMeasured(file+".none", "", nil); list.Err() == nil {
		t.Error("a file that is not there was read")
	}
}
