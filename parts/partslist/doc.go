// Package partslist reads a maker's spreadsheet of panels: CSV or XLSX, a heading
// row in plain words, a row a panel. All mistakes of a file are found at once.
//
//	file -> grid of filled cells -> headings -> List (rows, Reading) + diag.List
//
// What is not certain is a mistake with a remedy, never a guess: 1.200 may be
// twelve hundred or one and a fifth, a heading "size" may be two things, a decimal
// comma outside quotes shifts the cells of a comma-separated row. The [Reading]
// tells how the file was understood, and is there when the file has mistakes too,
// so that a maker can see it before anything is planned.
//
// # Headings
//
// The heading row is the one of the first [MaxTitle] filled rows that has the most
// known headings; it needs two. Case, blanks and order do not matter. A heading may
// end in a unit: length (in), width [mm], thickness mm; so may a row of units below
// it say. Each word may stand once. Rows above are titles.
//
// # Sizes
//
// A cell may carry its unit. A bare number has the unit of its number format (a
// workbook's 0.0" mm"), of the row's cell under the heading "unit", of its heading,
// or that of [Options], in this order; two of the first three that differ are a
// mistake. Lengths are read by parts/length; this package only settles which mark
// is the decimal one. Number cells of a workbook are taken with the 15 digits that
// spreadsheets show (IEEE 754 binary64 holds 15 for certain).
//
// # Workbooks
//
// The format is Office Open XML (ECMA-376, part 1, chapter 18), read by
// encoding/xml in one pass a sheet that keeps filled cells only. The xlsx library
// is not let at the file: its streaming reader tells neither the kind of a cell nor
// that a formula has no value, and the reader that does holds all rows down to the
// last and takes time with the square of rows without numbers (0.5, 1.3, 4.2 s for
// 10, 20, 40 thousand). It is the reference in the tests, and it computes formulas
// that have no cached value, in a workbook of its own that holds nothing but the
// cells referred to, and only those made of arithmetic and a few plain functions;
// others are reported. Formulas in CSV are text.
//
// Merged cells hold one value for all their rows, except a quantity. Hidden sheets
// are passed over unless named; hidden rows are read, with a warning.
//
// # Limits
//
// A file may have [MaxBytes], a workbook [MaxUnpacked] bytes unpacked, [MaxRatio]
// times its packed size, [MaxParts] files, [MaxMerges] merged columns and [MaxDepth]
// levels of XML; a sheet [MaxRows] filled rows, [MaxColumns] columns and [MaxCells]
// filled cells; a list [MaxPanels] pieces. At most [MaxComputed] formulas are
// computed and [diag.MaxFindings] findings listed. Time and memory grow with the size
// of the file.
package partslist
