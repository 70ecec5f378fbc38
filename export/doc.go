// Package export is the papers. A [Dossier] holds a judged plan with every
// figure the papers print, computed once; the packages below write it as one
// kind of document each and decide nothing.
package export
