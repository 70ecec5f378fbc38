// Package labels writes labels for the panels of a plan: one for each panel on a
// sheet, in the order in which they come free, with what it is, where it comes from,
// and panel, copy, sheet and step as a QR code (ISO/IEC 18004) or as a plain one in
// letters and figures.
//
//	*export.Dossier + Grid -> labels -> Layout -> []pdf.Page -> PDF
//
// The grid is that of the user's label sheets; the shop book takes the same pages. Texts
// shrink, and are cut with an ellipsis before they would leave their label; the QR code
// then still holds name, copy, sheet and step, as far as it has room, and a last page of
// the PDF lists the names that were cut, with their keys. A plain code is
// the number of the panel on maps and lists, a point, the copy, the sheet, and behind a
// stroke the step: 7.3 S2/17.
package labels
