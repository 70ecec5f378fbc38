package dxf

// Handles number the tables, records and objects of an R2000 file; each tells its
// owner by its handle. They are the same in every file, and those of the entities
// follow.
const (
	tableVPort = iota + 1
	tableLType
	tableLayer
	tableStyle
	tableView
	tableUCS
	tableAppID
	tableDimStyle
	tableBlockRecord

	handleVPort
	handleStyle
	handleAppID
	handleDimStyle

	handleModelRecord // the space of the drawing
	handleModelBlock
	handleModelEnd
	handleModelLayout
	handlePaperRecord // the space of a page, which stays empty
	handlePaperBlock
	handlePaperEnd
	handlePaperLayout

	handleRoot // the dictionary of the others
	handleGroups
	handleLayouts
	handlePlotStyles
	handlePlotStyle

	handleLines                                   // of line types, three
	handleLayers = handleLines + 3                // layer 0, and then ours
	firstHandle  = handleLayers + 1 + int(layers) // of the entities
)

const noOwner = 0

// table begins a table of a number of records.
func (p *pen) table(name string, handle, records int) {
	p.text(0, "TABLE")
	p.text(2, name)
	if p.flavour == R2000 {
		p.hex(5, handle)
		p.hex(330, noOwner)
		p.text(100, "AcDbSymbolTable")
	}
	p.whole(70, records)
}

// record begins a record of a table.
func (p *pen) record(kind, class string, table, handle int, name string) {
	p.text(0, kind)
	if p.flavour == R2000 {
		code := 5
		if table == tableDimStyle {
			code = 105 // 5 is a block of its arrows
		}
		p.hex(code, handle)
		p.hex(330, table)
		p.text(100, "AcDbSymbolTableRecord")
		p.text(100, class)
	}
	p.text(2, name)
	if table != tableBlockRecord {
		p.whole(70, 0)
	}
}

// moreTables writes the tables that only R2000 needs.
func (p *pen) moreTables() {
	for _, t := range [...]struct {
		name   string
		handle int
	}{{"VIEW", tableView}, {"UCS", tableUCS}} {
		p.table(t.name, t.handle, 0)
		p.text(0, "ENDTAB")
	}
	p.table("APPID", tableAppID, 1)
	p.record("APPID", "AcDbRegAppTableRecord", tableAppID, handleAppID, "ACAD")
	p.text(0, "ENDTAB")

	p.table("DIMSTYLE", tableDimStyle, 1)
	p.text(100, "AcDbDimStyleTable")
	p.record("DIMSTYLE", "AcDbDimStyleTableRecord", tableDimStyle, handleDimStyle, styleName)
	p.text(0, "ENDTAB")

	p.table("BLOCK_RECORD", tableBlockRecord, 2)
	for _, s := range spaces {
		p.record("BLOCK_RECORD", "AcDbBlockTableRecord", tableBlockRecord, s.record, s.name)
		p.hex(340, s.layout)
	}
	p.text(0, "ENDTAB")
}

// spaces are the two spaces of an R2000 drawing: a block and a layout each.
var spaces = [...]struct {
	name, tab                  string
	record, block, end, layout int
	paper                      bool
}{
	{"*Model_Space", "Model", handleModelRecord, handleModelBlock, handleModelEnd, handleModelLayout, false},
	{"*Paper_Space", "Layout1", handlePaperRecord, handlePaperBlock, handlePaperEnd, handlePaperLayout, true},
}

// blocks writes the blocks, which are empty.
func (p *pen) blocks() {
	for _, s := range spaces {
		begin := func(kind, class string, handle int) {
			p.text(0, kind)
			p.hex(5, handle)
			p.hex(330, s.record)
			p.text(100, "AcDbEntity")
			if s.paper {
				p.whole(67, 1)
			}
			p.text(8, "0")
			p.text(100, class)
		}
		begin("BLOCK", "AcDbBlockBegin", s.block)
		p.text(2, s.name)
		p.whole(70, 0)
		p.place(10, 0, 0)
		p.text(3, s.name)
		p.text(1, "")
		begin("ENDBLK", "AcDbBlockEnd", s.end)
	}
}

