// Package xlsx writes the cut list as a spreadsheet (Office Open XML, the open
// standard ISO/IEC 29500).
//
//	*export.Dossier -> cutlist.xlsx
//
// The worksheets are Summary, Panels, Buy, Cuts (for the saw) and Offcuts. Row 1
// of all but the summary is the only header row, so that filters and other
// programs can take them as tables.
//
// # Figures
//
// Every figure is the dossier's. Lengths are numeric cells in millimetres, or in
// inches when the job is drawn in inches or feet. A cell in millimetres holds the
// decimal that [length.Length.Decimal] prints; it shows one decimal, or up to
// three where they are needed. A cell in inches shows a fraction where the length
// is a whole number of sixty-fourths, and three decimals elsewhere. Areas are in
// square metres, masses in kilograms, money in the job's currency.
//
// Costs and totals are formulas over the prices and quantities of Buy, so a
// changed price is followed everywhere. Each formula also carries the dossier's
// value, for programs that do not calculate.
//
// # Limits
//
// A worksheet has 1,048,576 rows and a cell 32,767 characters: more rows are an
// error, longer text is cut. Text is never read as a formula. The file holds no
// clock: same dossier, same bytes.
package xlsx
