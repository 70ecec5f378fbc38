package jobfile

import (
	"fmt"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// heaviest is the greatest mass in kg that may be given as carried.
const heaviest = 1000

// saw reads the saw of a job: what it is sets the defaults of the rest.
func (r *reader) saw(g *group) {
	kind, word := parts.TableSaw, g.choice("kind", "", "table", "track", "beam")
	switch word {
	case "track":
		kind = parts.TrackSaw
	case "beam":
		kind = parts.BeamSaw
	}
	s := parts.DefaultSaw(kind)
	s.Pos = g.v.pos
	s.Kerf = g.length("kerf", s.Kerf, 0, 20*length.Millimetre)
	s.Allowance = g.length("allowance", s.Allowance, 0, 100*length.Millimetre)
	if v := g.get("share_blanks"); v != nil && v.shape != null {
		s.OwnBlanks = !g.yes("share_blanks")
	}
	side := "up"
	if s.FaceDown {
		side = "down"
	}
	s.FaceDown = g.choice("good_face", side, "up", "down") == "down"
	s.Stages = g.whole("stages", s.Stages, 2, 20)
	known := word != "" || !g.has("kind")
	if known && kind != parts.BeamSaw && g.has("stages") {
		g.add(g.get("stages"), "stages: only a beam saw is limited to stages", "remove it, or say kind: beam")
		s.Stages = 0
	}
	s.Fence = g.length("fence", 0, 50*length.Millimetre, 0)
	s.Support = g.length("support", s.Support, 0, 1000*length.Millimetre)
	if known && kind != parts.TrackSaw && g.has("support") {
		g.add(g.get("support"), "support: only a track saw needs board below its rail", "remove it, or say kind: track")
	}
	if g.has("heaviest") {
		s.Heaviest = g.number("heaviest", heaviest)
	}
	if v := g.get("largest"); v != nil && v.shape != null {
		if p, ok := r.point(g, v, "largest", -length.Max); ok {
			s.Largest = geom.Pt(max(p.X, p.Y), min(p.X, p.Y))
			if s.Largest.Y <= 0 {
				g.add(v, fmt.Sprintf("largest: a piece of %s x %s is none", r.size(p.X), r.size(p.Y)), "give the length and width that go through the door, up the stairs or into the car")
				s.Largest = geom.Point{}
			}
		}
	}
	g.done("kind", "kerf", "allowance", "share_blanks", "good_face", "stages", "fence", "support", "heaviest", "largest")
	r.out.Saw = s
}
