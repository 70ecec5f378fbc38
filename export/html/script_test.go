package html_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/svgmap"
	"panelyard/kerf"
)

// spread returns a row whose copies are on several sheets.
func spread(t *testing.T, d *export.Dossier) *export.PanelRow {
	t.Helper()
	for i := range d.Panels {
		if len(export.Once(d.Panels[i].Sheets)) > 1 {
			return &d.Panels[i]
		}
	}
	t.Fatal("no panel is on several sheets: the test shows nothing")
	return nil
}

// marked returns what is marked: rows, places on maps, links as text.
func (b *browser) marked() string {
	b.t.Helper()
	return b.eval(`["tr", ".place", "p a"].map(s => document.querySelectorAll(s + ".on").length).join(" ")`)
}

// number returns the value of an expression.
func (b *browser) number(expression string) float64 {
	b.t.Helper()
	v, err := strconv.ParseFloat(b.eval(expression), 64)
	if err != nil {
		b.t.Fatal(err)
	}
	return v
}

// seen reports whether the middle of an element is in the window.
func (b *browser) seen(element string) bool {
	b.t.Helper()
	return b.eval(`(r => r.top + r.height / 2 > 0 && r.top + r.height / 2 < innerHeight && r.left + r.width / 2 > 0 && r.left + r.width / 2 < innerWidth)(`+element+`.getBoundingClientRect())`) == "true"
}

func byID(id string) string { return fmt.Sprintf("document.getElementById(%q)", id) }

// The script marks a panel in the list and on all maps, from either of them and by
// links, and takes the marks off.
func TestMarks(t *testing.T) {
	t.Parallel()
	d := exporttest.Dossier(t, exporttest.Stands(), kerf.Saw)
	r := spread(t, d)
	on := export.Once(r.Sheets)
	all := fmt.Sprintf("1 %d %d", len(on), len(on))
	row, first := byID(svgmap.RowID(r)), byID(svgmap.KindID(on[0], r))
	b := launch(t, 1200, 900)
	page := write(t, d)

	b.open(page, "#"+svgmap.KindID(on[1], r))
	b.frame()
	if got := b.marked(); got != all {
		t.Errorf("opened at a place, marked are %s, want %s", got, all)
	}
	if !b.seen(byID(svgmap.KindID(on[1], r))) {
		t.Error("the place that the page is opened at is not in sight")
	}
	says := b.eval(`document.querySelector(".marked p").textContent`)
	if want := fmt.Sprintf("Panel %s, %s: %d pieces on %d sheets; ", r.Key, r.Name, r.Copies, len(on)); !strings.HasPrefix(says, want) {
		t.Errorf("the page says %q, want %q", says, want)
	}
	b.press("Escape", 27, "")
	if got := b.marked(); got != "0 0 0" {
		t.Errorf("after Escape, marked are %s", got)
	}

	// From the list, by the mouse and by the Enter key, and on to the sheets.
	b.eval(row + `.scrollIntoView({block: "center"})`)
	b.click(row + ".cells[1]")
	if got := b.marked(); got != all {
		t.Errorf("after a click on the row, marked are %s, want %s", got, all)
	}
	b.click(row + ".cells[1]")
	if got := b.marked(); got != "0 0 0" {
		t.Errorf("after a second click, marked are %s", got)
	}
	b.eval(row + `.querySelector("button").focus()`)
	b.press("Enter", 13, "\r")
	if got := b.marked(); got != all {
		t.Errorf("after Enter on the row, marked are %s, want %s", got, all)
	}
	if got := b.eval(row + `.querySelector("button").getAttribute("aria-pressed")`); got != "true" {
		t.Errorf("the button of the row is pressed: %s", got)
	}
	for _, id := range []string{on[0], on[1]} {
		b.click(`document.querySelector("[data-go='1']")`)
		b.frame()
		if !b.seen(byID(svgmap.KindID(id, r))) {
			t.Errorf("the button does not lead to sheet %s", id)
		}
	}
	b.click(`document.querySelector("[data-go='list']")`)
	if !b.seen(row) {
		t.Error("the button does not lead to the list")
	}
	b.click(`document.querySelector("[data-go='clear']")`)
	if got := b.marked() + " " + b.eval(`document.querySelector(".marked").hidden`); got != "0 0 0 true" {
		t.Errorf("after Clear, marked are %s", got)
	}

	// From a map, twice: the second time the address stays what it is.
	for range 2 {
		b.eval(first + `.closest(".sheet").scrollIntoView()`)
		b.frame()
		b.click(first + `.querySelector("path")`)
		b.frame()
		if got := b.marked(); got != all || !b.seen(row) {
			t.Errorf("after a click on a panel, marked are %s, want %s, and the row is in sight: %t", got, all, b.seen(row))
		}
		b.press("Escape", 27, "")
	}
	label := fmt.Sprintf(`[...document.querySelectorAll("#%s text")].find(e => e.textContent.startsWith("%s  "))`, on[0], r.Key)
	b.eval(first + `.closest(".sheet").scrollIntoView()`)
	b.frame()
	b.click(label)
	b.frame()
	if got := b.marked(); got != all || !b.seen(row) {
		t.Errorf("after a click on the label of a panel, marked are %s, want %s", got, all)
	}

	// From a step, to one panel.
	for i := range d.Sheets {
		for k := range d.Sheets[i].Placements {
			pl := &d.Sheets[i].Placements[k]
			id := svgmap.CopyID(d.Sheets[i].ID, pl.Row, pl.Copy)
			link := fmt.Sprintf(`document.querySelector("td a[href='#%s']")`, id)
			if pl.Row != r || b.eval(link) == "null" {
				continue
			}
			b.eval(link + `.scrollIntoView({block: "center"})`)
			b.click(link)
			b.frame()
			if got := b.marked() + " " + b.eval(`[...document.querySelectorAll(".here")].map(e => e.id)`); got != all+" "+id || !b.seen(byID(id)) {
				t.Errorf("after a click on a step, marked are %s, want %s %s", got, all, id)
			}
		}
	}
	if b.complaints != nil {
		t.Error(b.complaints)
	}
}

