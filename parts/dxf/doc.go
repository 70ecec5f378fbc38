// Package dxf reads drawings in ASCII DXF, from R12 (AC1009) to 2018 (AC1032),
// into a [drawing.Drawing].
//
//	file -> groups (code, value, line) -> header, layers, blocks, entities
//	     -> lines, true arcs and flattened curves on the grid
//
// The format is the published DXF reference, which is followed from memory; the
// tests compare with ezdxf, a library that reads and writes it.
//
// # What is read
//
// LINE, ARC, CIRCLE, ELLIPSE, LWPOLYLINE, POLYLINE (not meshes), SPLINE, INSERT
// with its ATTRIB, TEXT and MTEXT. Other kinds are listed once each. Paper space
// and invisible entities are passed over. Lines, arcs and bulges are exact but for
// the grid: a bulge is tan(angle/4) and stays an arc. Ellipses, arcs in an INSERT
// that is scaled unevenly, and splines become lines within the tolerance; the
// lines of an ellipse touch its box.
//
// A SPLINE is its control points, knots and weights. One that has fit points only
// is a mistake: what runs between them is not laid down.
//
// The drawing is seen from above. Entities that are extruded downwards, (0,0,-1),
// are mirrored as the format says; other directions are a mistake, heights are
// left out with a warning.
//
// # Units and characters
//
// The unit is that of $INSUNITS; when that is 0 or missing, the caller's with a
// warning. Texts are UTF-8 from 2007 (AC1021) on, and before that if the file is
// valid UTF-8; else they are in the code page of the header.
//
// # Limits
//
// A file may have [MaxBytes], its blocks [MaxEntities] and the drawing as many when
// blocks are inserted, an empty block counted as one; blocks may be inserted
// [MaxDepth] deep. A
// curve may need [MaxPoints] and a drawing drawing.MaxSegments. The time grows with
// the size of the file and the number of entities.
package dxf
