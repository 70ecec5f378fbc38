package jobfile

import (
	"strings"
	"testing"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Panels may share blanks unless the job says no.
func TestShareBlanks(t *testing.T) {
	const job = "job: A\nmaterials: [{name: mdf, thickness: 12}]\nstock: [{name: s, length: 2440, width: 1220}]\npanels: [{name: lid, length: 60, width: 30}]\ntools: {saw: {share_blanks: VALUE}}\n"
	for value, own := range map[string]bool{"yes": false, "no": true, "": false, "~": false} {
		if j := read(t, strings.Replace(job, "VALUE", value, 1)); j.Saw.OwnBlanks != own {
			t.Errorf("share_blanks: %s: own blanks %t", value, j.Saw.OwnBlanks)
		}
	}
	_, list := Read("a.yaml", []byte(strings.Replace(job, "VALUE", "2", 1)))
	if err := list.Err(); err == nil || !strings.Contains(err.Error(), "share_blanks") {
		t.Errorf("share_blanks: 2: %v", err)
	}
}

// What a saw is sets its defaults, and what is said stands.
func TestSaw(t *testing.T) {
	const job = "job: A\nmaterials: [{name: mdf, thickness: 12}]\nstock: [{name: s, length: 2440, width: 1220}]\npanels: [{name: lid, length: 60, width: 30}]\ntools: {saw: {SAW}}\n"
	for said, want := range map[string]parts.Saw{
		"":                      {Kerf: parts.DefaultKerf, Allowance: parts.DefaultAllowance, Heaviest: 25},
		"kind: track":           {Kind: parts.TrackSaw, FaceDown: true, Support: 180 * mm, Kerf: parts.DefaultKerf, Allowance: parts.DefaultAllowance, Heaviest: 25},
		"kind: beam, kerf: 4.4": {Kind: parts.BeamSaw, Stages: 3, Kerf: 4400 * length.Micrometre, Allowance: parts.DefaultAllowance},
		"kind: track, good_face: up, support: 0, heaviest: 0, largest: [900, 1500], fence: 620, allowance: 0, share_blanks: no": {
			Kind: parts.TrackSaw, Kerf: parts.DefaultKerf, OwnBlanks: true, Largest: geom.Pt(1500*mm, 900*mm), Fence: 620 * mm,
		},
	} {
		got := read(t, strings.Replace(job, "SAW", said, 1)).Saw
		got.Pos = diag.Pos{}
		if got != want {
			t.Errorf("%s: %+v, want %+v", said, got, want)
		}
	}
}
