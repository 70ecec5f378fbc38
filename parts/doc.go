// Package parts is the job: what is to be built, from which boards, with which
// tools. Readers (jobfile) make a [Job]; kerf turns it into a demand.
//
// A panel is drawn in its own frame: x runs along its length and y along its
// width, seen from its good face, with the lower left corner of its box at the
// origin. All lengths are [length.Length]; every outline is counter-clockwise.
package parts
