package planjson

import "encoding/json"

// Point is x and y in millimetres.
type Point [2]json.Number

// Document is a plan as the file holds it. Lengths are exact decimals of
// millimetres, areas square millimetres, money whole units of the currency.
type Document struct {
	Format   string      `json:"format"`
	Version  int         `json:"version"`
	Units    string      `json:"units"`
	Currency string      `json:"currency"`
	Job      string      `json:"job"`
	JobFile  string      `json:"job_file"` // as it was named when the plan was made
	Variant  string      `json:"variant"`
	Cut      string      `json:"cut"`
	Seed     uint64      `json:"seed"`
	Kerf     json.Number `json:"kerf"`
	Gap      json.Number `json:"gap"`
	Sheets   []Sheet     `json:"sheets"`
	Unplaced []Unplaced  `json:"unplaced"`
	Buy      []Buy       `json:"buy"`
	Drops    []Drop      `json:"deliveries,omitempty"`
	Edging   []Band      `json:"edging"`
	Bound    Bound       `json:"bound"`
	Totals   Totals      `json:"totals"`
	Cautions []Caution   `json:"cautions"`
	Done     []Done      `json:"done,omitempty"`   // in a plan that goes on from another one
	Before   *Before     `json:"before,omitempty"` // in a plan that goes on from another one
}

// Sheet is one sheet.
type Sheet struct {
	ID         string      `json:"id"`
	Stock      string      `json:"stock"`
	Material   string      `json:"material"`
	Length     json.Number `json:"length"`
	Width      json.Number `json:"width"`
	Grain      string      `json:"grain"`
	Trim       Trim        `json:"trim"`
	Price      json.Number `json:"price"`
	Priced     bool        `json:"priced"`
	Offcut     bool        `json:"offcut"`  // not bought
	InHand     bool        `json:"in_hand"` // bought before
	MassKG     json.Number `json:"mass_kg"`
	Placements []Placement `json:"placements"`
	Cuts       []Cut       `json:"cuts"`
	Paths      []Path      `json:"paths,omitempty"` // of a router's bit
	Offcuts    []Offcut    `json:"offcuts"`
}

// Trim is what is cut off its edges, hold-down margin included.
type Trim struct {
	Left   json.Number `json:"left"`
	Right  json.Number `json:"right"`
	Bottom json.Number `json:"bottom"`
	Top    json.Number `json:"top"`
}

// Placement is a panel on a sheet.
type Placement struct {
	Part      string     `json:"part"`
	Copy      int        `json:"copy"`
	Outline   []Point    `json:"outline"`
	Holes     [][]Point  `json:"holes"`
	Blank     Box        `json:"blank"`
	Shared    bool       `json:"shared,omitempty"`     // the blank is that of two placements
	KerfLines [][2]Point `json:"kerf_lines,omitempty"` // middles of the kerfs for a bend
	Rotation  int        `json:"rotation_deg"`
	Flipped   bool       `json:"flipped"`
}

// Box is a rectangle from its lower left corner.
type Box struct {
	X      json.Number `json:"x"`
	Y      json.Number `json:"y"`
	Length json.Number `json:"length"`
	Width  json.Number `json:"width"`
}

// Cut is a saw cut; From and To are the ends of the middle of the kerf.
type Cut struct {
	Order int         `json:"order"`
	From  Point       `json:"from"`
	To    Point       `json:"to"`
	Fence json.Number `json:"fence"`
	Trim  bool        `json:"trim"`
	First bool        `json:"break_down"`
	Stage int         `json:"stage"`
}

// Offcut is a rectangle that is left.
type Offcut struct {
	Box
	Keep bool `json:"keep"`
}

// Unplaced is copies of a panel without a place.
type Unplaced struct {
	Part   string `json:"part"`
	Copies int    `json:"copies"`
	Reason string `json:"reason"`
}

// Buy is a line of what to buy or to take.
type Buy struct {
	Stock string      `json:"stock"`
	Count int         `json:"count"` // that the plan takes
	Spare int         `json:"spare"` // bought beyond
	Price json.Number `json:"price"` // of each
	Cost  json.Number `json:"cost"`
}

// Drop is the deliveries of a yard.
type Drop struct {
	Yard   string      `json:"yard"`
	Sheets int         `json:"sheets"`
	MassKG json.Number `json:"mass_kg"` // 0 when unknown
	Drops  int         `json:"drops"`
	Cost   json.Number `json:"cost"`
}

// Band is edge band to buy.
type Band struct {
	Band   string      `json:"band"`
	Length json.Number `json:"length"`
	Cost   json.Number `json:"cost"`
}

// Bound is what no plan can beat.
type Bound struct {
	Sheets int         `json:"sheets"`
	Cost   json.Number `json:"cost"`
	Method string      `json:"method"`
	Proved bool        `json:"proved"`
	Text   string      `json:"text"`
}

// Totals of the plan.
type Totals struct {
	PartsArea  json.Number `json:"parts_area"`
	SheetArea  json.Number `json:"sheet_area"`
	Yield      json.Number `json:"yield"`
	KerfArea   json.Number `json:"kerf_area"`
	TrimArea   json.Number `json:"trim_area"`
	OffcutArea json.Number `json:"offcut_area"`
	WasteArea  json.Number `json:"waste_area"`
	Board      json.Number `json:"board_cost"`
	Delivery   json.Number `json:"delivery_cost"`
	Edging     json.Number `json:"edging_cost"`
	Cost       json.Number `json:"cost"`
	MassKG     json.Number `json:"mass_kg"`
	CutLength  json.Number `json:"cut_length"`
	Fences     int         `json:"fence_settings"`
	Stages     int         `json:"stages"`
}

// Caution is something the shop must know.
type Caution struct {
	Topic  string   `json:"topic"`
	Text   string   `json:"text"`
	Source string   `json:"source"`
	Sheets []string `json:"sheets,omitempty"`
}

// Done is a panel that was cut before the plan was made.
type Done struct {
	Part  string `json:"part"`
	Copy  int    `json:"copy"`
	Sheet string `json:"sheet"`
}

// Path is a run of the middle of the bit. A vertex of a line is x, y and the bulge of
// what leaves it: the tangent of a quarter of the angle of an arc, counter-clockwise
// when it is positive, 0 for a line.
type Path struct {
	Order   int              `json:"order"`
	Part    string           `json:"part"`
	Copy    int              `json:"copy"`
	Kind    string           `json:"kind"` // opening, pocket or outline
	Opening string           `json:"opening,omitempty"`
	Closed  bool             `json:"closed"`
	Line    [][3]json.Number `json:"line"`
	Lead    [][3]json.Number `json:"lead,omitempty"`
	Exit    [][3]json.Number `json:"exit,omitempty"`
	Ramp    json.Number      `json:"ramp"`
	Depths  []json.Number    `json:"depths"`
	Tabs    []Tab            `json:"tabs,omitempty"`
}

// Tab is where the bit stays above its depth, from and to along the line.
type Tab struct {
	From  json.Number `json:"from"`
	To    json.Number `json:"to"`
	Depth json.Number `json:"depth"`
}
