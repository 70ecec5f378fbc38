package parts

import (
	"panelyard/parts/arc"
	"panelyard/parts/bend"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Bend is how a panel is bent after it is cut, by kerfs across it. The outline of the
// panel is that of the flat blank: along the bend it has From, the developed length and
// To. The kerfs are sawn from the back: the uncut face is the good one. Their width is
// that of the tool, see package kerf.
type Bend struct {
	Outer arc.Arc // of the outer, convex face
	// Thickness is the measured one of the board that the developed length, Flat, was
	// worked out for.
	Thickness length.Length
	Flat      length.Length
	Web       length.Length // left under each kerf
	Facet     length.Length // the most that flat pieces stand off the arc; 0 is no wish
	From, To  length.Length // straight wood before the bend and after it
	Along     Axis          // of the panel, that is bent: AlongLength or AlongWidth
	Open      bool          // the kerfs are in the outer face and gape; else in the inner one
	Pos       diag.Pos
}

// Mirrored returns the bend of the other hand of a panel, which is mirrored along its
// length: it begins at the other end. That of a flat panel is nil.
func (b *Bend) Mirrored() *Bend {
	if b == nil || b.Along != AlongLength {
		return b
	}
	m := *b
	m.From, m.To = b.To, b.From
	return &m
}

// Kerfed returns the bend as it is sawn with a kerf.
func (b *Bend) Kerfed(kerf length.Length) bend.Bend {
	return bend.Bend{Thickness: b.Thickness, Web: b.Web, Kerf: kerf, Outer: b.Outer, Open: b.Open, Facet: b.Facet}
}
