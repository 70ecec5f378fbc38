package jobfile

import (
	"strings"
	"testing"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const routerJob = `job: A
materials: [{name: mdf, thickness: 12}]
stock: [{name: s, length: 2440, width: 1220}]
tools:
  router: {ROUTER}
panels:
  - {name: lid, length: 160, width: 130, relief: t-bone, openings: [{name: a, at: [30, 30], relief: dog-bone, rectangle: {length: 40, width: 30}}]}
  - {name: other, same_as: lid, mirror: yes}
  - {name: plain, same_as: lid, relief: none}
`

func TestRouter(t *testing.T) {
	const mm = length.Millimetre
	j := read(t, strings.Replace(routerJob, "ROUTER", "rpm: 18000, flutes: 2, chip_load: 0.1, plunge: 1 m, rapid: 200 in, pass: bit/2, overcut: 0, hold: skin, "+
		"tabs: {length: 8, height: 2, count: 5}, skin: 0.4, direction: conventional, screws: [{at: [20, 25], diameter: 8}]", 1)+"variables: {bit: 6}\n")
	m := j.Router
	// Feed: the example of the trade notes, 18000 rpm x 2 x 0.1 mm = 3600 mm/min.
	if f := m.Filled(); f.Feed != 3600*mm || f.Plunge != 1000*mm || f.Rapid != 200*length.Inch || f.Pass != 3*mm || f.Overcut != parts.NoOvercut {
		t.Errorf("feed %v plunge %v rapid %v pass %v overcut %v", f.Feed, f.Plunge, f.Rapid, f.Pass, f.Overcut)
	}
	if m.Hold != parts.HoldSkin || m.Skin != 400*length.Micrometre || m.Direction != parts.Conventional || m.Tabs != (parts.Tabs{Length: 8 * mm, Height: 2 * mm, Count: 5}) {
		t.Errorf("%+v", m)
	}
	if len(m.Screws) != 1 || m.Screws[0].At != geom.Pt(20*mm, 25*mm) || m.Screws[0].Diameter != 8*mm || m.Screws[0].Pos.Line != 5 {
		t.Errorf("screws %+v", m.Screws)
	}
	for i, want := range []parts.Relief{parts.TBone, parts.TBone, parts.NoRelief} {
		if p := j.Panels[i]; p.Relief != want || p.Openings[0].Relief != parts.DogBone {
			t.Errorf("%s: relief %v, opening %v", p.Name, p.Relief, p.Openings[0].Relief)
		}
	}
	// What is not given has the defaults, which Filled states.
	f := read(t, strings.Replace(routerJob, "ROUTER", "bit: 8", 1)).Router.Filled()
	if f.Feed != parts.DefaultFeed || f.Pass != 4*mm || f.Overcut != parts.DefaultOvercut || f.Hold != parts.HoldAuto || f.Direction != parts.Climb || f.Tabs.Length != 6*mm {
		t.Errorf("defaults %+v", f)
	}
}

func TestRouterRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"chip_load: 0.1": "chip_load alone gives no feed",
		"chip_load: 0.1, rpm: 100000, flutes: 12":     "is a feed of",
		"chip_load: 0.1, rpm: 9, flutes: 1, feed: 99": "both given",
		"feed: 5":                 "is less than 10 mm",
		"pass: 0.01":              "is less than 0.1 mm",
		"screws: [{at: [1, 2]}]":  "has no diameter",
		"screws: [{diameter: 4}]": "a screw has no place",
		"tabs: 6":                 "expected a group of keys",
		"hold: [tabs]":            "hold",
	} {
		_, list := Read("a.yaml", []byte(strings.Replace(routerJob, "ROUTER", text, 1)))
		if err := list.Err(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", text, err)
		}
	}
}
