package partslist

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strconv"
	"strings"

	"panelyard/parts/diag"
)

// book is a workbook: its worksheets and what their cells refer to.
type book struct {
	a       *archive
	sheets  []sheet
	strings []string
	formats []format // by style of a cell
}

// sheet is a worksheet, not yet read.
type sheet struct {
	name   string
	part   string
	hidden bool
}

// The parts of Office Open XML that are read (ECMA-376 part 1, 18.2, 18.4, 18.8;
// part 2, 9). Names are matched without their namespace, which differs between the
// two conformance classes.
type (
	relationsXML struct {
		Relations []struct {
			ID     string `xml:"Id,attr"`
			Type   string `xml:"Type,attr"`
			Target string `xml:"Target,attr"`
			Mode   string `xml:"TargetMode,attr"`
		} `xml:"Relationship"`
	}
	workbookXML struct {
		Sheets []struct {
			Name  string `xml:"name,attr"`
			State string `xml:"state,attr"`
			ID    string `xml:"id,attr"`
		} `xml:"sheets>sheet"`
	}
	stylesXML struct {
		Formats []struct {
			ID   int    `xml:"numFmtId,attr"`
			Code string `xml:"formatCode,attr"`
		} `xml:"numFmts>numFmt"`
		Cells []struct {
			Format int `xml:"numFmtId,attr"`
		} `xml:"cellXfs>xf"`
	}
	stringXML struct {
		Text string `xml:"t"`
		Runs []struct {
			Text string `xml:"t"`
		} `xml:"r"`
	}
)

// string returns the text of an item, its runs of formatting joined. Phonetic
// hints are no part of it.
func (s *stringXML) string() string {
	if len(s.Runs) == 0 {
		return s.Text
	}
	var b strings.Builder
	b.WriteString(s.Text)
	for i := range s.Runs {
		b.WriteString(s.Runs[i].Text)
	}
	return b.String()
}

// workbook reads a sheet of a workbook into a grid: the one that is named, or the
// first with a heading row. It returns nil after a finding.
func (r *reader) workbook(src []byte) *grid {
	a, err := openArchive(src)
	if err != nil {
		r.unpacked(err)
		return nil
	}
	b := &book{a: a}
	switch {
	case a.has("mimetype") && a.has("content.xml"):
		r.whole("is an OpenDocument file", saveRemedy)
		return nil
	case a.has("xl/workbook.bin"):
		r.whole("is a binary workbook (.xlsb)", saveRemedy)
		return nil
	}
	if err := b.open(); err != nil {
		r.unpacked(err)
		return nil
	}
	reading := &r.out.Reading
	reading.Workbook = true
	var visible, all []string
	for _, s := range b.sheets {
		all = append(all, fmt.Sprintf("%q", clip(s.name)))
		if !s.hidden {
			visible = append(visible, s.name)
		}
	}
	found := false
	for _, s := range b.sheets {
		named := r.opt.Sheet != "" && strings.EqualFold(trim(s.name), trim(r.opt.Sheet))
		if !named && (r.opt.Sheet != "" || s.hidden) {
			continue
		}
		found = true
		g := r.worksheet(b, s)
		if g == nil {
			return nil
		}
		if _, n := headingRow(g); n < 2 && !named {
			continue
		}
		reading.Sheet = s.name
		for _, name := range visible {
			if name != s.name {
				reading.Others = append(reading.Others, name)
			}
		}
		return g
	}
	switch {
	case len(b.sheets) == 0:
		r.whole("is a workbook without worksheets", "put the panels on a worksheet, a row each")
	case r.opt.Sheet != "":
		r.whole(fmt.Sprintf("has no sheet %q", clip(r.opt.Sheet)), "name one of "+few(all))
	case !found:
		r.whole("has no visible sheet", "show one, or name it: "+few(all))
	case len(visible) < len(all):
		r.whole("no visible sheet has a heading row", headingRemedy+"; or name a hidden sheet: "+few(all))
	default:
		r.whole("no sheet has a heading row", headingRemedy)
	}
	return nil
}

// few joins the first of a list of words.
func few(list []string) string {
	if len(list) > 20 {
		return strings.Join(list[:20], ", ") + " and " + strconv.Itoa(len(list)-20) + " more"
	}
	return strings.Join(list, ", ")
}

// unpacked adds what is wrong with an archive.
func (r *reader) unpacked(err error) {
	remedy := saveRemedy + " with the program it comes from"
	if errors.Is(err, errTooBig) || errors.Is(err, errRatio) {
		remedy = "keep the sheet of panels only; a workbook that was made to fill memory is refused"
	}
	r.list = append(r.list, diag.Finding{Pos: diag.Pos{File: r.file}, Fact: diag.Brief(err), Remedy: remedy, Err: err})
}

// open reads what a workbook says of itself.
func (b *book) open() error {
	root := "xl/workbook.xml"
	if b.a.has("_rels/.rels") {
		rels, err := b.relations("", "_rels/.rels")
		if err != nil {
			return err
		}
		if target := rels.first("officeDocument"); target != "" {
			root = target
		}
	}
	var w workbookXML
	if err := b.a.decode(root, &w); err != nil {
		if errors.Is(err, errMissing) {
			return errors.New("is an archive, but no workbook")
		}
		return err
	}
	dir := path.Dir(root)
	rels, err := b.relations(dir, path.Join(dir, "_rels", path.Base(root)+".rels"))
	if err != nil {
		return err
	}
	for _, s := range w.Sheets {
		if rel, ok := rels[s.ID]; ok && rel.kind == "worksheet" {
			b.sheets = append(b.sheets, sheet{name: s.Name, part: rel.target, hidden: s.State != "" && s.State != "visible"})
		}
	}
	if part := rels.first("styles"); part != "" && b.a.has(part) {
		var s stylesXML
		if err := b.a.decode(part, &s); err != nil {
			return err
		}
		b.formats = formatsOf(&s)
	}
	if part := rels.first("sharedStrings"); part != "" && b.a.has(part) {
		if err := b.a.unpack(part, b.readStrings); err != nil {
			return fmt.Errorf("file %q in it: %w", clip(part), err)
		}
	}
	return nil
}

// relations are the files that a file refers to, by their identifiers.
type relations map[string]relation

type relation struct{ kind, target string }

// first returns the target of a kind, the same on each call, or "".
func (r relations) first(kind string) string {
	id, target := "", ""
	for k, rel := range r {
		if rel.kind == kind && (target == "" || k < id) {
			id, target = k, rel.target
		}
	}
	return target
}

// relations reads a file of relations; targets are relative to a folder.
func (b *book) relations(dir, name string) (relations, error) {
	var x relationsXML
	if err := b.a.decode(name, &x); err != nil {
		return nil, err
	}
	rels := relations{}
	for _, rel := range x.Relations {
		if rel.Mode == "External" {
			continue // nothing outside the file is ever opened
		}
		target := rel.Target
		if !strings.HasPrefix(target, "/") {
			target = path.Join("/", dir, target)
		}
		rels[rel.ID] = relation{kind: path.Base(rel.Type), target: partName(target)}
	}
	return rels, nil
}

// readStrings reads the shared strings, which cells refer to by number.
func (b *book) readStrings(r io.Reader) error {
	d := xml.NewTokenDecoder(&shallow{d: xml.NewDecoder(r)})
	for {
		t, err := d.Token()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if start, ok := t.(xml.StartElement); ok && start.Name.Local == "si" {
			var s stringXML
			if err := d.DecodeElement(&s, &start); err != nil {
				return err
			}
			b.strings = append(b.strings, s.string())
		}
	}
}
