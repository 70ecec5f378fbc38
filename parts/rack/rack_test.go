package rack

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/partstest"
)

const mm = length.Millimetre

// board returns a piece of the museum's birch plywood.
func board(l, w length.Length) Piece {
	return Piece{Material: "birch 18", Length: l * mm, Width: w * mm, Grain: AlongLength}
}

// read reads a rack that has no mistake.
func read(t *testing.T, src string) *Rack {
	t.Helper()
	r, list := Read("rack.csv", []byte(src))
	if r == nil {
		t.Fatal(list)
	}
	return r
}

func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// same compares pieces, their places aside.
func same(a, b []Piece) string {
	return cmp.Diff(a, b, cmpopts.IgnoreFields(Piece{}, "Pos"), cmpopts.EquateEmpty())
}

// Each good rack has beside it what is read from it, and is written back as it was.
func TestGood(t *testing.T) {
	files, err := filepath.Glob("testdata/good/*.csv")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d racks, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src := must[[]byte](t)(os.ReadFile(file))
			r, list := Read(filepath.Base(file), src)
			if r == nil {
				t.Fatal(list)
			}
			if !bytes.Equal(r.Bytes(), src) {
				t.Errorf("written back as\n%q, was\n%q", r.Bytes(), src)
			}
			var b strings.Builder
			for _, p := range r.Pieces() {
				fmt.Fprintf(&b, "%+v\n", p)
			}
			fmt.Fprintf(&b, "highest %d, plans %v\n%v\n", r.highest, r.plans, list.Error())
			// A row more, as a person will find it below the others.
			must[Piece](t)(r.Add(Piece{Material: "birch 18", Thickness: 18 * mm, Length: 900 * mm, Width: 300*mm + mm/8, Grain: AlongWidth, Price: 12_500, Priced: true}))
			b.WriteString("-- and one more\n" + strings.ReplaceAll(string(r.Bytes()), "\r", "<CR>"))
			partstest.Golden(t, strings.TrimSuffix(file, ".csv")+".want", b.String())
		})
	}
}

// Each bad rack has its findings beside it: all mistakes, with place, fact and remedy.
func TestBad(t *testing.T) {
	files, err := filepath.Glob("testdata/bad/*.csv")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d racks, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			r, list := Read(filepath.Base(file), must[[]byte](t)(os.ReadFile(file)))
			if r != nil || list.Err() == nil {
				t.Fatal("a bad rack was accepted")
			}
			for _, f := range list {
				if f.Fact == "" || f.Remedy == "" {
					t.Errorf("no remedy: %v", f)
				}
			}
			partstest.Golden(t, strings.TrimSuffix(file, ".csv")+".want", list.Error())
		})
	}
}

func TestNew(t *testing.T) {
	for _, unit := range []length.Unit{length.MM, length.CM, length.M, length.IN, length.FT} {
		r := New(unit)
		p := board(620, 410)
		p.Thickness = 18*mm + 1 // not a round number of anything
		p = must[Piece](t)(r.Add(p))
		if p.Label != "R1" {
			t.Errorf("%s: the first label is %q", unit.Name, p.Label)
		}
		if diff := same([]Piece{p}, read(t, string(r.Bytes())).Pieces()); diff != "" {
			t.Errorf("%s: %s", unit.Name, diff)
		}
	}
}

// A length is read back as it was written, in every unit and with both decimal marks.
func TestDecimal(t *testing.T) {
	for _, unit := range []length.Unit{length.MM, length.CM, length.M, length.IN, length.FT} {
		for _, comma := range []bool{false, true} {
			for l := MinSide; l < length.Max; l += l/3 + 7 {
				r := New(unit)
				r.comma = comma
				p := must[Piece](t)(r.Add(Piece{Label: "A", Material: "birch 18", Length: l, Width: l + 1}))
				if got := read(t, string(r.Bytes())).Pieces()[0]; got.Length != p.Length || got.Width != p.Width {
					t.Fatalf("%v in %s, comma %v: %v x %v", l, unit.Name, comma, got.Length, got.Width)
				}
			}
		}
	}
}

// A label that is given is never given again, whoever takes the board and however: by
// the program, and by hand as long as the line with the highest label stays.
func TestLabels(t *testing.T) {
	r := New(length.MM)
	add := func(p Piece) string { return must[Piece](t)(r.Add(p)).Label }
	if got := add(board(600, 400)) + add(board(600, 400)); got != "R1R2" {
		t.Fatal(got)
	}
	must[[]Piece](t)(r.Take("r2"))
	r = read(t, string(r.Bytes()))
	if got := add(board(600, 400)); got != "R3" {
		t.Errorf("after R2 was taken: %s", got)
	}
	text := string(r.Bytes())
	r = read(t, text[:strings.LastIndex(text, "\nR3")+1]) // its row was removed by hand
	if got := add(board(600, 400)); got != "R4" {
		t.Errorf("after R3 was removed by hand: %s", got)
	}
	p := board(600, 400)
	for _, l := range []string{"R20", "left door", "r0050"} {
		p.Label = l
		add(p)
	}
	if got := add(board(600, 400)); got != "R51" {
		t.Errorf("after a label of one's own: %s", got)
	}
	// The same board comes back under its old label.
	p.Label = "R2"
	add(p)
	p.Label = "r2"
	if _, err := r.Add(p); err == nil || !strings.Contains(err.Error(), "the label is taken") {
		t.Errorf("R2 and r2: %v", err)
	}
	p.Label = "R999999999"
	add(p)
	if _, err := r.Add(board(600, 400)); err == nil || !strings.Contains(err.Error(), "no label is left") {
		t.Errorf("after the last number: %v", err)
	}
}

