// Package svgmap draws sheet maps: one SVG page a sheet, A4 landscape, to a
// scale that is printed, to be cut from.
//
//	*export.Dossier, sheet -> SVG
//
// The page is laid out first (layout.go: where labels, numbers and dimensions go,
// so that none overlap) and then drawn (write.go). Lengths on the page are
// millimetres of paper; outlines keep their true arcs. Everything is told by
// line weight, dashes, hatching and words, not by colour alone.
//
// Text is measured with a table of widths that is wider than common sans-serif
// faces, because the face on the reader's machine is not known.
package svgmap