// Maps are enlarged by keys, buttons and the wheel, and moved by keys and the mouse.
func TestZoom(t *testing.T) {
	t.Parallel()
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Router)
	b := launch(t, 1200, 900)
	// A browser that comes back to a page may restore a choice made without scripts.
	restored := strings.ReplaceAll(write(t, d), `value="4"`, `value="4" checked`)
	b.open(restored, "#S1")
	const mapS1 = `document.querySelector("#S1 .map")`
	size := func(want float64, after string) {
		t.Helper()
		if got := b.number(mapS1 + `.firstElementChild.getBoundingClientRect().width / ` + mapS1 + `.clientWidth`); math.Abs(got-want) > 0.03*want {
			t.Errorf("after %s the map is %.2f times as large, want %.2f", after, got, want)
		}
	}
	size(1, "opening")
	if b.eval(mapS1+`.scrollHeight <= `+mapS1+`.clientHeight + 1`) != "true" {
		t.Error("the whole sheet is not in its box")
	}
	b.eval(mapS1 + ".focus()")
	b.press("+", 187, "+")
	b.press("+", 187, "+")
	size(2.25, "two keys +")
	if x := b.number(mapS1 + ".scrollLeft / (" + mapS1 + ".scrollWidth - " + mapS1 + ".clientWidth)"); math.Abs(x-0.5) > 0.05 {
		t.Errorf("the middle of the map went to %.2f", x)
	}
	left := b.number(mapS1 + ".scrollLeft")
	b.press("ArrowRight", 39, "")
	for n := 0; b.number(mapS1+".scrollLeft") <= left; n++ {
		if b.frame(); n > 100 {
			t.Fatal("an arrow does not move the map")
		}
	}
	b.press("-", 189, "-")
	size(1.5, "a key -")
	b.press("0", 48, "0")
	size(1, "a key 0")
	button := func(how string) { b.click(`document.querySelector("#S1 [data-zoom=` + how + `]")`) }
	button("in")
	size(1.5, "the button +")
	button("out")
	button("out")
	size(1, "two buttons −")
	button("in")
	button("fit")
	size(1, "the button of the whole sheet")

	wheel := func(keys int) {
		b.call("Input.dispatchMouseEvent", map[string]any{"type": "mouseWheel", "x": 600, "y": 500, "deltaX": 0, "deltaY": -120, "modifiers": keys}, nil)
		b.frame()
	}
	const ctrl = 2
	wheel(ctrl)
	size(1.5, "the wheel with Ctrl")
	wheel(0)
	size(1.5, "the wheel alone")

	// Dragged by 60 dots to the left, and that is no click on the panel under it.
	const panel = `document.querySelector("#S1 .place path")`
	b.eval(panel + `.scrollIntoView({block: "center", inline: "center"})`)
	b.frame()
	x, y := b.middle(panel)
	left = b.number(mapS1 + ".scrollLeft")
	for n, kind := range []string{"mousePressed", "mouseMoved", "mouseMoved", "mouseReleased"} {
		buttons := 1
		if kind == "mouseReleased" {
			buttons = 0
		}
		b.call("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": x - float64(30*min(n, 2)), "y": y, "button": "left", "buttons": buttons, "clickCount": 1}, nil)
	}
	if moved := b.number(mapS1+".scrollLeft") - left; math.Abs(moved-60) > 1 {
		t.Errorf("the map moved by %.0f, want 60", moved)
	}
	if got := b.marked(); got != "0 0 0" {
		t.Errorf("dragging marked %s", got)
	}
	if b.complaints != nil {
		t.Error(b.complaints)
	}
}

