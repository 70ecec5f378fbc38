// Package pdf holds what the PDF documents share: pages in millimetres, lines and true
// arcs, text in an embedded face that shrinks, wraps or is cut to a width, and the same
// bytes for the same content.
//
//	a document's layout -> []Page, or Doc, -> PDF
//
// Coordinates are millimetres of paper from the upper left corner, y downwards. Paths
// hold arcs as bulges; they become Bézier curves that leave the arc by no more than
// [ArcError]. The library that writes the file rounds the ends of lines to a hundredth
// of a point, so that a point of a path is off by less than 0.005 mm in all.
//
// Text is set in DejaVu Sans, upright or bold, of which only what is used is embedded.
// A character that the face lacks is shown by its name in brackets, as in [wood]; Arabic letters are joined, and
// text that runs to the left is laid out so, but marks are not stacked on letters.
//
// The library is codeberg.org/go-pdf/fpdf. It writes documents without tags: they are
// no help to a screen reader beyond their text in the order in which it is drawn.
package pdf
