package near

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"panelyard/kerf"
	"panelyard/parts/jobfile"
	"panelyard/parts/money"
)

// model writes a job file and returns its model.
func model(t *testing.T, text string) *jobfile.Model {
	t.Helper()
	file := filepath.Join(t.TempDir(), "job.yaml")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return jobfile.NewModel(file, "")
}

// look searches a job, with a few rounds a plan.
func look(t *testing.T, text string, cut kerf.Cut, set Settings) *Report {
	t.Helper()
	set.Rounds = 3
	r, err := Search(context.Background(), model(t, text), cut, set)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// lines writes suggestions for comparison.
func lines(r *Report) []string {
	var list []string
	for i := range r.Suggestions {
		g := &r.Suggestions[i]
		s := fmt.Sprintf("%s: ", g.Of)
		if g.Copies > 0 {
			s += fmt.Sprintf("%d copies", g.Copies)
		} else {
			s += g.From.Decimal() + " to " + g.To.Decimal()
		}
		s += fmt.Sprintf(", saves %v and %d sheets", money.Amount(g.Saved), g.Sheets)
		if g.Least {
			s += ", least"
		}
		if g.Sure {
			s += ", sure"
		}
		list = append(list, s)
	}
	return list
}

const head = `job: buoy store
currency: EUR
tools: {saw: {kerf: %s}}
materials: [{name: board, thickness: 18, grain: %s}]
stock: [{name: sheet, material: board, length: %s, width: 500, price: 50, trim: %s, grain: %s}]
`

// Instances solved by hand.
func TestByHand(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{
			// Four panels fill the sheet, but for the kerfs. Turned, four lie side by side
			// when 4 w + 3 x 4 <= 1000: w <= 247. Two rows of two want both sides smaller.
			"a width", fmt.Sprintf(head, "4", "no", "1000", "0", "none") + "panels: [{name: leaf, quantity: 4, length: 500, width: 250}]\n",
			[]string{`panel "leaf", width: 250 to 247, saves 50.00 and 1 sheets, least, sure`},
		},
		{
			// The same in a variable: both follow, and two rows of two want 500 - d <= 498
			// and 250 - d <= 248, which d = 2 gives before w <= 247 does.
			"a variable", fmt.Sprintf(head, "4", "no", "1000", "0", "none") + "variables: {w: 500}\npanels: [{name: leaf, quantity: 4, length: w, width: w - 250}]\n",
			[]string{`variable "w": 500 to 498, saves 50.00 and 1 sheets, least, sure`},
		},
		{
			// 2 x 500 + 3 = 1003 of 1000 between the trims: the panels 2 mm shorter, as 1 mm
			// leaves 1001, or the trim of one end 3 mm less. A kerf of nothing is none.
			"a trim", fmt.Sprintf(head, "3", "no", "1010", "5", "none") + "panels: [{name: leaf, quantity: 2, length: 500, width: 490}]\n",
			[]string{
				`panel "leaf", length: 500 to 498, saves 50.00 and 1 sheets, least, sure`,
				`trim of the left end of "sheet": 5 to 2, saves 50.00 and 1 sheets, least, sure`,
			},
		},
		{
			// 2 x 498.5 + 3.2 = 1000.2: the kerf 0.2 mm thinner, or both panels 1 mm shorter;
			// turned, 2 x 499 + 3.2 = 1001.2: 1 mm narrower.
			"a kerf", fmt.Sprintf(head, "3.2", "no", "1000", "0", "none") + "panels: [{name: leaf, quantity: 2, length: 498.5, width: 499}]\n",
			[]string{
				`panel "leaf", length: 498.5 to 497.5, saves 50.00 and 1 sheets, least, sure`,
				`panel "leaf", width: 499 to 498, saves 50.00 and 1 sheets, least, sure`,
				`the saw's kerf: 3.2 to 3, saves 50.00 and 1 sheets, least, sure`,
			},
		},
		{
			// The slat lies along the strip of 196 above the leaves only when turned; or one
			// leaf is: 480 + 4 + 300 + 4 + 190 = 978.
			"a grain", fmt.Sprintf(head, "4", "yes", "1000", "0", "length") + "panels: [{name: leaf, quantity: 2, length: 480, width: 300}, {name: slat, length: 190, width: 490}]\n",
			[]string{
				`grain of panel "leaf": 1 copies, saves 50.00 and 1 sheets, sure`,
				`grain of panel "slat": 1 copies, saves 50.00 and 1 sheets, sure`,
			},
		},
		{
			// Beside the panel of 1000 x 300 a strip of 1000 x 196 is left: the lid of
			// 450 x 350 comes out of it in halves of 450 x 175, which lie end to end. Or the
			// panel in halves of 500 x 300, upright: 300 + 4 + 300 + 4 + 350 = 958.
			"a joint", fmt.Sprintf(head, "4", "no", "1000", "0", "none") + "panels: [{name: leaf, length: 1000, width: 300}, {name: lid, length: 450, width: 350}]\n",
			[]string{
				`panel "leaf", joined across its length: 1 copies, saves 50.00 and 1 sheets, sure`,
				`panel "lid", joined along its length: 1 copies, saves 50.00 and 1 sheets, sure`,
			},
		},
		{
			"none", fmt.Sprintf(head, "4", "no", "1000", "0", "none") + "panels: [{name: leaf, length: 700, width: 400}]\n", nil,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := look(t, c.text, kerf.Saw, Settings{})
			got := lines(r)
			for i := range got {
				// One amount of a copy is the least, but for it the bound has nothing to say.
				got[i] = strings.Replace(got[i], "copies, saves 50.00 and 1 sheets, least", "copies, saves 50.00 and 1 sheets", 1)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("got\n%s\nwant\n%s\ntried %+v", strings.Join(got, "\n"), strings.Join(c.want, "\n"), r.Tried)
			}
			if r.Stop != Finished {
				t.Errorf("ended with %v", r.Stop)
			}
		})
	}
}

// The same job, seed and rounds give the same report.
func TestRepeatable(t *testing.T) {
	text := fmt.Sprintf(head, "3", "no", "1010", "5", "none") + "panels: [{name: leaf, quantity: 2, length: 492, width: 470}, {name: slat, quantity: 5, length: 310, width: 120}]\n"
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		a, b := look(t, text, cut, Settings{Seed: 4, Workers: 1}), look(t, text, cut, Settings{Seed: 4, Workers: 2})
		a.Job, b.Job = nil, nil
		for _, r := range []*Report{a, b} { // places name the file, in another folder
			for i := range r.Suggestions {
				r.Suggestions[i].Pos.File = ""
			}
			for i := range r.Tried {
				r.Tried[i].Pos.File = ""
			}
		}
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%v: two reports:\n%+v\n%+v", cut, a, b)
		}
	}
}
