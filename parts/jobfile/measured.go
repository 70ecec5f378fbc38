package jobfile

import (
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// ReadMeasured reads a variant of a job as if its boards measured something else: by the
// name of the material, the thickness that joints, carcasses and formulas count with.
// The other materials are as the file says. Findings are those of [ReadVariant].
func ReadMeasured(path, variant string, thickness map[string]length.Length) (*parts.Job, diag.List) {
	src, err := diag.ReadFile(path, MaxBytes)
	if err != nil {
		return nil, diag.List{{Pos: diag.Pos{File: path}, Fact: err.Error(), Remedy: remedyFor(err), Err: err}}
	}
	r := newReader(path, diag.ReadFile)
	r.variant, r.measured = variant, thickness
	return r.read(src)
}
