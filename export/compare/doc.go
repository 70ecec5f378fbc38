// Package compare sets plans of variants side by side: what each takes, costs and
// wastes, what differs between them, and which to build.
//
//	[]Entry -> New -> *Comparison -> HTML, XLSX, JSON
//
// The command plans every variant under the same budget and hands the dossiers
// over; an [Entry] without one carries the reason. The package decides one thing,
// the advice: of the variants that place all panels the one that costs least, then
// the one with fewer sheets, then the one that leaves more offcuts to keep. It says
// so when that is not proved.
//
// Terms, in shares of the board that is bought or taken from the rack: yield is the
// area of the panels; waste is what is neither panel nor kept offcut; the add-on is
// waste over what is not waste, what must be added to a net area to know what to
// buy. The cost of a sheet is divided by area in the same way, sheet by sheet, so
// that dear boards weigh more; a board from the rack that costs nothing wastes
// nothing.
//
// Areas and shares are float64, money is exact but for the division by area, which
// is rounded to hundredths of the currency. Cost: linear in the number of sheets.
package compare
