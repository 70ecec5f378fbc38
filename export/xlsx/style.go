package xlsx

import "github.com/xuri/excelize/v2"

// look is how a cell looks. It is comparable, so that equal looks share a style.
// Nothing rests on colour: the papers are printed in black and white.
type look struct {
	format string // number format; empty for text
	bold   bool
	size   float64 // in points; 0 is 10
	wrap   bool
	align  string // "left", "right", "center", or "" for what the value has
	header bool   // column title
	ruled  bool   // hair line below
	first  bool   // first row of a group: a line above
	total  bool   // sum: bold, a double line above the first one
	input  bool   // for the user to fill in: boxed
	alarm  bool   // not to be overlooked: bold on grey
}

// fontName is metric-compatible with fonts that every office suite brings.
const fontName = "Arial"

// styles makes the styles of a workbook, each once.
type styles struct {
	file *excelize.File
	ids  map[look]int
}

func (s *styles) id(l look) (int, error) {
	if id, ok := s.ids[l]; ok {
		return id, nil
	}
	size := l.size
	if size == 0 {
		size = 10
	}
	st := &excelize.Style{
		Font:      &excelize.Font{Family: fontName, Size: size, Bold: l.bold || l.header || l.total || l.alarm},
		Alignment: &excelize.Alignment{Horizontal: l.align, Vertical: "top", WrapText: l.wrap || l.header},
	}
	if l.align == "left" {
		// A number to the left of a text would otherwise touch it.
		st.Alignment.Indent = 1
	}
	if l.format != "" {
		st.CustomNumFmt = &l.format
	}
	const (
		thin   = 1
		medium = 2
		double = 6
		hair   = 7
	)
	line := func(side string, kind int) {
		st.Border = append(st.Border, excelize.Border{Type: side, Color: "000000", Style: kind})
	}
	switch {
	case l.header:
		st.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E7E7E7"}}
		line("top", thin)
		line("bottom", medium)
	case l.input:
		for _, side := range []string{"left", "right", "top", "bottom"} {
			line(side, thin)
		}
	default:
		if l.total && l.first {
			line("top", double)
		} else if l.first {
			line("top", medium)
		}
		if l.ruled {
			line("bottom", hair)
		}
	}
	if l.alarm {
		st.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"D0D0D0"}}
	}
	id, err := s.file.NewStyle(st)
	if err != nil {
		return 0, err
	}
	s.ids[l] = id
	return id, nil
}
