// Package svg reads drawings in SVG (W3C Recommendation, Scalable Vector Graphics
// 1.1, second edition, and Candidate Recommendation SVG 2) into a [drawing.Drawing].
//
//	file -> tree of elements -> their geometry in user units
//	     -> lines, true arcs and flattened curves on the grid
//
// # What is read
//
// path, rect, circle, ellipse, line, polyline and polygon; g, a, nested svg, use and
// symbol, transforms, viewBox and preserveAspectRatio; display and visibility as
// attribute or style; text with tspan. Other kinds are listed once each. What clips
// or masks is not applied, and what lies beyond a viewport is read. Styles of a style
// element are not read, and a style attribute that moves or shapes an element is a
// mistake: what it does depends on the program. Colours and widths of lines do not
// matter; the colour of the line, or else of the area, is handed on as it is written.
//
// Arcs of circles, round corners among them, stay arcs wherever the transforms keep
// them circles within a micrometre. Elliptical arcs and Bézier curves become lines
// within the tolerance; the lines touch the box of the curve.
//
// # Units and places
//
// The size is that of width and height of the svg element, a px being 1/96 inch.
// When neither has a unit of length, a user unit is the caller's, or a px with a
// warning that says how large that makes the drawing. The result has y up from the
// bottom of the viewport, or from the x axis when no height is known; findings give
// places so.
//
// # Layers and names
//
// The layer of an element is the nearest group around it that is called something, by
// its title, by an attribute "label" in a namespace of a program, or by its id; an id
// that looks generated, letters followed by digits only, is taken when no group has
// another. A piece is called likewise, or else as the use it came about by; a
// generated id names none. Of several pieces of one path the largest has the name.
//
// # Characters
//
// UTF-8, UTF-16, and what the XML declaration says and golang.org/x/text knows.
//
// # Limits
//
// A file may have [MaxBytes] and [MaxElements], in each other to [MaxDepth], of
// [MaxAttributes]; the drawing as many elements when those that are used are counted
// each time, by use in use to [MaxUses]. A curve may need [curve.MaxPoints] and a
// drawing drawing.MaxSegments. Entities that a DOCTYPE declares are refused, and no
// other file is ever read. The time grows with the size of the file and the number of
// elements that are drawn.
package svg
