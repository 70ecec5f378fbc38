// Package xlsx writes the cut list as a spreadsheet (Office Open XML, the open
// standard ISO/IEC 29500).
//
//	*export.Dossier -> cutlist.xlsx
//
// # Worksheets
//
//   - Summary: the plan in figures, what is not placed, cost, what to heed.
//   - Panels: the cut list, in the unit of the papers. Sizes: the sizes of the panels
//     in millimetres and in inches, side by side.
//   - Openings, Shared blanks, Bends, Edges: only where there are any.
//   - Buy: sheets, edge bands and the cost of all. Hardware: components of the job,
//     what goes into their mounting holes, openings that are for no component, and
//     room for more; then the notes of the panels.
//   - Maps: a small picture (PNG) of every sheet as it lies when it is cut.
//   - Cuts for the saw, Paths for the router: what is done, in order, to be ticked.
//   - Offcuts: what is left, and what the area of the kept ones has cost.
//
// Row 1 of all but Summary and Maps is the only header row, so that filters and other
// programs can take them as tables; it stays when the rest is scrolled, and is printed
// on every page. Pages are A4 landscape and as wide as the print area, to the right of
// which stand columns for other programs.
//
// # Figures
//
// Every figure is the dossier's. Lengths are numeric cells in millimetres, or in
// inches when the job is drawn in inches or feet. A cell in millimetres holds the
// decimal that [length.Length.Decimal] prints; it shows one decimal, or up to
// three where they are needed. A cell in inches shows a fraction where the length
// is a whole number of sixty-fourths, and three decimals elsewhere; beside millimetres,
// on Sizes, it shows the nearest sixty-fourth. Areas are in square metres, masses in
// kilograms, money in the job's currency.
//
// # Formulas
//
// Cells in a box are for the user to change. Costs and totals are formulas over the
// prices and quantities of Buy and Hardware, so a changed one is followed everywhere.
// The waste credit is a share of the price of the area of the kept offcuts, a cell of
// Buy, 0 % as it comes, which is taken off the cost of the sheets; which offcuts are
// kept can be changed on Offcuts. Each formula also carries the dossier's value, for
// programs that do not calculate.
//
// # Limits
//
// A worksheet has 1,048,576 rows and a cell 32,767 characters: more rows are an
// error, longer text is cut. Text is never read as a formula. The file holds no
// clock: same dossier, same bytes. A picture is 512 pixels long, of sixteen greys; a
// panel too small for its number at that size has none.
//
// Cost: 5,000 panels on 200 sheets, with as many pictures, took 1.6 s on one core and
// a file of 1 MB.
package xlsx
