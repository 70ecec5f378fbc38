// Package simplex solves linear programs whose columns come one after the other, and
// gives the dual values that say which column would be worth having: the master
// problem of column generation.
//
//	rows, columns -> Master -> least cost, dual values
//
// # Method
//
// The revised simplex method (from memory): the inverse of the basis is kept by gonum,
// updated with each pivot and worked out anew every 30. The column of the
// least reduced cost enters; after many pivots without gain the first column does
// (Bland), which cannot cycle. gonum's own lp.Simplex gives no dual values, and
// starts from nothing every time.
//
// # Exactness
//
// Values are float64 and as good as the basis is conditioned. Nothing here is a
// proof: nest/bound takes dual values for a proposal only and makes them a bound in
// integers.
//
// # Cost
//
// With m rows and columns of z entries in all that are not 0, a pivot costs m*m + z, and
// every 30th m*m*m; memory is m*m + z. Rows that nothing needs at first are better added
// when a column needs them.
package simplex
