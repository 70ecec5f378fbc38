// Package dxf draws sheets and panels for a router, and for whoever wants the
// shapes, as ASCII DXF files.
//
//	*export.Dossier, sheet or panel -> Drawing -> DXF, in one of two flavours
//
// A [Drawing] is a list of entities, each on a [Layer] that tells what is done
// there. [Sheet] and [Panel] make the usual ones; whoever adds an operation appends
// entities. [Write] decides nothing.
//
//	layer.go      layers, by operation
//	drawing.go    the drawing and its entities
//	sheet.go      a sheet, a panel
//	route.go      the paths of the bit
//	spot.go       where a label stands in a panel
//	filename.go   names of files for panels
//	write.go      header, tables, flavours; structure.go what only R2000 has
//	viewport.go   the view with which a program opens the file
//	entity.go     the entities, group by group
//	text.go       texts as DXF writes them
//
// The format is the published DXF reference, which is followed from memory; the
// tests have ezdxf, a library that reads it, audit the files.
//
// # Edges and paths
//
// Edges of panels and openings are drawn as they shall be, without the width of a bit:
// who lets a program of his own work out the paths takes these. Where a router cuts,
// the way of the middle of the bit is drawn as well, in the order of the cuts and in the
// direction of travel: on [Lead] how it comes down, on [Path] its run, on [Lead] how it
// leaves. A path is whole, and [Tab] has the parts of it at which the bit goes no
// deeper than a tab is high. How deep the passes go is in plan.json; nothing here is an
// instruction for a machine.
//
// # Coordinates
//
// A drawing is seen from the good face, x along the length, in millimetres, or in
// inches when the papers are. Numbers have up to ten decimals: a whole number of our
// units of 1/8 micrometre, and half of one, is exact in millimetres and within
// 0.0000000013 mm in inches, which is far below half a unit, so that a reader finds
// each corner again. Corners that coincide are written alike. Bulges are written
// with all their digits. Areas thus agree to 0.01 mm2 on panels of three metres.
//
// # Flavours
//
// [R12] is AC1009: closed outlines are POLYLINE with VERTEX. It knows no handles and
// is the one that old controllers read. [R2000] is AC1015, with LWPOLYLINE, handles
// and owners. Both are plain ASCII with CR LF.
//
// # Texts
//
// Names are kept whole; what is not ASCII is written as \U+XXXX, beyond U+FFFF as
// the two halves of UTF-16, and control characters with a caret, so that no name
// ends a line. A strict reader of R12 takes 255 bytes of a text, one of 2000 2,049
// (from memory); a name of letters beyond ASCII takes seven bytes a letter.
package dxf
