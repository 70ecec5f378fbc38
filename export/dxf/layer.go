package dxf

// Layer tells what is done along an entity.
type Layer int

// The layers, in the order of the table in the file, which is that of the work.
const (
	Opening Layer = iota // edge of an opening, as cut
	Drill                // edge of a round opening that is no wider than the bit
	Relief               // what the bit takes out of an inside corner
	Kerf                 // a kerf that does not go through, for bending
	Outline              // edge of a panel, as cut
	Path                 // way of the middle of the bit, in the order and direction of the cuts
	Lead                 // how the bit comes to a path and leaves it
	Tab                  // the parts of a path at which a tab stays
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
	Opening: {"OPENING", 140},
	Drill:   {"DRILL", 94},
	Relief:  {"RELIEF", 200},
	Kerf:    {"KERF", 30},
	Outline: {"OUTLINE", 7},
	Path:    {"PATH", 1},
	Lead:    {"LEAD", 40},
	Tab:     {"TAB", 6},
	Label:   {"LABEL", 9},
	Board:   {"SHEET", 8},
	Trim:    {"TRIM", 9},
	Offcut:  {"OFFCUT", 8},
}

// String returns the name of the layer in the file.
func (l Layer) String() string { return layerTable[l].name }
