// Package svg reads SVG drawings of panels (W3C, Scalable Vector Graphics 1.1 and 2):
// paths, basic shapes, groups, use and symbol, nested svg, transforms, real units.
//
//	file -> tree of elements -> drawing.Drawing (pieces, texts, layers) | diag.List
//
// Sizes are real: width and height of the outermost svg with its viewBox say what a
// user unit is; a px is 1/96 in (CSS). A file that says no size is read as px, with a
// warning, or in the unit of [Options]. The result has y pointing up from the bottom of
// the picture.
//
// Circles, circular arcs and rounded corners stay true arcs wherever transforms keep
// them circles; other curves become lines within a tolerance. Path data is parsed and
// transformed by github.com/tdewolff/canvas (package svgpath); its reader of whole
// files loses ids, layers and use.
//
// The layer of a piece is the nearest group around it that has a title, a label in any
// namespace, or an id. A piece is called by its title, its label, or an id that a person
// wrote; an id of letters and a number, as programs give, is none. Texts stand where
// their first character does.
//
// Style sheets, images, clipping and masks are not read; each is told once.
//
// # Limits
//
// A file may have [MaxBytes], [MaxElements] elements, those that use repeats
// included, and [MaxDepth] levels. Entities that a file defines are refused.
package svg
