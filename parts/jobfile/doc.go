// Package jobfile reads the job file: YAML, strict, all mistakes at once.
//
//	file -> tokens -> tree of values with places -> parts.Job | diag.List
//
// The file is parsed by goccy/go-yaml into its syntax tree, which keeps the place
// of every value; numbers are read from the text as written, never through
// floating point. Every finding says file, line, column, the panel or sheet
// concerned, what is the matter and what to do. A file with a mistake gives no
// job; warnings come with a job.
//
// A bare number has the unit of the job, a string may have its own: 23 11/16 in.
// A key that is given has a value; grain is never inferred from a long side.
//
// # Outlines
//
// A profile may be drawn either way round. Whether an arc bulges out or in is
// judged from the corners: counter-clockwise corners have the panel on their left.
// Two corners, or corners on a line, count as counter-clockwise. SVG path data has
// y pointing down; its circular arcs stay arcs, its other curves become lines
// within a quarter of the job's tolerance.
//
// A panel that is the same as another takes that panel as it is cut: from a
// mirrored panel the mirrored outline, from a pair the left one. Openings and edges
// are taken into another outline too, where they must fit. Grain and face are taken
// as words; a board without grain, or with one good face, does not follow them.
//
// # Limits
//
// A file may have [MaxBytes], nest [MaxDepth] deep, have [MaxEntries] in a list or
// a group of keys, [MaxVertices] in an outline, [MaxCorners] in all outlines,
// [MaxCopies] of a panel and [MaxPanels] in all; names may have [MaxName] and notes
// [MaxNote] characters. Anchors, aliases, merge keys and tags are refused: a job
// file is read as it is written, and none of it multiplies. At most [diag.MaxFindings]
// are listed. Time grows with the size of the file, not with its square.
package jobfile
