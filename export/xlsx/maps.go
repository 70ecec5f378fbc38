package xlsx

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"panelyard/export"
	"panelyard/kerf"
	"panelyard/parts/geom"
)

// The layout of Maps: so many pictures beside each other, which the width of a page
// holds. Sizes of pictures are in pixels, of which 96 are an inch.
const (
	mapsAcross = 3
	mapSide    = 310  // the longer side of a picture as it is shown
	mapColumn  = 46.0 // width of a column, in digits
	mapCaption = 42.0 // height of what is written above a picture, in points
	mapAir     = 10.0 // below a picture, in points
	perPixel   = 0.75 // points
)

// picture is a picture on a worksheet.
type picture struct {
	cell   string
	png    []byte
	width  int // of the longer side as it is shown
	x, y   int // of its corner within the cell, in pixels
	spoken string
}

// add puts the picture on a worksheet.
func (p *picture) add(f *excelize.File, sheet string) error {
	scale := float64(p.width) / drawn
	return f.AddPictureFromBytes(sheet, p.cell, &excelize.Picture{
		Extension: ".png", File: p.png, InsertType: excelize.PictureInsertTypePlaceOverCells,
		Format: &excelize.GraphicOptions{
			AltText: p.spoken, LockAspectRatio: true, OffsetX: p.x, OffsetY: p.y, ScaleX: scale, ScaleY: scale, Positioning: "oneCell",
		},
	})
}

// sheetMaps is the pictures of the sheets as they lie when they are cut.
func sheetMaps(d *export.Dossier, u lengths) (*table, error) {
	t := &table{name: "Maps"}
	for range mapsAcross {
		t.columns = append(t.columns, column{most: mapColumn - margin - indent, wide: mapColumn})
	}
	what := "The sheets as they lie when they are cut, seen from the good face. Numbers are those of the panels, kept offcuts are hatched; a panel without a number is too small for it here. The large maps are among the other papers."
	if d.FaceDown() {
		what = "The sheets as they lie when they are cut, seen from the back: the good face lies down. Numbers are those of the panels, kept offcuts are hatched; a panel without a number is too small for it here. The large maps are among the other papers."
	}
	t.note(what)
	if len(d.Sheets) == 0 {
		t.note("There are no sheets to show.")
	}
	a, err := newArtist(d.Demand.Cut == kerf.Saw)
	if err != nil {
		return nil, err
	}
	for i := 0; i < len(d.Sheets); i += mapsAcross {
		r := row{}
		tallest := 0.0
		for k := i; k < min(i+mapsAcross, len(d.Sheets)); k++ {
			m := d.Seen(k)
			picture, err := t.picture(a, m, k-i+1)
			if err != nil {
				return nil, fmt.Errorf("picture of sheet %s: %w", m.ID, err)
			}
			l, w := m.Stock.Length.MM(), m.Stock.Width.MM()
			tallest = max(tallest, mapSide*w/max(l, w)*perPixel)
			t.pictures = append(t.pictures, picture)
			caption := fmt.Sprintf("%s  %s\n%s, %s %s\n%s, yield %s %%", m.ID, short(m.Stock.Name), short(m.Material.Name),
				u.Size(geom.Pt(m.Stock.Length, m.Stock.Width)), u.Unit(), panelCount(m), u.Decimal(100*m.Areas.Panels/m.Areas.Sheet, 1))
			r.cells = append(r.cells, text(caption).bold())
		}
		r.tall = min(mapCaption+tallest+mapAir, excelize.MaxRowHeight)
		t.rows = append(t.rows, r)
	}
	return t, nil
}

// picture draws a sheet for a column of the row that comes next.
func (t *table) picture(a *artist, m *export.SheetMap, column int) (picture, error) {
	png, err := a.draw(m)
	return picture{
		cell: name(column, t.next()), png: png, width: mapSide, x: 6, y: int(mapCaption / perPixel),
		spoken: fmt.Sprintf("Map of sheet %s with %s; its list of cuts or paths says where they lie.", m.ID, panelCount(m)),
	}, err
}

// short cuts a name to what one line of a caption holds.
func short(s string) string {
	const most = 34
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// panelCount says how many panels lie on a sheet.
func panelCount(m *export.SheetMap) string {
	if len(m.Placements) == 1 {
		return "1 panel"
	}
	return fmt.Sprintf("%d panels", len(m.Placements))
}