// classes writes the classes of the objects that are not built into the format.
func (p *pen) classes() {
	for _, c := range [...][2]string{
		{"ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault"},
		{"ACDBPLACEHOLDER", "AcDbPlaceHolder"},
		{"LAYOUT", "AcDbLayout"},
	} {
		p.text(0, "CLASS")
		p.text(1, c[0])
		p.text(2, c[1])
		p.text(3, "ObjectDBX Classes")
		p.whole(90, 0)
		p.whole(280, 0)
		p.whole(281, 0)
	}
}

// object begins an object.
func (p *pen) object(kind string, handle, owner int) {
	p.text(0, kind)
	p.hex(5, handle)
	p.hex(330, owner)
}

// dictionary writes a dictionary of names and handles.
func (p *pen) dictionary(kind string, handle, owner int, entries ...entry) {
	p.object(kind, handle, owner)
	p.text(100, "AcDbDictionary")
	p.whole(281, 1)
	for _, e := range entries {
		p.text(3, e.name)
		p.hex(350, e.handle)
	}
}

type entry struct {
	name   string
	handle int
}

// objects writes the dictionaries, the plot style that layers refer to, and the
// layouts.
func (p *pen) objects() {
	p.dictionary("DICTIONARY", handleRoot, noOwner,
		entry{"ACAD_GROUP", handleGroups}, entry{"ACAD_LAYOUT", handleLayouts}, entry{"ACAD_PLOTSTYLENAME", handlePlotStyles})
	p.dictionary("DICTIONARY", handleGroups, handleRoot)
	p.dictionary("DICTIONARY", handleLayouts, handleRoot,
		entry{spaces[0].tab, spaces[0].layout}, entry{spaces[1].tab, spaces[1].layout})
	p.dictionary("ACDBDICTIONARYWDFLT", handlePlotStyles, handleRoot, entry{"Normal", handlePlotStyle})
	p.text(100, "AcDbDictionaryWithDefault")
	p.hex(340, handlePlotStyle)
	p.object("ACDBPLACEHOLDER", handlePlotStyle, handlePlotStyles)
	for i, s := range spaces {
		p.layout(i, s.tab, s.layout, s.record)
	}
}

// layout writes a layout of a space: an A4 page at full scale, no printer chosen.
func (p *pen) layout(order int, name string, handle, record int) {
	const long, short = 297, 210 // mm, whatever the drawing is in
	p.object("LAYOUT", handle, handleLayouts)
	p.text(100, "AcDbPlotSettings")
	for _, code := range [...]int{1, 2, 4, 6} { // page setup, printer, paper, view
		p.text(code, "")
	}
	for code := 40; code <= 43; code++ { // margins
		p.number(code, 0)
	}
	p.number(44, long)
	p.number(45, short)
	for _, code := range [...]int{46, 47, 48, 49, 140, 141} { // origin and window
		p.number(code, 0)
	}
	p.number(142, 1) // scale
	p.number(143, 1)
	flags := 0
	if record == handleModelRecord {
		flags = 1024 // it is the model's
	}
	p.whole(70, flags)
	p.whole(72, 1) // units of the paper: mm
	p.whole(73, 0)
	p.whole(74, 5) // plot the layout
	p.text(7, "")
	p.whole(75, 16) // 1:1
	p.number(147, 1)
	p.number(148, 0)
	p.number(149, 0)
	p.text(100, "AcDbLayout")
	p.text(1, name)
	p.whole(70, 1)
	p.whole(71, order)
	p.pair(10, 0, 0)
	p.pair(11, long, short)
	p.place(12, 0, 0)
	const nothing = 1e20 // an extent of nothing: the least is beyond the most
	for i, sign := range [...]float64{1, -1} {
		for _, code := range [...]int{14, 24, 34} {
			p.number(code+i, sign*nothing)
		}
	}
	p.number(146, 0)
	p.place(13, 0, 0)
	p.pair(16, 1, 0)
	p.number(36, 0)
	p.pair(17, 0, 1)
	p.number(37, 0)
	p.whole(76, 0)
	p.hex(330, record)
}
