// Package batch says what a number of the same cabinet costs each: from one to as many
// as were planned, with what the next one adds, which number fills its sheets best, and
// what is left over.
//
//	dossiers of 1, 2, 3 ... -> RowOf -> New -> *Batch -> HTML, JSON
//
// A cabinet is all panels of the job. The command plans the numbers (nest/choose, type
// Batch, which says what the plans promise of each other) and hands the dossiers over one
// by one, as those of many cabinets are large.
//
// The package decides which number is best: of those that place all panels, the one with
// the least cost each, by board and edge band; where not everything has a price, the one
// with the least board each. Of equals it is the smallest. The least that a number can
// cost is the lower bound of its board and its edge band.
//
// Money is exact but for what one of several costs, which is rounded to hundredths of the
// currency when printed; numbers are compared before that. Areas and shares are float64.
// Cost: linear in the sheets of all plans.
package batch
