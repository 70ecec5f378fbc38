package main

import (
	"encoding/json"
	"fmt"
	"io"

	"panelyard/parts/arc"
	"panelyard/parts/bend"
	"panelyard/parts/length"
)

// bendSheet is everything there is to say of a bend.
type bendSheet struct {
	known           arc.Known
	bend            bend.Bend
	cuts            bend.Cuts
	from, to, width length.Length   // 0 is none, or not given
	positions       []length.Length // of the middles of the kerfs
	dry             *bend.Dry       // nil when it is not asked for
	advice          bend.Advice
	write           measures
}

// blank returns the length of the flat blank.
func (x bendSheet) blank() length.Length { return x.from + x.cuts.Flat + x.to }

// kerfedFace returns the word for the face that the kerfs are in.
func (x bendSheet) kerfedFace() string {
	if x.bend.Open {
		return "outer"
	}
	return "inner"
}

// print prints the bend.
func (x bendSheet) print(s streams) {
	b, c, w := x.bend, x.cuts, x.write
	s.say("bend, lengths in %s", w.Unit())
	rows := [][]string{
		{"board", w.to(b.Thickness), fmt.Sprintf("thick: depth of cut %s, web %s", w.to(c.Depth), w.to(b.Web))},
		{"outer face", w.to(b.Outer.Radius), fmt.Sprintf("radius: angle %v degrees, chord %s, rise %s, length along the arc %s", b.Outer.Angle, w.to(b.Outer.Chord), w.to(b.Outer.Rise), w.to(c.Outer))},
		{"inner face", w.to(b.Outer.Radius - b.Thickness), fmt.Sprintf("radius: length along the arc %s", w.to(c.Inner))},
		{"flat length", w.to(c.Flat), "of the bend, along the middle of the web"},
		{"blank", w.to(x.blank()), "long: " + x.sum()},
		{"kerfs", fmt.Sprint(c.Count), x.closing()},
		{"pitch", w.to(c.Pitch), "from middle to middle, half of it at both ends of the bend"},
		{"facet", w.to(c.Facet), "that the flat pieces stand off the arc"},
		{"gap", w.to(c.Gap), "of each kerf at its mouth, bent"},
	}
	if x.width > 0 {
		rows = append(rows, []string{"width", w.to(x.width), fmt.Sprintf("of the blank: %s of kerf to saw", w.with(x.width*length.Length(c.Count)))})
	}
	table(s, rows)
	s.say("\nkerfs in the %s face, from one end of the blank", x.kerfedFace())
	rows = [][]string{{"kerf", "middle", "near edge", "far edge"}}
	for i, at := range x.positions {
		rows = append(rows, []string{fmt.Sprint(i + 1), w.to(at), w.to(at - b.Kerf/2), w.to(at + b.Kerf/2)})
	}
	table(s, rows)
	x.printDry(s)
	s.say("\nmind   %s", bend.Caution)
	s.say("mind   flat pieces draw the ends of a bend a little nearer together than an arc: leave straight wood and trim it after bending")
}

// sum writes what the length of the blank is made of.
func (x bendSheet) sum() string {
	if x.from == 0 && x.to == 0 {
		return "the bend alone"
	}
	return fmt.Sprintf("straight %s + bend %s + straight %s", x.write.to(x.from), x.write.to(x.cuts.Flat), x.write.to(x.to))
}

// closing writes how the kerfs bend the board.
func (x bendSheet) closing() string {
	each := fmt.Sprintf("%s wide in the %s face, each turns %v degrees", x.write.to(x.bend.Kerf), x.kerfedFace(), x.cuts.Each)
	if x.bend.Open {
		return each + " and gapes"
	}
	return fmt.Sprintf("%s of the %v that close it; %d needed to close", each, x.cuts.Closing, x.cuts.Least)
}

