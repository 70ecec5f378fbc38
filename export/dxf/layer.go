package dxf

// Layer tells what is done along an entity.
type Layer int

// The layers, in the order of the table in the file.
const (
	Outline Layer = iota // edge of a panel, as cut
	Opening              // edge of an opening, as cut
	Pocket               // edge of what is cut to a depth
	Kerf                 // a kerf that does not go through, for bending
	Drill                // a hole of the drill's own width
	Relief               // a corner that is freed for what has a square one
	Label                // texts; nothing is cut
	Board                // the raw sheet
	Trim                 // edge of what panels may use of the sheet
	Offcut               // what is worth keeping
	layers               // their number
)

// layerTable has the name of each layer, of letters and digits as R12 demands, and
// its colour: a number of the index of colours of the format, our own choice. No
// colour means anything that the name of the layer does not say.
var layerTable = [layers]struct {
	name   string
	colour int
}{
	Outline: {"OUTLINE", 7},
	Opening: {"OPENING", 140},
	Pocket:  {"POCKET", 40},
	Kerf:    {"KERF", 30},
	Drill:   {"DRILL", 94},
	Relief:  {"RELIEF", 200},
	Label:   {"LABEL", 9},
	Board:   {"SHEET", 8},
	Trim:    {"TRIM", 9},
	Offcut:  {"OFFCUT", 8},
}

// String returns the name of the layer in the file.
func (l Layer) String() string { return layerTable[l].name }
