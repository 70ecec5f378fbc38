package dxf

import (
	"sync"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

// turned is a job whose boards of MDF are nested in steps of 15 degrees, some of
// them cut with a round opening off the middle.
func turned() *parts.Job {
	j := exporttest.Job(exporttest.Nasty...)
	m := &j.Materials[1]
	m.Turn = 15
	wedge := outline.Outline{
		{At: geom.Pt(0, 0)},
		{At: geom.Pt(400*mm, 0), Bulge: 0.3},
		{At: geom.Pt(100*mm, 220*mm+1)},
	}
	j.Panels = append(j.Panels, parts.Panel{
		Name: "wedge", Quantity: 5, Material: m.Name, EitherFace: true, Outline: wedge, Edging: make([]string, len(wedge)),
		Openings: []parts.Opening{{Name: "cable", Outline: outline.Circle(60*mm + 1).Translate(geom.Pt(150*mm, 40*mm))}},
	})
	return j
}

// inInches is the same plan with papers in inches.
func inInches(d *export.Dossier) *export.Dossier {
	job, x := *d.Job, *d
	job.Units = length.IN
	x.Job = &job
	return &x
}

var (
	once  sync.Once
	plans map[string]*export.Dossier
)

// dossiers returns the plans that the tests look at, made once.
func dossiers(t *testing.T) map[string]*export.Dossier {
	t.Helper()
	once.Do(func() {
		router := exporttest.Dossier(t, turned(), kerf.Router)
		plans = map[string]*export.Dossier{
			"router": router,
			"inches": inInches(router),
			"saw":    exporttest.Dossier(t, exporttest.Stands(), kerf.Saw),
		}
	})
	return plans
}
