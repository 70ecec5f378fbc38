package dxf

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"

	"panelyard/parts/diag"
	"panelyard/parts/drawing"
	"panelyard/parts/length"
)

// The limits of a file.
const (
	MaxBytes    = 64 << 20
	MaxEntities = 100_000
	MaxDepth    = 16 // of blocks inserted in blocks
)

// DefaultTolerance is how far flattened curves may leave the true ones (common
// practice, no source).
const DefaultTolerance = 10 * length.Micrometre

// Options say how a file is read. The zero Options are the defaults.
type Options struct {
	Unit      length.Unit   // of a file that does not tell its unit; millimetres if zero
	Tolerance length.Length // of flattened curves; DefaultTolerance if 0 or less
}

// ReadFile reads a file; see [Read].
func ReadFile(path string, opt Options) (*drawing.Drawing, diag.List) {
	src, err := diag.ReadFile(path, MaxBytes)
	if err != nil {
		remedy := "check the name and the permissions of the file"
		switch {
		case errors.Is(err, diag.TooLarge(MaxBytes)):
			remedy = largeRemedy
		case errors.Is(err, diag.ErrDirectory):
			err = fmt.Errorf("cannot be read: %w", err)
		}
		return nil, diag.List{{Pos: diag.Pos{File: path}, Fact: err.Error(), Remedy: remedy, Err: err}}
	}
	return Read(path, src, opt)
}

const largeRemedy = "export the panels only, without what surrounds them"

// Read reads the drawing in src; name is the file name that findings carry. The
// drawing is nil when the list holds a mistake. The list is sorted by place and
// holds at most [diag.MaxFindings] and a line that says so. Read never panics,
// whatever is in src.
func Read(name string, src []byte, opt Options) (*drawing.Drawing, diag.List) {
	r := &reader{file: name, opt: opt, blocks: map[string]*block{}, unread: map[string]*unread{}}
	if r.told = r.opt.Unit.Size > 0; !r.told {
		r.opt.Unit = length.MM
	}
	if r.opt.Tolerance <= 0 {
		r.opt.Tolerance = DefaultTolerance
	}
	var d *drawing.Drawing
	if r.suits(src) && r.sections(src) {
		d = r.drawing()
	}
	list := r.list.Listed(name)
	if list.Err() != nil {
		return nil, list
	}
	return d, list
}

// reader is one run of Read.
type reader struct {
	file     string
	opt      Options
	told     bool // the caller says the unit
	list     diag.List
	header   header
	page     encoding.Encoding // of the texts; nil when they are UTF-8
	layers   []drawing.Layer
	blocks   map[string]*block // by the name in small letters
	entities []entity
	inBlocks int  // entities of blocks so far
	settled  bool // how texts are coded
	paper    int  // entities of paper space
	raised   int  // entities that lie at a height
	first    drawing.Source
	unread   map[string]*unread
}

// block is a group of entities that is drawn where it is inserted.
type block struct {
	name     string
	base     vec
	external bool // it stands for another file
	entities []entity
}

// unread counts the entities of a kind that is not read.
type unread struct {
	count int
	first drawing.Source
}

// pos returns the place of a line.
func (r *reader) pos(line int) diag.Pos { return diag.Pos{File: r.file, Line: line} }

// suits reports whether src can be ASCII DXF at all.
func (r *reader) suits(src []byte) bool {
	const asText = "save it as ASCII DXF: R12, or 2000 to 2018"
	bad := func(fact, remedy string) bool {
		r.list.Add(r.pos(0), "", fact, remedy)
		return false
	}
	head := src[:min(len(src), 32)]
	switch {
	case len(src) > MaxBytes:
		return bad(diag.TooLarge(MaxBytes).Error(), largeRemedy)
	case len(bytes.TrimSpace(src)) == 0:
		return bad("is empty", "export the drawing as ASCII DXF")
	case bytes.Contains(head, []byte(" Binary DXF\r\n\x1a\x00")):
		return bad("is binary DXF, which is not read", asText)
	case bytes.HasPrefix(src, []byte("AC10")) || bytes.HasPrefix(src, []byte("AC1.")):
		return bad("is a drawing in DWG format, which is not read", asText)
	case bytes.HasPrefix(src, []byte("\xff\xfe")) || bytes.HasPrefix(src, []byte("\xfe\xff")):
		return bad("is UTF-16 text", "save it as UTF-8 or in its code page")
	case bytes.IndexByte(src, 0) >= 0:
		return bad("holds zero bytes and is no text", asText)
	}
	return true
}

// sections reads the file and reports whether it could be read to its end.
func (r *reader) sections(src []byte) bool {
	g := &groups{rest: bytes.TrimPrefix(src, []byte("\ufeff"))}
	found, err := r.each(g, utf8.Valid(src))
	switch {
	case errors.Is(err, errEnds):
		r.list.Add(r.pos(g.line), "", "the file ends in the middle: there is no EOF", "export it again; it may not have been copied whole")
	case err == errDone:
	case err != nil:
		r.list.Add(r.pos(g.line), "", err.Error(), "is it a DXF file? Export the drawing as ASCII DXF again")
	case !found:
		r.list.Add(r.pos(g.line), "", "has no section of entities", "export the drawing as ASCII DXF again")
	default:
		return true
	}
	return false
}

// errDone is the error of a file that is not read on, for a reason that is in the
// list.
var errDone = errors.New("not read on")

