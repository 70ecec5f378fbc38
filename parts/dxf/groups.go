package dxf

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// group is a pair of lines of the file: a code, which says what the value is, and
// the value. The line is that of the value, from 1.
type group struct {
	code  int
	value string
	line  int
}

// groups yields the groups of a file.
type groups struct {
	rest []byte
	line int // the last one read
	held *group
}

// The faults of the file as a whole.
var (
	errEnds = errors.New("the file ends in the middle")
	errCode = errors.New("a group code is a whole number on a line of its own")
)

// next returns the next group that is not a comment.
func (g *groups) next() (group, error) {
	if g.held != nil {
		h := *g.held
		g.held = nil
		return h, nil
	}
	for {
		code, ok := g.row()
		if !ok {
			return group{}, errEnds
		}
		n, err := strconv.Atoi(strings.TrimSpace(code))
		if err != nil {
			return group{}, fmt.Errorf("%w, not %q", errCode, clip(code))
		}
		value, ok := g.row()
		if !ok {
			return group{}, errEnds
		}
		const comment = 999
		if n != comment {
			return group{n, value, g.line}, nil
		}
	}
}

// back makes next return a group again.
func (g *groups) back(h group) { g.held = &h }

// row returns a line without its end.
func (g *groups) row() (string, bool) {
	if len(g.rest) == 0 {
		return "", false
	}
	line := g.rest
	if i := bytes.IndexByte(g.rest, '\n'); i >= 0 {
		line, g.rest = g.rest[:i], g.rest[i+1:]
	} else {
		g.rest = nil
	}
	g.line++
	return string(bytes.TrimSuffix(line, []byte("\r"))), true
}

// record is the groups of an entity, its own and not those of attached data.
type record struct {
	kind   string
	handle string
	line   int
	groups []group
}

// record reads the groups up to the next code 0.
func (g *groups) record(first group) (record, error) {
	r := record{kind: strings.ToUpper(strings.TrimSpace(first.value)), line: first.line}
	inner, embedded := false, false
	for {
		h, err := g.next()
		if err != nil {
			return r, err
		}
		switch {
		case h.code == 0:
			g.back(h)
			return r, nil
		case h.code == 102: // data of applications, between { and }
			inner = strings.HasPrefix(strings.TrimSpace(h.value), "{")
		case h.code == 101: // an embedded object: it repeats codes of its host
			embedded = true
		case inner || embedded || h.code >= 1000:
		case h.code == 5:
			r.handle = strings.TrimSpace(h.value)
		default:
			r.groups = append(r.groups, h)
		}
	}
}

// label names r in findings.
func (r *record) label() string {
	if r.handle == "" {
		return clip(r.kind)
	}
	return clip(r.kind) + ", handle " + clip(r.handle)
}

// text returns the first value of a code.
func (r *record) text(code int) (string, bool) {
	for _, g := range r.groups {
		if g.code == code {
			return g.value, true
		}
	}
	return "", false
}

// faulty is a value that cannot be read.
type faulty struct{ fact, remedy string }

func (f *faulty) Error() string { return f.fact }

// fault makes a faulty.
func fault(remedy, format string, args ...any) error {
	return &faulty{fmt.Sprintf(format, args...), remedy}
}

// number reads a value as a number.
func (g group) number() (float64, error) {
	s := strings.TrimSpace(g.value)
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) || strings.ContainsAny(s, "xX_") {
		return 0, fault("repair the number or save the drawing again", "group %d in line %d is %q, not a number", g.code, g.line, clip(s))
	}
	return v, nil
}

// reals returns the numbers of the codes, each the first of its code, or the
// default of its place.
func (r *record) reals(codes []int, defaults ...float64) ([]float64, error) {
	out := append([]float64(nil), defaults...)
	seen := make([]bool, len(codes))
	for _, g := range r.groups {
		for i, c := range codes {
			if g.code != c || seen[i] {
				continue
			}
			v, err := g.number()
			if err != nil {
				return nil, err
			}
			out[i], seen[i] = v, true
		}
	}
	return out, nil
}

// required returns the numbers of codes that must be there.
func (r *record) required(codes ...int) ([]float64, error) {
	for _, c := range codes {
		if _, ok := r.text(c); !ok {
			return nil, fault("save the drawing again with a program that writes whole entities", "group %d is missing", c)
		}
	}
	return r.reals(codes, make([]float64, len(codes))...)
}

// whole returns a whole number, or the default.
func (r *record) whole(code, def int) (int, error) {
	v, err := r.reals([]int{code}, float64(def))
	if err != nil {
		return 0, err
	}
	if v[0] != math.Trunc(v[0]) || math.Abs(v[0]) > 1<<31 {
		return 0, fault("repair the number or save the drawing again", "group %d is %v, not a whole number", code, v[0])
	}
	return int(v[0]), nil
}

// clip cuts what a file says to a length that fits a line.
func clip(s string) string {
	const most = 40
	r := []rune(strings.ToValidUTF8(s, "\ufffd"))
	if len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return string(r)
}
