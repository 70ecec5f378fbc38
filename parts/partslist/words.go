package partslist

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"panelyard/parts/diag"
)

// readGrain returns the word of the job file for the grain of a panel, "" for one
// that says nothing.
func readGrain(s string) (string, error) {
	s = oneLine(strings.ToLower(s))
	s = strings.TrimPrefix(strings.TrimPrefix(s, "along "), "the ")
	switch s {
	case "":
		return "", nil
	case "length", "lengthwise", "l":
		return "length", nil
	case "width", "widthwise", "w":
		return "width", nil
	case "free", "none", "no", "either", "any", "-", "–", "—":
		return "free", nil
	}
	return "", fmt.Errorf("%q is not known", clip(s))
}

const grainRemedy = "write length, width or free: the side of the panel along which the grain runs"

// edges are the edges of a rectangle, and all of them.
var edges = []string{"bottom", "right", "top", "left", "all"}

// readEdging reads which edges are banded:
//
//	top: oak 1; left: oak 1     edges and their bands
//	top, bottom: oak 1          one band for some edges
//	all: oak 1                  every edge
//	top, left                   edges, the band not named
//	none                        no edge
//
// A drawn panel may have edges of other names.
func readEdging(s string, drawn bool) ([]Edge, error) {
	if w := oneLine(strings.ToLower(s)); w == "" || slices.Contains([]string{"none", "no", "-", "–", "—", "0"}, w) {
		return nil, nil
	}
	var list []Edge
	for _, group := range strings.FieldsFunc(s, func(c rune) bool { return c == ';' || c == '\n' || c == '\r' }) {
		if trim(group) == "" {
			continue
		}
		names, band, named := strings.Cut(group, ":")
		band = oneLine(band)
		if named && band == "" {
			return nil, fmt.Errorf("%q names no band after the colon", clip(group))
		}
		if strings.Contains(band, ":") || slices.ContainsFunc(strings.Split(band, ","), isEdge) {
			return nil, fmt.Errorf("%q may be one band or several edges", clip(group))
		}
		if utf8.RuneCountInString(band) > MaxName || strings.ContainsFunc(band, diag.Unprintable) {
			return nil, fmt.Errorf("%q is no name of a band", clip(band))
		}
		names = strings.NewReplacer(" and ", ",", "+", ",", "&", ",", "/", ",").Replace(names)
		for _, name := range strings.Split(names, ",") {
			name = oneLine(name)
			if isEdge(name) {
				name = strings.ToLower(name)
			} else if !drawn || name == "" || utf8.RuneCountInString(name) > MaxName || strings.ContainsFunc(name, diag.Unprintable) {
				return nil, fmt.Errorf("%q is no edge", clip(name))
			}
			if slices.ContainsFunc(list, func(e Edge) bool { return e.Edge == name }) {
				return nil, fmt.Errorf("edge %q is given twice", clip(name))
			}
			list = append(list, Edge{Edge: name, Band: band})
		}
	}
	return list, nil
}

func isEdge(s string) bool { return slices.Contains(edges, oneLine(strings.ToLower(s))) }

const edgingRemedy = "write edges and bands, as in top: oak 1; left: oak 1, or all: oak 1, or none; the edges are bottom, top (along the length), left, right, all"
