// Package kerf knows what the tool takes away. It turns a job and a way to cut
// into a [Demand]: every panel at the size it must be cut (edge bands
// deducted), as the shape the router frees or the blank the saw frees, the
// distance that has to stay between two of them, and the usable area of every
// sheet.
//
//	parts.Job + Cut -> Demand -> nest.Problem
//
// All results are exact or err to the safe side: a kerf is rounded up to an
// even number of units, shapes contain the panel, holes are contained in the
// opening.
package kerf
