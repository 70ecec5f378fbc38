package parts

import (
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Router is a machine that cuts true shapes. Its zero fields beyond Margin are
// filled in by [Router.Filled].
type Router struct {
	Bit    length.Length // diameter
	Gap    length.Length // kept between panels beyond the width of the bit
	Margin length.Length // hold-down strip kept free along every sheet edge

	RPM      int           // of the spindle; 0 when not given
	Flutes   int           // cutting edges of the bit; 0 when not given
	ChipLoad length.Length // what each of them takes in a turn; 0 when not given
	Feed     length.Length // a minute, along the path
	Plunge   length.Length // a minute, down
	Rapid    length.Length // a minute, above the sheet
	Pass     length.Length // depth of a pass
	// Overcut is how far below the sheet the last pass goes; NoOvercut is not at all.
	Overcut length.Length

	Hold      Hold
	Tabs      Tabs
	Skin      length.Length // left of the thickness until the final pass
	Direction Direction
	Screws    []Screw
	Pos       diag.Pos
}

// Hold is how a panel is held while the router frees it.
type Hold int

// The ways to hold a panel. HoldAuto is a skin for small panels and tabs for others.
const (
	HoldAuto Hold = iota
	HoldTabs
	HoldSkin
	HoldNone
)

// String returns the word of the job file.
func (h Hold) String() string { return [...]string{"auto", "tabs", "skin", "none"}[h] }

// Direction is how the bit runs along a panel, the spindle turning clockwise seen
// from above.
type Direction int

// The directions. Climb has the panel on the right of the bit's travel, so that an
// outline is run clockwise and an opening counter-clockwise; conventional is the
// other way round.
const (
	Climb Direction = iota
	Conventional
)

// String returns the word of the job file.
func (d Direction) String() string { return [...]string{"climb", "conventional"}[d] }

// Tabs are bridges that hold a panel in its sheet. A zero Height is worked out from
// the thickness, a zero Count from the length of the outline.
type Tabs struct {
	Length, Height length.Length
	Count          int
}

// Screw is a place on every sheet where a screw holds it down.
type Screw struct {
	At       geom.Point // in sheet coordinates
	Diameter length.Length
	Pos      diag.Pos
}

// Relief is what is done about inside corners that are sharper than the bit.
type Relief int

// The reliefs. A dog-bone goes into the corner along its bisector, a t-bone along
// the shorter wall into the longer one.
const (
	NoRelief Relief = iota
	DogBone
	TBone
)

// String returns the word of the job file.
func (r Relief) String() string { return [...]string{"none", "dog-bone", "t-bone"}[r] }

// NoOvercut is the Overcut of a router whose last pass ends at the thickness.
const NoOvercut length.Length = -1

// The defaults of a router: common practice, no source. The feeds are those of a
// light machine; what its maker and that of the bit say comes first.
const (
	DefaultFeed      = 3000 * length.Millimetre
	DefaultPlunge    = 800 * length.Millimetre
	DefaultRapid     = 6000 * length.Millimetre
	DefaultOvercut   = 300 * length.Micrometre
	DefaultSkin      = 500 * length.Micrometre
	DefaultTabLength = 6 * length.Millimetre
	LeastTabHeight   = 1500 * length.Micrometre
	MostTabHeight    = 3 * length.Millimetre
)

// Filled returns the router with its defaults in place of what is not given: the
// feed from spindle speed, flutes and chip load where these are given, and a pass of
// half the bit. A router that is filled stays as it is; NoOvercut stays NoOvercut.
func (r Router) Filled() Router {
	def := func(l *length.Length, v length.Length) {
		if *l == 0 {
			*l = v
		}
	}
	if r.RPM > 0 && r.Flutes > 0 {
		def(&r.Feed, length.Length(r.RPM)*length.Length(r.Flutes)*r.ChipLoad)
	}
	def(&r.Feed, DefaultFeed)
	def(&r.Plunge, DefaultPlunge)
	def(&r.Rapid, DefaultRapid)
	def(&r.Pass, max(r.Bit/2, 1))
	def(&r.Overcut, DefaultOvercut)
	def(&r.Skin, DefaultSkin)
	def(&r.Tabs.Length, DefaultTabLength)
	return r
}