// What is wrong with a piece is said at once, and the rack stays as it was.
func TestAddMistakes(t *testing.T) {
	r := New(length.MM)
	before := string(r.Bytes())
	p := Piece{Label: strings.Repeat("x", MaxLabel+1), Length: 4 * mm, Width: -mm, From: "a\nb", Note: strings.Repeat("n", MaxNote+1)}
	_, err := r.Add(p)
	var list diag.List
	if !errors.As(err, &list) || len(list) != 6 {
		t.Errorf("%d mistakes: %v", len(list), err)
	}
	p = board(600, 400)
	p.Note = "a blank at the end "
	if _, err := r.Add(p); err == nil || !strings.Contains(err.Error(), "white space") {
		t.Errorf("%v", err)
	}
	if got := string(r.Bytes()); got != before {
		t.Errorf("the rack is now %s", got)
	}
}

func TestTakeMistakes(t *testing.T) {
	r := New(length.MM)
	if _, err := r.Take("R1"); err == nil || !strings.Contains(err.Error(), "the rack is empty") {
		t.Error(err)
	}
	for range 25 {
		must[Piece](t)(r.Add(board(600, 400)))
	}
	before := string(r.Bytes())
	_, err := r.Take("R3", "R31", "", "door")
	var list diag.List
	if !errors.As(err, &list) || len(list) != 3 || !strings.Contains(list[0].Remedy, `did you mean "R11"`) {
		t.Errorf("%v", err)
	}
	if string(r.Bytes()) != before {
		t.Error("a piece was taken")
	}
	if taken := must[[]Piece](t)(r.Take("R3", " r3", "R3")); len(taken) != 1 {
		t.Errorf("%d pieces have the label R3", len(taken))
	}
}

// Texts that a spreadsheet program takes for formulas, and ones that look like our own
// marks, come back as they were, also where they begin a row.
func TestSigns(t *testing.T) {
	r := read(t, "note,from,label,material,length (mm),width (mm)\n")
	for _, s := range []string{"=1+1", "+49", "-5", "@SUM", "#3", "# highest label: R99", "'tis", "''", "'=1", "＝1", `"#`, "a;b,c\td", `\.`, `the 1/2" one`, "two\nlines", "#a\nb"} {
		p := board(600, 400)
		p.Grain, p.Note = Unknown, s
		if !strings.Contains(s, "\n") && !strings.Contains(s, "\t") {
			p.From, p.Label = s, s
		}
		must[Piece](t)(r.Add(p))
	}
	again := read(t, string(r.Bytes()))
	if diff := same(r.Pieces(), again.Pieces()); diff != "" {
		t.Error(diff)
	}
	for c := range strings.Lines(string(r.Bytes())) {
		if strings.ContainsAny(c[:1], "=+-@") {
			t.Errorf("a spreadsheet program sees a formula in %q", c)
		}
	}
}

// A column that the file does not have comes behind the cells of every row.
func TestAddColumn(t *testing.T) {
	r := read(t, "label,material,length (mm),width (mm)\nR1,birch 18,600,400,mine\nR2,birch 18,600,400,mine,too\n")
	p := board(500, 300)
	p.Note, p.Thickness = "dry", 18*mm
	p = must[Piece](t)(r.Add(p))
	text := string(r.Bytes())
	if !strings.Contains(text, "R2,birch 18,600,400,mine,too\n") {
		t.Errorf("a row was changed: %s", text)
	}
	again, list := Read("rack.csv", []byte(text))
	if again == nil || len(list) != 2 || len(again.Pieces()) != 3 {
		t.Fatalf("%v\n%s", list, text)
	}
	if diff := same([]Piece{p}, again.Pieces()[2:]); diff != "" || again.Pieces()[0].Grain != Unknown {
		t.Errorf("%s\n%s", diff, text)
	}
}

func TestHolds(t *testing.T) {
	p := board(600, 400)
	for _, c := range []struct {
		l, w length.Length
		want bool
	}{{600, 400, true}, {400, 600, true}, {601, 1, false}, {1, 601, false}, {500, 401, false}, {0, 0, true}, {0, 600, true}} {
		if got := p.Holds(c.l*mm, c.w*mm); got != c.want {
			t.Errorf("%v x %v: %v", c.l, c.w, got)
		}
	}
}

// The limits are those of the package comment.
func TestLimits(t *testing.T) {
	head := "label,material,length (mm),width (mm)\n"
	rows := func(n int) []byte {
		var b bytes.Buffer
		b.WriteString(head)
		for i := range n {
			fmt.Fprintf(&b, "R%d,birch 18,600,400\n", i+1)
		}
		return b.Bytes()
	}
	r, list := Read("rack.csv", rows(MaxPieces))
	if r == nil {
		t.Fatal(list)
	}
	if _, err := r.Add(board(600, 400)); err == nil || !strings.Contains(err.Error(), "as many as") {
		t.Errorf("a piece more: %v", err)
	}
	for name, src := range map[string][]byte{
		"pieces": rows(MaxPieces + 1),
		"lines":  []byte(head + strings.Repeat("#\n", MaxLines)),
		"bytes":  []byte(head + strings.Repeat("#", MaxBytes)),
	} {
		if r, list := Read("rack.csv", src); r != nil || len(list) != 1 {
			t.Errorf("%s: %v", name, list)
		}
	}
}

// racks returns the racks of testdata, good and bad.
func racks(t testing.TB) [][]byte {
	t.Helper()
	files, err := filepath.Glob("testdata/*/*.csv")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d racks, %v", len(files), err)
	}
	var list [][]byte
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, src)
	}
	return list
}
