// Package template draws a panel at true size: on paper in tiles that overlap, as a PDF,
// and on one sheet as an SVG.
//
//	job, name of a panel -> Template -> pages -> PDF
//	                                 -> sheet -> SVG
//
// A page is laid out before it is written: lines, areas and words in millimetres of
// paper, arcs still arcs. The writers decide nothing.
//
//	panel.go    which panel, which of its sizes, from which side
//	loop.go     its loops in pieces: what of them lies in a window
//	tiles.go    windows over the panel, which of them are printed
//	tile.go     a page of the panel: what lies in its window, registration marks
//	label.go    names of edges, bands and openings along what is seen of them
//	header.go   strip of every page: its name, the panel, check rulers
//	front.go    first page: facts, how to put the pages together; map.go their map
//	sheet.go    everything on one sheet
//	page.go     what a page is made of; pdf.go, svg.go writers
//
// Terms: a window is the part of the panel that a page shows; windows of neighbours
// overlap. Pages are named by row, a letter from the top, and column, a number from the
// left: B3. Coordinates of the panel are mm from the lower left corner of its box, y
// upwards; those of a page are mm from its upper left corner, y downwards.
//
// The drawing is exact to 0.005 mm (see package pdf). A printer is not: paper grows and
// shrinks with moisture, and printers scale. Each page therefore has a ruler to check.
//
// Limits: [MaxPages] pages, and 60 names on one. Cost: the pieces of the panel, once for
// each page, and there for each name what lies in its window.
package template
