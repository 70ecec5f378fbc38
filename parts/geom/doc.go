// Package geom is exact geometry on integer coordinates: points, boxes, rings
// and polygons whose coordinates are [length.Length], at most 2^28 in absolute
// value for a job and 2^29 for sums of two shapes.
//
// Every predicate here is exact: with coordinates below 2^29 the differences
// fit 30 bits, their products 60 and the determinant 61. Nothing in this
// package uses floating point except [Ring.Turned] for angles that are not a
// multiple of 90 degrees, which rounds each vertex to the grid.
//
// A [Ring] is closed without repeating its first point. An outer ring runs
// counter-clockwise and a hole clockwise, so material is always on the left.
package geom
