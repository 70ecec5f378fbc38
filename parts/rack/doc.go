// Package rack keeps the rack, the kept offcuts, in a CSV file that a person reads and
// edits in a text editor or a spreadsheet program.
//
//	rack.csv -> Read -> Rack (pieces with labels) -> Add, Take, Keep -> rack.csv
//
// The job file reader makes stock of the pieces, the command rack changes them.
//
// # The file
//
// CSV (RFC 4180) in UTF-8 with a heading row; cells are separated by commas,
// semicolons or tabs, whichever the heading row uses. The headings are label,
// material, thickness, length, width, grain, price, date, from and note, in any order;
// the sizes say their unit: length (mm), length (in). Label, material, length and width
// are needed. A piece is a row; its grain is length, width or none and is along that
// side of the piece, blank where it is not known.
//
//	# highest label: R2
//	label,material,thickness (mm),length (mm),width (mm),grain,price,date,from,note
//	R1,birch 18,18,620,410,length,,2026-11-25,tide-table kiosk S1,
//
// Lines that begin with # are comments. Two of them are our own: the highest label
// that was ever given, so that none is given twice; and the plans whose offcuts were
// put into the rack, each with a digest of its content, so that none is put in twice.
//
// A rack holds the lines of its file as they are. What is not changed is written back
// byte for byte: comments, columns of other headings, the way a number is written.
// Text that a spreadsheet program would take for a formula, and a # at the start of a
// row, get an apostrophe in front, which is taken off when the file is read.
//
// # Two programs at a time
//
// [Change] holds a lock of the operating system on a file beside the rack while it
// reads, changes and writes; the system frees the lock when a program ends, however it
// ends, and the lock file stays. The new rack is written beside the old one, flushed to
// the disk and then put in its place: whoever reads, or whatever is cut off, finds the
// old rack or the new one. A spreadsheet program that has the file open knows nothing
// of this. Where files cannot be locked (plan 9, some network disks) a rack can be read
// and not changed.
//
// # Limits
//
// A file has [MaxBytes] at most, [MaxPieces] pieces and [MaxLines] rows and comments;
// labels have [MaxLabel] characters, materials [MaxName] and other text [MaxNote]. Time
// grows with the size of the file.
package rack
