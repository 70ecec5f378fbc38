// Package book writes the shop book: one PDF of a plan to work from, with what to buy,
// a map and the steps of every sheet with boxes to tick, and the lists of panels, edge
// bands, bends and offcuts.
//
//	*export.Dossier -> Layout -> []Page -> PDF
//
// The layout is a plain list of lines, areas and words on pages in millimetres; writing
// draws it and decides nothing. Pages are A4, or Letter when the job is in inches,
// upright only for the map of a sheet that is wider than long. Everything is black,
// grey or white.
//
// Limits: the number of a panel or cut that finds no free place on a map is left out and
// named above the map; a map has no dimensions beyond the sizes of its panels.
package book
