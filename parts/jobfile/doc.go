// Package jobfile reads the job file: YAML, strict, all mistakes at once.
//
//	file -> tree of values with places -> parts.Job | diag.List
//
// The file is parsed by goccy/go-yaml into its syntax tree, which keeps the place
// of every value; numbers are read from the text as written, never through
// floating point. Every finding says file, line, column, the panel or sheet
// concerned, what is the matter and what to do. A file with a mistake gives no
// job; warnings come with a job.
//
// # Limits
//
// A file may have [MaxBytes], nest [MaxDepth] deep, have [MaxEntries] in a list,
// [MaxVertices] in an outline, [MaxCopies] of a panel and [MaxPanels] in all.
// Anchors, aliases, merge keys and tags are refused: a job file is read as it is
// written, and none of it multiplies.
package jobfile
