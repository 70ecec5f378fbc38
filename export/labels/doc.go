// Package labels writes labels for the panels of a plan: one for each panel on a
// sheet, in the order in which they come free, with what it is, where it comes from,
// and the same as a QR code (ISO/IEC 18004).
//
//	*export.Dossier + Grid -> labels -> PDF
//
// The grid is that of the user's label sheets. Texts shrink, and are cut with an
// ellipsis before they would leave their label; the code then still holds them whole,
// as far as it has room.
package labels
