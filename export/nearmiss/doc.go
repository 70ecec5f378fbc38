// Package nearmiss writes what a search for near misses has found.
//
//	near.Report -> Page -> HTML, JSON, and the table of the command
//
// It decides nothing: what is a suggestion, and its rank, are those of the report. Amounts
// and lengths are written as the figures of the job say.
package nearmiss
