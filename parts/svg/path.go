package svg

import (
	"fmt"

	"panelyard/parts/drawing"
	"panelyard/parts/drawing/curve"
)

// segment is a part of a path in user units: a line, or an arc, or a Bézier curve
// with one or two control points.
type segment struct {
	to   curve.Vec
	arc  *curve.Conic // from the point before to to
	bend []curve.Vec  // the control points
}

// run is a part of a path that is drawn without lifting the pen.
type run struct {
	start    curve.Vec
	segments []segment
	closed   bool
}

// pathReader reads path data (SVG 1.1, section 8.3; SVG 2, section 9.3).
//
// It is our own: the parser of github.com/tdewolff/canvas, which reads the paths of
// the job file, leaves out what is shorter than a length that is fixed in user units,
// whatever their scale, takes commas where none may be, and may panic. Here arcs have
// to come through transforms, and faults need their place.
type pathReader struct {
	scanner
	runs     []run
	count    int       // segments
	at       curve.Vec // the current point
	begun    bool      // the last run is still drawn
	start    curve.Vec // of the last run
	control  curve.Vec // of the curve before: its last control point
	after    byte      // which curve that was: 'C', 'Q', or something else
	relative bool
}

// readPath reads path data. There are no runs without segments.
func readPath(s string) ([]run, error) {
	p := &pathReader{scanner: scanner{s: s}}
	p.blanks()
	if s[p.i:] == "none" { // SVG 2
		return nil, nil
	}
	for first := true; !p.end(); first = false {
		c := p.peek()
		upper := c &^ 0x20
		if need(upper) < 0 || c != upper && c != upper|0x20 {
			return nil, p.bad("there is " + p.next() + " where a command belongs")
		}
		if first && upper != 'M' {
			return nil, p.bad("the path does not begin with M")
		}
		p.i++
		p.relative = c != upper
		if err := p.command(upper); err != nil {
			return nil, err
		}
	}
	return p.runs, nil
}

// bad is a fault of path data at the current place.
func (p *pathReader) bad(what string) error {
	place := fmt.Sprintf("character %d", p.i+1)
	if p.end() {
		place = "the end"
	}
	return fault("repair the path or draw it again", "d: %s, at %s", what, place)
}

// need returns how many numbers a command takes, -1 if it is none.
func need(command byte) int {
	switch command {
	case 'Z':
		return 0
	case 'H', 'V':
		return 1
	case 'M', 'L', 'T':
		return 2
	case 'S', 'Q':
		return 4
	case 'C':
		return 6
	case 'A':
		return 7
	}
	return -1
}

// command reads what follows a command, which may be repeated without it.
func (p *pathReader) command(c byte) error {
	n := need(c)
	p.blanks()
	if n == 0 {
		p.close()
		return nil
	}
	var v [7]float64
	for again := false; ; again = true {
		for i := range n {
			var err error
			if c == 'A' && (i == 3 || i == 4) {
				v[i], err = p.flag()
			} else if v[i], err = p.number(); err != nil {
				err = p.bad(err.Error())
			}
			if err != nil {
				return err
			}
			if c == 'A' && i < 2 {
				v[i] = max(v[i], -v[i])
			}
			if i < n-1 {
				p.comma()
			}
		}
		if p.count++; p.count > drawing.MaxSegments {
			return p.bad("the path has " + count(p.count, "segment") + " or more")
		}
		if c == 'M' && again {
			c = 'L'
		}
		p.draw(c, v)
		comma := p.comma()
		b := p.peek()
		if !(b >= '0' && b <= '9' || b == '.' || b == '+' || b == '-') {
			if comma {
				return p.bad("there is " + p.next() + " where a number belongs")
			}
			return nil
		}
	}
}

// flag reads a flag of an arc, which needs no blank behind it.
func (p *pathReader) flag() (float64, error) {
	switch p.peek() {
	case '0':
		p.i++
		return 0, nil
	case '1':
		p.i++
		return 1, nil
	}
	return 0, p.bad("there is " + p.next() + " where a flag of an arc belongs, 0 or 1")
}

// point returns a point of the command that is read.
func (p *pathReader) point(x, y float64) curve.Vec {
	if p.relative {
		return p.at.Add(curve.Vec{X: x, Y: y})
	}
	return curve.Vec{X: x, Y: y}
}

// draw draws what a command with its numbers says.
func (p *pathReader) draw(c byte, v [7]float64) {
	after := byte(0)
	switch c {
	case 'M':
		p.at = p.point(v[0], v[1])
		p.start, p.begun = p.at, false
	case 'L':
		p.add(segment{to: p.point(v[0], v[1])})
	case 'H':
		to := p.point(v[0], 0)
		p.add(segment{to: curve.Vec{X: to.X, Y: p.at.Y}})
	case 'V':
		to := p.point(0, v[0])
		p.add(segment{to: curve.Vec{X: p.at.X, Y: to.Y}})
	case 'C':
		p.bezier('C', []curve.Vec{p.point(v[0], v[1]), p.point(v[2], v[3])}, p.point(v[4], v[5]))
		after = 'C'
	case 'S':
		p.bezier('C', []curve.Vec{p.reflected('C'), p.point(v[0], v[1])}, p.point(v[2], v[3]))
		after = 'C'
	case 'Q':
		p.bezier('Q', []curve.Vec{p.point(v[0], v[1])}, p.point(v[2], v[3]))
		after = 'Q'
	case 'T':
		p.bezier('Q', []curve.Vec{p.reflected('Q')}, p.point(v[0], v[1]))
		after = 'Q'
	case 'A':
		to := p.point(v[5], v[6])
		if to == p.at { // it is left out
			break
		}
		s := segment{to: to}
		if v[0] > 0 && v[1] > 0 {
			arc := arcBetween(p.at, to, curve.Vec{X: v[0], Y: v[1]}, v[2], v[3] == 1, v[4] == 1)
			s.arc = &arc
		}
		p.add(s)
	}
	p.after = after
}

// reflected returns the control point of the curve before, reflected about the
// current point, or that point when the curve before was of another kind.
func (p *pathReader) reflected(kind byte) curve.Vec {
	if p.after != kind {
		return p.at
	}
	return p.at.By(2).Sub(p.control)
}

// bezier adds a Bézier curve.
func (p *pathReader) bezier(kind byte, bend []curve.Vec, to curve.Vec) {
	p.add(segment{to: to, bend: bend})
	p.control = bend[len(bend)-1]
}

// add adds a segment.
func (p *pathReader) add(s segment) {
	if !p.begun {
		p.runs = append(p.runs, run{start: p.start})
		p.begun = true
	}
	r := &p.runs[len(p.runs)-1]
	r.segments = append(r.segments, s)
	p.at = s.to
}

// close closes the run; what follows begins where it began.
func (p *pathReader) close() {
	if p.begun {
		p.runs[len(p.runs)-1].closed = true
	}
	p.at, p.begun, p.after = p.start, false, 0
}