// printDry prints whether plywood bends without kerfs, and what does when it does not.
func (x bendSheet) printDry(s streams) {
	if x.dry == nil {
		return
	}
	w, a := x.write, x.advice
	runs := "along the axis of the bend (across)"
	if x.dry.Grain == bend.Along {
		runs = "round the curve (along)"
	}
	s.say("\nplywood bent dry, without kerfs, its face grain %s", runs)
	rows := [][]string{{"inner face", w.to(a.Inner), "radius, the tighter one"}}
	for _, l := range a.Least {
		rows = append(rows, []string{w.to(x.dry.Thickness) + " needs", w.to(l.Radius), l.Source})
	}
	table(s, rows)
	if len(a.Least) == 0 {
		s.say("  no table knows %s board; the thickest known is %s", w.with(x.dry.Thickness), w.with(bend.ThickestKnown()))
	}
	switch a.Answer {
	case bend.Bends:
		s.say("  it bends: no kerf is needed")
		return
	case bend.TryFirst:
		s.say("  it may bend where it is good and thin-veneered: try a strip first")
	default:
		s.say("  it is too thick to bend dry")
	}
	if a.Thickest == 0 {
		s.say("  no board of the tables bends to this radius: saw the kerfs above")
		return
	}
	switch {
	case !a.Try:
		s.say("  the thickest that bends to this radius is %s", w.with(a.Thickest))
	case a.Answer == bend.TooTight:
		s.say("  only aircraft plywood is known to bend to this radius, up to %s: try a strip first", w.with(a.Thickest))
	}
	if a.Layers > 1 {
		s.say("  or glue %d layers of %s over a form", a.Layers, w.with(a.Each))
	}
	s.say("  or saw the %s above", count(x.cuts.Count, "kerf"))
}

// number writes a length for other programs: millimetres, exact.
func number(l length.Length) json.Number { return json.Number(l.Decimal()) }

// json writes the bend for other programs.
func (x bendSheet) json(w io.Writer) error {
	type dry struct {
		Grain    string        `json:"grain"`
		Answer   string        `json:"answer"` // bends, try, no
		Least    []json.Number `json:"least_radius"`
		Thickest json.Number   `json:"thickest"`
		Layers   int           `json:"layers"`
		Each     json.Number   `json:"layer_thickness"`
	}
	out := struct {
		Format    string        `json:"format"`
		Version   int           `json:"version"`
		Units     string        `json:"units"`
		Thickness json.Number   `json:"thickness"`
		Web       json.Number   `json:"web"`
		Depth     json.Number   `json:"depth"`
		Kerf      json.Number   `json:"kerf"`
		Kerfs     string        `json:"kerfs"` // closed, open
		Radius    json.Number   `json:"radius"`
		Angle     float64       `json:"angle_deg"`
		Chord     json.Number   `json:"chord"`
		Rise      json.Number   `json:"rise"`
		Outer     json.Number   `json:"outer_length"`
		Inner     json.Number   `json:"inner_length"`
		Flat      json.Number   `json:"flat_length"`
		From      json.Number   `json:"from"`
		To        json.Number   `json:"to"`
		Blank     json.Number   `json:"blank_length"`
		Width     json.Number   `json:"blank_width"` // 0 when not given
		Count     int           `json:"count"`
		Least     int           `json:"least_count"` // to close; 0 for open kerfs
		Closing   float64       `json:"closing_deg"`
		Each      float64       `json:"each_deg"`
		Pitch     json.Number   `json:"pitch"`
		Facet     json.Number   `json:"facet"`
		Gap       json.Number   `json:"gap"`
		Positions []json.Number `json:"positions"`
		Dry       *dry          `json:"dry,omitempty"`
	}{
		"panelyard-bend", 1, "mm", number(x.bend.Thickness), number(x.bend.Web), number(x.cuts.Depth), number(x.bend.Kerf), "closed",
		number(x.bend.Outer.Radius), x.bend.Outer.Angle.Degrees(), number(x.bend.Outer.Chord), number(x.bend.Outer.Rise),
		number(x.cuts.Outer), number(x.cuts.Inner), number(x.cuts.Flat), number(x.from), number(x.to), number(x.blank()), number(x.width),
		x.cuts.Count, x.cuts.Least, x.cuts.Closing.Degrees(), x.cuts.Each.Degrees(), number(x.cuts.Pitch), number(x.cuts.Facet), number(x.cuts.Gap), nil, nil,
	}
	if x.bend.Open {
		out.Kerfs = "open"
	}
	for _, at := range x.positions {
		out.Positions = append(out.Positions, number(at))
	}
	if x.dry != nil {
		answer := map[bend.Answer]string{bend.Bends: "bends", bend.TryFirst: "try", bend.TooTight: "no"}[x.advice.Answer]
		out.Dry = &dry{x.dry.Grain.String(), answer, []json.Number{}, number(x.advice.Thickest), x.advice.Layers, number(x.advice.Each)}
		for _, l := range x.advice.Least {
			out.Dry.Least = append(out.Dry.Least, number(l.Radius))
		}
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(out)
}
