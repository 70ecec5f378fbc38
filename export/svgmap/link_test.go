package svgmap

import (
	"bytes"
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A linked map draws what the other one draws: the same panels and texts, with a link
// for each row on the sheet and an id for each panel, whatever names there are.
func TestLinked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anySheet(t)
		var b bytes.Buffer
		if err := Write(&b, d, 0, Look{Linked: true}); err != nil {
			t.Fatal(err)
		}
		plain := drawMap(t, d, 0)
		if bytes.Contains(plain, []byte("<a ")) {
			t.Error("a map that is not part of a page has links")
		}
		paths := func(doc []byte) []string {
			elements, _ := read(t, doc)
			var list []string
			for _, e := range elements {
				if e.XMLName.Local == "path" {
					list = append(list, e.D+e.Style)
				}
			}
			slices.Sort(list) // outlines are drawn row by row
			return list
		}
		if !slices.Equal(paths(plain), paths(b.Bytes())) {
			t.Error("the linked map has other paths")
		}
		rows := map[string]bool{}
		for i := range d.Sheets[0].Placements {
			rows[RowID(d.Sheets[0].Placements[i].Row)] = true
		}
		links, panels := 0, 0
		dec := xml.NewDecoder(&b)
		for {
			tok, err := dec.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			e, ok := tok.(xml.StartElement)
			if !ok {
				continue
			}
			for _, a := range e.Attr {
				switch {
				case e.Name.Local == "a" && a.Name.Local == "href":
					links++
					if !rows[strings.TrimPrefix(a.Value, "#")] {
						t.Errorf("a link leads to %q", a.Value)
					}
				case e.Name.Local == "path" && a.Name.Local == "id":
					panels++
				}
			}
		}
		if links != len(rows) || panels != len(d.Sheets[0].Placements) {
			t.Errorf("%d links for %d rows, %d ids for %d panels", links, len(rows), panels, len(d.Sheets[0].Placements))
		}
	})
}
