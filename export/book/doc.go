// Package book writes the shop book: one PDF of a plan to work from, with what to buy
// and to take, a map and the steps of every sheet with boxes to tick, the lists of
// panels, shared blanks, edge bands, bends and offcuts, notes on the router, and the
// labels.
//
//	*export.Dossier + pages of labels -> Layout -> []pdf.Page -> PDF
//
// The layout is a plain list of lines, areas and words on pages in millimetres; writing
// draws it and decides nothing. Pages are A4, or Letter when the job is in inches,
// upright only for the map of a sheet that is wider than long; those of the labels are
// the label sheets. Everything is black, grey or white.
//
//	page.go    pages, their titles and marks
//	table.go   tables with boxes to tick, over pages
//	cover.go   the first page
//	sheet.go   the page of a sheet, its cuts or paths
//	map.go     the drawing of a sheet, room.go where words have room on it
//	detail.go  its words, and a larger drawing of the part that has no room for them
//	legend.go  what its lines mean
//	lists.go   what is not of one sheet, router.go what the router is set to
//
// Every page but those of the labels says which plan it belongs to: by the digits that
// the rack keeps of a plan (parts/rack), which follow from its plan.json.
//
// Limits: what finds no free place on a map, the number of a panel or cut or the size
// of an offcut to keep, is left out and named above the map, or on the next page where
// it is much; a detail shows it where that can be drawn much larger on one page. A map
// has no dimensions beyond the sizes of its panels. Texts that run to the left are
// broken into lines before they are turned.
package book
