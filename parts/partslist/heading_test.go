package partslist

import (
	"slices"
	"strings"
	"testing"

	"panelyard/parts/length"
)

func TestReadTitle(t *testing.T) {
	for s, want := range map[string]struct {
		word word
		unit string
	}{
		"Length": {wordLength, ""}, "  LENGTH : ": {wordLength, ""}, "length (in)": {wordLength, "in"}, "width [mm]": {wordWidth, "mm"},
		"Length in mm": {wordLength, "mm"}, "Length_mm": {wordLength, "mm"}, "thickness, mm": {wordThickness, "mm"}, "Width/cm": {wordWidth, "cm"},
		"length (Inches)": {wordLength, "in"}, `length (")`: {wordLength, "in"}, `length "`: {wordLength, "in"}, "Length (in mm)": {wordLength, "mm"},
		"Length\n(millimetres)": {wordLength, "mm"}, "L": {wordLength, ""}, "Qty.": {wordQuantity, ""}, "Edge\u00a0banding": {wordEdging, ""},
		"Part  Name": {wordName, ""}, "remarks": {wordNote, ""}, "unit": {wordUnit, ""},
		// Nothing that is not certain.
		"Length (finished)": {other, ""}, "cut length": {other, ""}, "edging (m)": {other, ""}, "qty (mm)": {other, ""}, "height": {other, ""},
		"": {other, ""}, "mm": {other, ""}, "in": {other, ""}, "lengthin": {other, ""}, "price": {other, ""}, strings.Repeat("length ", 40): {other, ""},
	} {
		got := readTitle(s)
		if got.word != want.word || got.unit.Name != want.unit {
			t.Errorf("%q: %v in %q, want %v in %q", s, got.word, got.unit.Name, want.word, want.unit)
		}
	}
}

// No heading means two words, and none that is clear is also unclear.
func TestHeadingsAreDistinct(t *testing.T) {
	seen := map[string]word{}
	for w := other + 1; w < words; w++ {
		for _, h := range headings[w] {
			if seen[h] != other {
				t.Errorf("%q means %v and %v", h, seen[h], w)
			}
			seen[h] = w
			if readTitle(h).word != w {
				t.Errorf("%q is not read as %v", h, w)
			}
		}
	}
	for h := range unclear {
		if seen[h] != other || readTitle(h).meaning == nil {
			t.Errorf("%q", h)
		}
	}
}

// An unclear heading is a mistake only while a word that matters is open.
func TestUnclearHeadings(t *testing.T) {
	for heading, says := range map[string]string{
		"name,length,width,qty,description":     "",
		"description,length,width,qty":          "may mean name or note",
		"name,length,width,no":                  "may mean quantity or name",
		"name,length,width,qty,no":              "",
		"name,length,height,qty":                "may mean length or width",
		"name,length,width,qty,height":          "",
		"name,length,width,qty,direction":       "may mean grain",
		"name,length,width,qty,type":            "may mean material",
		"name,length,width,qty,thickness,sheet": "",
		"name,size,qty":                         "may mean length or width",
		"name,length,width,qty,units":           "may mean unit or quantity",
		"name,length,width,qty,unit,units":      "",
		"name,height (mm),width,qty":            "may mean length or width",
	} {
		n := strings.Count(heading, ",") + 1
		values := []string{"side", "600", "300", "2", "", "", ""}
		if n > 5 {
			values[4] = "mm"
			if strings.Contains(heading, "thickness") {
				values[4] = "18"
			}
		}
		_, list := Read("a.csv", []byte(heading+"\n"+strings.Join(values[:n], ",")+"\n"), metric)
		err := list.Err()
		if says == "" && err != nil || says != "" && (err == nil || !strings.Contains(err.Error(), says)) {
			t.Errorf("%s: %v, want %q", heading, err, says)
		}
	}
}

// The order of the columns, blank columns and the case of headings change nothing.
func TestAnyOrder(t *testing.T) {
	head := []string{"name", "QTY", "Length", "width (in)", "thickness", "material", "Grain", "edging", "note", "drawing"}
	cells := []string{"side", "2", "600", "12", "18", "birch 18", "width", "top: oak 1", "left", ""}
	want := ""
	for turn := range head {
		h := append(slices.Clone(head[turn:]), head[:turn]...)
		c := append(slices.Clone(cells[turn:]), cells[:turn]...)
		if turn%2 == 1 {
			slices.Reverse(h)
			slices.Reverse(c)
			h, c = slices.Insert(h, 3, ""), slices.Insert(c, 3, "")
		}
		got := facts(rowsOf(t, "a.csv", []byte(strings.Join(h, "\t")+"\n"+strings.Join(c, "\t")+"\n"), metric))
		if want == "" {
			want = got
		}
		if got != want || !strings.Contains(got, "600 mm x 304.8 mm") {
			t.Errorf("turn %d: %s, want %s", turn, got, want)
		}
	}
}

// Without units of a job, each column of bare numbers is a mistake once.
func TestNoUnits(t *testing.T) {
	_, list := Read("a.csv", []byte("name;qty;length;width;thickness (mm)\nside;1;600;300 mm;18\nlid;1;600;300;18\n"), Options{})
	if len(list) != 2 || !strings.Contains(list[0].Fact, "has no unit") || !strings.Contains(list[0].Remedy, "length (mm)") || !strings.Contains(list[1].Fact, `D3 "width"`) {
		t.Error(list)
	}
	rows := rowsOf(t, "a.csv", []byte("name;qty;length (in);width\nside;1;600;300 mm\n"), Options{})
	if rows[0].Length != 600*length.Inch || rows[0].Width != 300*length.Millimetre {
		t.Error(facts(rows))
	}
}

func TestWords(t *testing.T) {
	for s, want := range map[string]string{
		"": "", "Length": "length", "along the length": "length", "along width": "width", "none": "free", "free": "free", "either": "free", "-": "free", "L": "length",
	} {
		if got, err := readGrain(s); err != nil || got != want {
			t.Errorf("%q: %q, %v", s, got, err)
		}
	}
	for s, want := range map[string][]Edge{
		"": nil, "none": nil, "-": nil,
		"all: oak 1":                  {{"all", "oak 1"}},
		"top: oak 1; Left: birch 0,5": {{"top", "oak 1"}, {"left", "birch 0,5"}},
		"top and bottom: oak 1":       {{"top", "oak 1"}, {"bottom", "oak 1"}},
		"top + left & right":          {{"top", ""}, {"left", ""}, {"right", ""}},
		"top: oak 1;\nleft:oak  1;":   {{"top", "oak 1"}, {"left", "oak 1"}},
	} {
		got, err := readEdging(s, false)
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%q: %v, %v, want %v", s, got, err, want)
		}
	}
	if got, err := readEdging("brow: oak 1", true); err != nil || !slices.Equal(got, []Edge{{"brow", "oak 1"}}) {
		t.Error(got, err)
	}
	for _, s := range []string{"brow", "top:", "top, , left", "top: a: b", "top: a, left", "top; top", "all oak", ": oak", "3"} {
		if got, err := readEdging(s, false); err == nil {
			t.Errorf("%q: %v", s, got)
		}
	}
}
