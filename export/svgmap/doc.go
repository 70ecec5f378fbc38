// Package svgmap draws sheet maps: one SVG page a sheet, A4 landscape, to a
// scale that is printed, to be cut from.
//
//	*export.Dossier, sheet -> SVG
//
// The page is laid out first, so that no text, number or dimension lies on
// another, and then drawn:
//
//	layout.go   page, scale, what goes before what
//	dims.go     running dimensions from the lower left factory edge
//	label.go    what is written in a panel, offcuts, grain arrows
//	leader.go   panels too small for a label
//	number.go   order of the cuts
//	key.go      key of panels, signs and cautions
//	draw.go     the drawing, path.go its outlines
//	link.go     panels as links, where the map is part of a page
//
// Lengths on the page are millimetres of paper; outlines keep their true arcs.
// Everything is told by line weight, dashes, hatching and words, never by colour
// alone. What finds no room is counted and said on the page.
//
// Text is measured with a table of widths that is as wide as wide common
// sans-serif faces (text.go), because the face on the reader's machine is not
// known. Text beyond the tables is taken to be wide; a character wider than 1.4
// times its size may still stick out of its place.
package svgmap
