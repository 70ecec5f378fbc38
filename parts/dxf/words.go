package dxf

import (
	"strings"

	"panelyard/parts/drawing"
)

// words is a text.
type words struct {
	at      vec
	content string
}

// text reads a TEXT or an ATTRIB. One that is not set from its lower left stands
// where its second point is.
func (r *reader) text(rec *record) (shape, error) {
	v, err := rec.required(10, 20)
	if err != nil {
		return nil, err
	}
	across, err := rec.whole(72, 0)
	if err != nil {
		return nil, err
	}
	code := 73 // how a TEXT is set upwards
	if rec.kind == "ATTRIB" {
		code = 74
	}
	up, err := rec.whole(code, 0)
	if err != nil {
		return nil, err
	}
	if across != 0 || up != 0 {
		if v, err = rec.reals([]int{11, 21}, v...); err != nil {
			return nil, err
		}
	}
	s, _ := rec.text(1)
	return &words{vec{X: v[0], Y: v[1]}, plain(r.decoded(s))}, nil
}

// mtext reads an MTEXT, whose content may be in several groups.
func (r *reader) mtext(rec *record) (shape, error) {
	v, err := rec.required(10, 20)
	if err != nil {
		return nil, err
	}
	var b strings.Builder
	for _, g := range rec.groups {
		if g.code == 1 || g.code == 3 {
			b.WriteString(g.value)
		}
	}
	return &words{vec{X: v[0], Y: v[1]}, unformatted(r.decoded(b.String()))}, nil
}

// draw adds the text to the drawing. One that lies far off is left out: it names
// nothing.
func (w *words) draw(x *expansion, e *entity, at place) error {
	p, ok := at.view.Then(e.plane).Point(w.at).OnGrid()
	if ok {
		x.d.Texts = append(x.d.Texts, drawing.Text{
			Source: x.source(e, at), Layer: x.layer(e, at), At: p, Content: w.content,
		})
	}
	return nil
}
