// Package tolerance says whether a plan as made comes out of boards as they come: sheets
// that are shorter, narrower and less square than they are called, a blade that takes
// more, boards thinner and thicker.
//
//	dossier of the plan + readings of the job -> New -> *Report -> HTML, JSON
//
// A sheet's room is that of nest/slack: the smallest sheet with its trim that the same
// panels come out of with the same cuts, and the widest kerf. It is set against the worst
// sheet that a standard allows ([parts.BoardStandard]); a piece from the rack was measured
// and is what it is. A bowed edge, 1 mm a metre by EN 315, is not in the figures: it comes
// off the trim as well.
//
// The command plans again where the same plan does not do, and hands the outcome over; the
// package decides where that is.
//
// Lengths are exact; those for a router are rounded to the safe side. Cost: that of
// nest/slack for every sheet.
package tolerance
