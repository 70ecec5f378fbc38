package rack

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"panelyard/parts/diag"
)

// Add puts a piece into the rack and returns it as it is there: with a new label, one
// that was never given before, when it has none. The error is a [diag.List] with all
// that is wrong with the piece; the rack is then as it was. Cost: the size of the rack.
func (r *Rack) Add(p Piece) (Piece, error) {
	out := r.copied()
	p.Pos = diag.Pos{}
	if !p.Priced {
		p.Price = 0
	}
	var list diag.List
	if p.Label == "" {
		if out.highest >= maxNumber {
			list.Add(diag.Pos{}, "offcut", fmt.Sprintf("no label is left after %s", label(out.highest)), "give it a label with --label")
			return p, list
		}
		out.highest++
		p.Label = label(out.highest)
	}
	if n := len(r.Pieces()); n >= MaxPieces {
		list.Add(diag.Pos{File: r.name}, "", fmt.Sprintf("has %d pieces, as many as a rack may have", n), "take out what is gone, or begin another rack")
		return p, list
	}
	for w, filled := range p.filled() {
		if filled && out.columns[w].at < 0 {
			out.addColumn(word(w))
		}
	}
	raw := out.compose(p)
	got, list := out.reread(raw)
	if err := list.Err(); err != nil {
		return p, err
	}
	if got != p {
		list.Add(diag.Pos{}, called(p.Label), "holds white space that a file does not keep", "write each text on one line, without blanks at its ends")
		return p, list
	}
	out.highest = max(out.highest, number(p.Label))
	at := 0
	for i := range out.lines {
		if k := out.lines[i].kind; k == heading || k == piece {
			at = i + 1
		}
	}
	out.lines = slices.Insert(out.lines, at, line{raw: raw, kind: piece, Piece: p})
	out.note()
	*r = *out
	return p, nil
}

// filled says of each word whether a piece has something to write in its column.
func (p *Piece) filled() [words]bool {
	var f [words]bool
	for w, s := range p.texts() {
		f[w] = s != ""
	}
	f[wordThickness] = p.Thickness != 0
	f[wordPrice] = p.Priced
	return f
}

// reread reads a row that was composed as it will be read from the file.
func (r *Rack) reread(raw string) (Piece, diag.List) {
	rd := &reader{r: r, labels: map[string]int{}, titles: make([]string, r.width)}
	for i := range r.lines {
		if l := &r.lines[i]; l.kind == piece {
			rd.labels[strings.ToLower(l.Label)] = l.Pos.Line
		}
	}
	for i := range rd.titles {
		rd.titles[i] = "written by us"
	}
	p := rd.piece(record("", raw, 0, 1, r.sep))
	for i := range rd.list {
		rd.list[i].Pos = diag.Pos{}
	}
	p.Pos = diag.Pos{}
	return p, rd.list
}

// Take takes the pieces of some labels out of the rack and returns them. The error is a
// [diag.List] with every label that is not there; the rack is then as it was. Cost: the
// size of the rack, for each label.
func (r *Rack) Take(labels ...string) ([]Piece, error) {
	var list diag.List
	var taken []Piece
	out := r.copied()
	seen := map[string]bool{}
	for _, l := range labels {
		key := strings.ToLower(strings.TrimSpace(l))
		if seen[key] {
			continue
		}
		seen[key] = true
		at := out.find(l)
		if at < 0 {
			list.Add(diag.Pos{File: r.name}, called(l), "is not in the rack", r.have(l))
			continue
		}
		taken = append(taken, out.lines[at].Piece)
		out.lines = slices.Delete(out.lines, at, at+1)
	}
	if err := list.Err(); err != nil {
		return nil, err
	}
	out.note()
	*r = *out
	return taken, nil
}

// have names the labels of a rack to one who asked for another.
func (r *Rack) have(l string) string {
	var all []string
	for _, p := range r.Pieces() {
		all = append(all, p.Label)
	}
	if len(all) == 0 {
		return "the rack is empty"
	}
	list := "in the rack: " + strings.Join(all[:min(len(all), 20)], ", ")
	if len(all) > 20 {
		list += ", …"
	}
	if near := diag.Nearest(strings.TrimSpace(l), all); near != "" {
		return fmt.Sprintf("did you mean %q? %s", near, list)
	}
	return list
}

// copied returns a copy of a rack that can be changed.
func (r *Rack) copied() *Rack {
	out := *r
	out.lines, out.plans = slices.Clone(r.lines), maps.Clone(r.plans)
	return &out
}

// note has the file state the highest label.
func (r *Rack) note() {
	if r.highest <= r.stated {
		return
	}
	r.stated = r.highest
	l := line{raw: "# highest label: " + label(r.highest) + r.eol, kind: highest}
	if at := slices.IndexFunc(r.lines, func(l line) bool { return l.kind == highest }); at >= 0 {
		r.lines[at] = l
		return
	}
	at := slices.IndexFunc(r.lines, func(l line) bool { return l.kind == heading })
	r.lines = slices.Insert(r.lines, at, l)
}