// each reads one section after the other.
func (r *reader) each(g *groups, valid bool) (found bool, err error) {
	for {
		h, err := g.next()
		if err != nil {
			return found, err
		}
		switch word := strings.ToUpper(strings.TrimSpace(h.value)); {
		case h.code == 0 && word == "EOF":
			return found, nil
		case h.code != 0 || word != "SECTION":
			return found, fmt.Errorf("a section begins with 0 and SECTION, not with %d and %q", h.code, clip(h.value))
		}
		if h, err = g.next(); err != nil {
			return found, err
		}
		name := strings.ToUpper(strings.TrimSpace(h.value))
		if name != "HEADER" && !r.settled {
			r.characters(valid)
		}
		switch name {
		case "HEADER":
			err = r.readHeader(g)
		case "TABLES":
			err = r.records(g, r.layer)
		case "BLOCKS":
			err = r.readBlocks(g)
		case "ENTITIES":
			found = true
			err = r.records(g, func(g *groups, rec record) error {
				if len(r.entities) >= MaxEntities {
					return r.tooMany(rec.line)
				}
				e, ok, err := r.entity(g, rec)
				if ok {
					r.entities = append(r.entities, e)
				}
				return err
			})
		default:
			err = r.records(g, func(*groups, record) error { return nil })
		}
		if err != nil {
			return found, err
		}
	}
}

// records calls f with each record up to the end of the section.
func (r *reader) records(g *groups, f func(g *groups, rec record) error) error {
	for {
		h, err := g.next()
		if err != nil {
			return err
		}
		if h.code != 0 {
			continue // what some programs write before the first record
		}
		switch word := strings.ToUpper(strings.TrimSpace(h.value)); word {
		case "ENDSEC":
			return nil
		case "EOF", "SECTION":
			return fmt.Errorf("a section has no ENDSEC before %s", word)
		}
		rec, err := g.record(h)
		if err != nil {
			return err
		}
		if err := f(g, rec); err != nil {
			return err
		}
	}
}

// layer reads a layer of the tables.
func (r *reader) layer(_ *groups, rec record) error {
	if rec.kind != "LAYER" {
		return nil
	}
	name, ok := rec.text(2)
	flags, err1 := rec.whole(70, 0)
	colour, err2 := rec.whole(62, 7)
	plot, err3 := rec.whole(290, 1)
	if err := errors.Join(err1, err2, err3); err != nil || !ok {
		r.list.Warn(r.pos(rec.line), rec.label(), "the layer cannot be read; it is taken as visible", "save the drawing again")
		return nil
	}
	const frozen = 1
	l := drawing.Layer{Name: r.decoded(strings.TrimSpace(name)), Hidden: flags&frozen != 0 || colour < 0 || plot == 0}
	l.Colour = colourOf(&rec, max(colour, -colour), "", "")
	r.layers = append(r.layers, l)
	return nil
}

// readBlocks reads the section of blocks.
func (r *reader) readBlocks(g *groups) error {
	var b *block
	return r.records(g, func(g *groups, rec record) error {
		switch rec.kind {
		case "BLOCK":
			name, _ := rec.text(2)
			b = &block{name: r.decoded(strings.TrimSpace(name))}
			base, err := rec.reals([]int{10, 20}, 0, 0)
			flags, err2 := rec.whole(70, 0)
			if err := errors.Join(err, err2); err != nil {
				r.list.Add(r.pos(rec.line), rec.label(), "block "+quoted(b.name)+": "+strings.ReplaceAll(err.Error(), "\n", "; "), "repair the number or save the drawing again")
				return nil
			}
			const external = 4
			b.base, b.external = vec{X: base[0], Y: base[1]}, flags&external != 0
			r.blocks[strings.ToLower(b.name)] = b
		case "ENDBLK":
			b = nil
		default:
			if r.inBlocks++; r.inBlocks > MaxEntities {
				return r.tooMany(rec.line)
			}
			e, ok, err := r.entity(g, rec)
			if ok && b != nil {
				b.entities = append(b.entities, e)
			}
			return err
		}
		return nil
	})
}

// tooMany reports a drawing with too many entities.
func (r *reader) tooMany(line int) error {
	r.list.Add(r.pos(line), "", fmt.Sprintf("the drawing has more than %d entities", MaxEntities), largeRemedy)
	return errDone
}

// drawing draws the entities and lists what was not read.
func (r *reader) drawing() *drawing.Drawing {
	x := &expansion{r: r, d: &drawing.Drawing{File: r.file, Layers: r.layers}, said: map[int]bool{}}
	x.d.Unit = r.unit()
	size := float64(x.d.Unit.Size)
	x.draw(r.entities, place{view: view{X: vec{X: size}, Y: vec{Y: size}}})
	r.sayUnit(x.d)
	if r.raised > 0 {
		r.list.Warn(r.pos(r.first.Line), r.first.Entity, fmt.Sprintf("lies at a height, as %d in all do; the drawing is read as seen from above", r.raised), "draw panels flat, at height 0")
	}
	if len(r.entities) == 0 && r.paper > 0 {
		r.list.Warn(r.pos(0), "", fmt.Sprintf("all %d entities are on paper space, which is not read", r.paper), "draw the panels in model space")
	}
	kinds := make([]string, 0, len(r.unread))
	for k := range r.unread {
		kinds = append(kinds, k)
	}
	slices.Sort(kinds)
	for _, k := range kinds {
		u := r.unread[k]
		r.list.Warn(r.pos(u.first.Line), u.first.Entity, fmt.Sprintf("%s is not read (%d in the file)", clip(k), u.count), "turn it into lines, arcs or polylines if it belongs to a panel")
	}
	return x.d
}
