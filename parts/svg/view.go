package svg

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/tdewolff/canvas"

	"panelyard/parts/length"
)

// px is a CSS pixel, in millimetres.
const px = 25.4 / 96

// inPx are the absolute units of CSS, in px.
var inPx = map[string]float64{
	"": 1, "px": 1, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96, "pt": 96.0 / 72, "pc": 16, "Q": 96 / 101.6,
}

var measure = regexp.MustCompile(`^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)\s*([a-zA-Z]*|%)\s*$`)

var errMeasure = errors.New("is no length")

// toPx reads a length in user units, which are px where it has a unit; a share of
// whole where it has a percent sign.
func toPx(s string, whole float64) (float64, error) {
	m := measure.FindStringSubmatch(s)
	if m == nil {
		return 0, errMeasure
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, errMeasure
	}
	if m[2] == "%" {
		return v / 100 * whole, nil
	}
	k, ok := inPx[m[2]]
	if !ok {
		return 0, fmt.Errorf("has a unit that is not known: %q", clip(m[2]))
	}
	return v * k, nil
}

// numbers reads a list of numbers.
func numbers(s string) ([]float64, error) {
	var list []float64
	for _, f := range strings.FieldsFunc(s, func(c rune) bool { return c == ',' || c == ' ' || c == '\t' || c == '\n' || c == '\r' }) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
			return nil, fmt.Errorf("%q is no number", clip(f))
		}
		list = append(list, v)
	}
	return list, nil
}

var operation = regexp.MustCompile(`^[\s,]*([a-zA-Z]+)\s*\(([^()]*)\)`)

// transform reads a list of transformations.
func transform(s string) (canvas.Matrix, error) {
	m := canvas.Identity
	for s = strings.TrimSpace(s); s != "" && s != "none"; s = strings.TrimSpace(s) {
		op := operation.FindStringSubmatch(s)
		if op == nil {
			return m, fmt.Errorf("%q is no transformation", clip(s))
		}
		s = s[len(op[0]):]
		v, err := numbers(op[2])
		if err != nil {
			return m, err
		}
		q, ok := one(op[1], v)
		if !ok {
			return m, fmt.Errorf("%s with %d numbers is no transformation", clip(op[1]), len(v))
		}
		m = m.Mul(q)
	}
	return m, nil
}

// one returns a single transformation.
func one(name string, v []float64) (m canvas.Matrix, ok bool) {
	n := len(v)
	switch {
	case name == "matrix" && n == 6:
		return canvas.Matrix{{v[0], v[2], v[4]}, {v[1], v[3], v[5]}}, true
	case name == "translate" && n == 1:
		return canvas.Identity.Translate(v[0], 0), true
	case name == "translate" && n == 2:
		return canvas.Identity.Translate(v[0], v[1]), true
	case name == "scale" && n == 1:
		return canvas.Identity.Scale(v[0], v[0]), true
	case name == "scale" && n == 2:
		return canvas.Identity.Scale(v[0], v[1]), true
	case name == "rotate" && n == 1:
		return turned(v[0]), true
	case name == "rotate" && n == 3:
		return canvas.Identity.Translate(v[1], v[2]).Mul(turned(v[0])).Translate(-v[1], -v[2]), true
	case name == "skewX" && n == 1:
		return canvas.Matrix{{1, math.Tan(v[0] * math.Pi / 180), 0}, {0, 1, 0}}, true
	case name == "skewY" && n == 1:
		return canvas.Matrix{{1, 0, 0}, {math.Tan(v[0] * math.Pi / 180), 1, 0}}, true
	}
	return m, false
}

// turned returns a rotation in degrees, exact for quarter turns.
func turned(deg float64) canvas.Matrix {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	if q := math.Mod(deg, 90); q == 0 {
		sin, cos = math.Round(sin), math.Round(cos)
	}
	return canvas.Matrix{{cos, -sin, 0}, {sin, cos, 0}}
}

// viewport is where a picture is drawn, in the units around it.
type viewport struct{ x, y, w, h float64 }

// fit returns how a viewBox is shown in a viewport: to its middle, as large as fits,
// unless the file says otherwise.
func fit(box []float64, to viewport, aspect string) canvas.Matrix {
	if len(box) != 4 || box[2] <= 0 || box[3] <= 0 {
		return canvas.Identity.Translate(to.x, to.y)
	}
	sx, sy := to.w/box[2], to.h/box[3]
	words := strings.Fields(aspect)
	align := "xMidYMid"
	if len(words) > 0 {
		align = words[0]
	}
	if align != "none" {
		s := min(sx, sy)
		if len(words) > 1 && words[1] == "slice" {
			s = max(sx, sy)
		}
		sx, sy = s, s
	}
	place := func(word string, free float64) float64 {
		switch {
		case align == "none", strings.Contains(align, word+"Min"):
			return 0
		case strings.Contains(align, word+"Max"):
			return free
		}
		return free / 2
	}
	x := to.x + place("x", to.w-sx*box[2])
	y := to.y + place("Y", to.h-sy*box[3])
	return canvas.Identity.Translate(x, y).Scale(sx, sy).Translate(-box[0], -box[1])
}

// size works out the picture: its viewport in px and what a px is in grid units.
func (r *reader) size(root *node) (viewport, []float64, float64) {
	unit := px * float64(length.Millimetre)
	var box []float64
	if s, ok := root.attrs["viewBox"]; ok {
		var err error
		if box, err = numbers(s); err != nil || len(box) != 4 || box[2] <= 0 || box[3] <= 0 {
			r.bad(root, fmt.Sprintf("viewBox %q is none", clip(s)), "write four numbers: x, y, width and height")
			return viewport{}, nil, unit
		}
	}
	v := viewport{}
	said := 0
	for k, to := range map[string]*float64{"width": &v.w, "height": &v.h} {
		s := strings.TrimSpace(root.attrs[k])
		if s == "" || s == "auto" || strings.HasSuffix(s, "%") {
			continue
		}
		l, err := toPx(s, 0)
		if err != nil || l <= 0 {
			r.bad(root, fmt.Sprintf("%s %q is no size of a picture", k, clip(s)), "write a length, such as 600mm")
			continue
		}
		*to = l
		said++
	}
	switch {
	case said == 2:
		return v, box, unit
	case box != nil && v.w > 0:
		v.h = v.w * box[3] / box[2]
		return v, box, unit
	case box != nil && v.h > 0:
		v.w = v.h * box[2] / box[3]
		return v, box, unit
	}
	if box != nil {
		v.w, v.h = box[2], box[3]
	}
	if r.opt.Unit.Size > 0 {
		return v, box, float64(r.opt.Unit.Size)
	}
	fact := "the drawing tells no size; a unit of it is read as a px, 1/96 in"
	if v.w > 0 {
		fact += fmt.Sprintf(", so that it is %.1f mm by %.1f mm", v.w*px, v.h*px)
	}
	r.list.Warn(r.pos(root.line), root.source().Entity, fact, "set width and height with a unit in the drawing program, or say which unit it is")
	return v, box, unit
}
