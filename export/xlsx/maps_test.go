package xlsx_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
)

// pictures returns the pictures on Maps with the caption above each.
func pictures(t *testing.T, f *excelize.File) (captions []string, list []image.Image) {
	t.Helper()
	rows, err := f.GetRows("Maps")
	if err != nil {
		t.Fatal(err)
	}
	for r, row := range rows {
		for c, caption := range row {
			ref, err := excelize.CoordinatesToCellName(c+1, r+1)
			if err != nil {
				t.Fatal(err)
			}
			found, err := f.GetPictures("Maps", ref)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range found {
				img, err := png.Decode(bytes.NewReader(p.File))
				if err != nil {
					t.Fatal(err)
				}
				if len(p.File) > 8<<10 {
					t.Errorf("the picture of %q takes %d bytes", caption, len(p.File))
				}
				captions, list = append(captions, caption), append(list, img)
			}
		}
	}
	return captions, list
}

// pixel returns the grey of a picture at a place of the sheet.
func pixel(img image.Image, m *export.SheetMap, p geom.Point) uint8 {
	k := 508 / max(m.Stock.Length, m.Stock.Width).MM()
	x, y := 2+p.X.MM()*k, float64(img.Bounds().Dy())-2-p.Y.MM()*k
	return color.GrayModel.Convert(img.At(int(x), int(y))).(color.Gray).Y
}

// Every sheet has a picture under its ID, with the proportions of the sheet. A panel is
// grey within, its opening and the waste are white, and its outline is dark.
func TestMaps(t *testing.T) {
	for _, faceDown := range []bool{false, true} {
		job := exporttest.Job()
		job.Saw.FaceDown = faceDown
		d := exporttest.Dossier(t, job, kerf.Saw)
		captions, list := pictures(t, open(t, write(t, d)))
		if len(list) != len(d.Sheets) {
			t.Fatalf("%d pictures of %d sheets", len(list), len(d.Sheets))
		}
		for i, img := range list {
			m := d.Seen(i)
			if !strings.HasPrefix(captions[i], m.ID+"  "+m.Stock.Name) {
				t.Errorf("picture %d is under %q", i+1, captions[i])
			}
			wide, tall := float64(img.Bounds().Dx()-4), float64(img.Bounds().Dy()-4)
			if r := wide / tall * m.Stock.Width.MM() / m.Stock.Length.MM(); r < 0.99 || r > 1.01 {
				t.Errorf("%s: %v is not in proportion", m.ID, img.Bounds())
			}
			for k := range m.Placements {
				p := &m.Placements[k]
				b := p.Outline.Box()
				if !p.Row.Shaped {
					if g := pixel(img, m, b.Min.Add(geom.Pt(20*mm, 20*mm))); g < 200 || g > 240 {
						t.Errorf("%s, panel %s has grey %d within", m.ID, p.Row.Key, g)
					}
				}
				at := geom.Pt((p.Outline[0].At.X+p.Outline[1].At.X)/2, (p.Outline[0].At.Y+p.Outline[1].At.Y)/2)
				if g := pixel(img, m, at); g > 120 {
					t.Errorf("%s, panel %s has grey %d on its outline", m.ID, p.Row.Key, g)
				}
				for _, o := range p.Openings {
					if g := pixel(img, m, middle(o.Box())); g != 255 {
						t.Errorf("%s, panel %s has grey %d in an opening", m.ID, p.Row.Key, g)
					}
				}
			}
			for _, o := range m.Offcuts {
				if dark := hatched(img, m, o.Box); (dark > 0) != o.Keep {
					t.Errorf("%s, offcut %v: %d dark pixels, kept %v", m.ID, o.Box, dark, o.Keep)
				}
			}
		}
	}
}

func middle(b geom.Box) geom.Point { return geom.Pt((b.Min.X+b.Max.X)/2, (b.Min.Y+b.Max.Y)/2) }

// hatched counts the dark places in the middle of a box.
func hatched(img image.Image, m *export.SheetMap, b geom.Box) int {
	n := 0
	c := middle(b)
	for d := -20 * mm; d <= 20*mm; d += 4 * mm {
		if across := geom.Pt(c.X+d, c.Y); b.Contains(geom.Box{Min: across.Sub(geom.Pt(8*mm, 8*mm)), Max: across.Add(geom.Pt(8*mm, 8*mm))}) && pixel(img, m, across) < 200 {
			n++
		}
	}
	return n
}

// A tall sheet, bent panels and a plan without sheets have their pictures, or a word.
func TestMapsOfOthers(t *testing.T) {
	j := exporttest.Job()
	for i := range j.Stock {
		s := &j.Stock[i]
		s.Length, s.Width, s.Grain = s.Width, s.Length, map[parts.Axis]parts.Axis{parts.AlongLength: parts.AlongWidth}[s.Grain]
	}
	_, list := pictures(t, open(t, write(t, exporttest.Dossier(t, j, kerf.Router))))
	for i, img := range list {
		if b := img.Bounds(); b.Dy() != 512 || b.Dx() > 262 {
			t.Errorf("picture %d of a tall sheet: %v", i+1, b)
		}
	}
	if len(list) == 0 {
		t.Error("no picture")
	}
	j.Panels = nil
	f := open(t, write(t, exporttest.Dossier(t, j, kerf.Saw)))
	rows, err := f.GetRows("Maps")
	if err != nil {
		t.Fatal(err)
	}
	if all := fmt.Sprint(rows); !strings.Contains(all, "There are no sheets") {
		t.Errorf("maps of nothing: %s", all)
	}
}

// Panels too small for a number, and a thousand of them, are drawn without one.
func TestMapsOfSlivers(t *testing.T) {
	j := exporttest.Job()
	j.Panels = j.Panels[4:5]
	j.Panels[0].Outline = j.Panels[0].Outline[:0:0]
	for _, p := range []geom.Point{{}, {X: 40 * mm}, {X: 40 * mm, Y: 15 * mm}, {Y: 15 * mm}} {
		j.Panels[0].Outline = append(j.Panels[0].Outline, vertex(p))
	}
	j.Panels[0].Quantity = 40
	d := exporttest.Dossier(t, j, kerf.Router)
	_, list := pictures(t, open(t, write(t, d)))
	if len(list) != len(d.Sheets) || len(list) == 0 {
		t.Errorf("%d pictures of %d sheets", len(list), len(d.Sheets))
	}
}