// Without scripts links lead to a panel, mark it and lead back, and a choice of sizes
// enlarges the map.
func TestWithoutScripts(t *testing.T) {
	t.Parallel()
	d := exporttest.Dossier(t, exporttest.Stands(), kerf.Saw)
	r := spread(t, d)
	id := r.Sheets[0]
	row, place := byID(svgmap.RowID(r)), byID(svgmap.KindID(id, r))
	b := launch(t, 1200, 900)
	b.scripts(false)
	b.open(write(t, d), "#panels")
	if got := b.eval(`document.documentElement.className + document.querySelector(".tools").hidden`); got != "true" {
		t.Fatalf("the script ran: %s", got)
	}
	width := func(e string) float64 {
		return b.number(`parseFloat(getComputedStyle(` + e + `.querySelector("path")).strokeWidth)`)
	}
	fill := func(e string) string { return b.eval(`getComputedStyle(` + e + `).fill`) }
	bare := width(place)
	link := row + `.querySelector("a[href='#` + svgmap.KindID(id, r) + `']")`
	b.click(link)
	b.frame()
	if got := fill(place + `.querySelector("path")`); got != "rgb(255, 210, 77)" || width(place) == bare || !b.seen(place) {
		t.Errorf("a link of the list leads to a panel filled %s, in sight: %t", got, b.seen(place))
	}
	b.click(place + `.querySelector("path")`)
	b.frame()
	if !b.seen(row) || b.eval(`getComputedStyle(`+row+`.cells[1]).borderTopWidth`) != "3px" {
		t.Errorf("a panel of the map does not lead to its row, or does not mark it; in sight: %t", b.seen(row))
	}
	// The same by keys: from where a link leads the next stop is on that sheet.
	b.eval(link + ".focus()")
	b.press("Enter", 13, "\r")
	b.frame()
	b.press("Tab", 9, "")
	if got := b.eval(`document.activeElement.closest(".sheet").id`); got != id {
		t.Errorf("the key Tab goes from a panel on %s to one on %s", id, got)
	}
	mapOf := `document.querySelector("#` + id + ` .map")`
	b.eval(byID(id) + ".scrollIntoView()")
	for _, n := range []float64{2, 4, 8, 1} {
		b.click(fmt.Sprintf(`document.querySelector("#%s input[value='%g']")`, id, n))
		b.frame()
		if got := b.number(mapOf + `.firstElementChild.getBoundingClientRect().width / ` + mapOf + `.clientWidth`); math.Abs(got-n) > 0.03*n {
			t.Errorf("%g times is %.2f times", n, got)
		}
	}
}

// The page asks for nothing but itself, and runs no script but its own, wherever
// another one comes from.
func TestPolicy(t *testing.T) {
	t.Parallel()
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	page := write(t, d)
	b := launch(t, 1200, 900)
	b.open(page, "")
	if n := b.eval(`performance.getEntriesByType("resource").length`); n != "0" || b.complaints != nil {
		t.Errorf("the page asked for %s things; %q", n, b.complaints)
	}
	foreign := `<script>document.title = "foreign"</script><img src="https://example.org/x.png" alt="" onerror="document.title = 'foreign'"></main>`
	b.open(strings.Replace(page, "</main>", foreign, 1), "")
	if title := b.eval("document.title"); title == "foreign" || len(b.complaints) < 2 {
		t.Errorf("a foreign script ran, or nothing was refused: %q", b.complaints)
	}
	if b.eval(`document.documentElement.className`) != "scripted" {
		t.Error("the page's own script did not run")
	}
}

// On a phone nothing makes the page wider than the window.
func TestPhone(t *testing.T) {
	t.Parallel()
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Saw)
	b := launch(t, 390, 844)
	for _, on := range []bool{false, true} {
		b.scripts(on)
		b.open(write(t, d), "#"+svgmap.RowID(&d.Panels[0]))
		b.frame()
		if w := b.number("document.documentElement.scrollWidth"); w > 390 {
			t.Errorf("scripts %t: the page is %.0f wide on a window of 390", on, w)
		}
	}
}
