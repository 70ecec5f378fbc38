package rack

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Plan is what a plan that was cut does to the rack.
type Plan struct {
	Digest string  // of its content, as [Digest] gives it
	Name   string  // of the job
	Date   string  // of today, as in 2026-11-25
	Used   []Piece // each kept offcut that was cut: its label, material and size
	Kept   []Piece // offcuts that are worth keeping, without labels
}

// Kept says what [Rack.Keep] did.
type Kept struct {
	Since    string // the day on which the plan was put in before; empty when it was not
	Added    []Piece
	Removed  []Piece
	Warnings diag.List
}

// Digest returns 16 hexadecimal digits of the SHA-256 of a plan in JSON: of what it
// says, however it is spaced and its keys are ordered.
func Digest(plan []byte) (string, error) {
	d := json.NewDecoder(bytes.NewReader(plan))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		return "", err
	}
	canonical, err := json.Marshal(v) // writes keys in order
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(canonical)
	return hex.EncodeToString(sum[:8]), nil
}

// remeasured is how far the sides of a piece may be from those of the sheet of a plan
// that has its label; more, and it is not the same board. Ours.
const remeasured = 5 * length.Millimetre

// ruled rounds a side that was worked out down to what a rule measures in the unit of a
// column: a tenth of a millimetre, or 1/64 inch. No saw leaves more than that, and a
// piece is never said to be larger than it is.
func (r *Rack) ruled(w word, l length.Length) length.Length {
	step := 100 * length.Micrometre
	if u := r.columns[w].unit; u == length.IN || u == length.FT {
		step = length.Inch / 64
	}
	return l / step * step
}

// Keep takes the pieces that a plan used up out of the rack and puts those in that are
// left of it, once: when the same plan was put in before, nothing is done and the
// result says when that was. Sides are rounded down to a tenth of a millimetre or 1/64 inch,
// after the unit of the rack. The error is a [diag.List]; the rack is then as it was.
// Cost: the size of the rack, for each piece.
func (r *Rack) Keep(p Plan) (Kept, error) {
	var k Kept
	if since, ok := r.plans[p.Digest]; ok {
		k.Since = since
		return k, nil
	}
	out := r.copied()
	var used []string
	for _, u := range p.Used {
		at := out.find(u.Label)
		if at < 0 {
			continue // of another rack, or taken out by hand
		}
		was := out.lines[at].Piece
		if was.Material != u.Material || (was.Length-u.Length).Abs() > remeasured || (was.Width-u.Width).Abs() > remeasured {
			k.Warnings.Warn(was.Pos, called(was.Label), fmt.Sprintf("it is %s of %v x %v, and that of the plan is %s of %v x %v: it stays in the rack",
				clip(was.Material), was.Length, was.Width, clip(u.Material), u.Length, u.Width), "take it out by hand if it was used up")
			continue
		}
		used = append(used, was.Label)
	}
	var err error
	if k.Removed, err = out.Take(used...); err != nil {
		return Kept{}, err
	}
	var list diag.List
	for _, piece := range p.Kept {
		piece.Length, piece.Width = out.ruled(wordLength, piece.Length), out.ruled(wordWidth, piece.Width)
		if min(piece.Length, piece.Width) < MinSide && min(piece.Length, piece.Width) > 0 {
			k.Warnings.Warn(diag.Pos{}, "offcut", fmt.Sprintf("%v x %v of %s is too small for a rack, which wants %v", piece.Length, piece.Width, clip(piece.From), MinSide), "keep larger offcuts, by keep: in the job")
			continue
		}
		piece.Date = p.Date
		added, err := out.Add(piece)
		if more := (diag.List{}); errors.As(err, &more) {
			list = append(list, more...)
			continue
		}
		k.Added = append(k.Added, added)
		if twin := r.twin(added); twin != "" {
			k.Warnings.Warn(diag.Pos{}, called(added.Label), fmt.Sprintf("%s has the same size and is left of a sheet of the same name", twin), "take out one of them if both are the same board: a job that was planned again has the same sheets")
		}
	}
	if err := list.Err(); err != nil {
		return Kept{}, err
	}
	out.plans[p.Digest] = p.Date
	out.lines = append(out.lines, line{raw: fmt.Sprintf("# plan %s, put in %s: %s", p.Digest, p.Date, plain(p.Name)) + r.eol, kind: plan})
	*r = *out
	return k, nil
}

// twin returns the label of a piece that may be the same board as another one, or
// nothing.
func (r *Rack) twin(p Piece) string {
	for i := range r.lines {
		l := &r.lines[i]
		if l.kind == piece && p.From != "" && l.From == p.From && l.Material == p.Material && l.Length == p.Length && l.Width == p.Width {
			return l.Label
		}
	}
	return ""
}

// plain makes a name fit a comment, in which a spreadsheet program sees cells too.
func plain(s string) string {
	s = strings.Map(func(c rune) rune {
		if diag.Unprintable(c) || strings.ContainsRune(",;\"\t", c) {
			return ' '
		}
		return c
	}, s)
	return clip(strings.Join(strings.Fields(s), " "))
}
