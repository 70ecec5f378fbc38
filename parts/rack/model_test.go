package rack

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"panelyard/parts/length"
	"panelyard/parts/money"
)

// someText draws texts that are hard on CSV, trimmed as a rack keeps them.
func someText() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		words := rapid.SliceOfN(rapid.SampledFrom([]string{"oak", " ", ",", ";", `"`, "=", "-", "#", "'", "é", "½", "R7", "highest label: R9", "sep=;"}), 0, 6)
		return strings.TrimSpace(strings.Join(words.Draw(t, "words"), ""))
	})
}

func somePiece() *rapid.Generator[Piece] {
	return rapid.Custom(func(t *rapid.T) Piece {
		side := rapid.Int64Range(int64(MinSide), int64(length.Max))
		p := Piece{
			Material: "birch 18", Length: length.Length(side.Draw(t, "length")), Width: length.Length(side.Draw(t, "width")),
			Thickness: length.Length(rapid.Int64Range(0, 50*int64(mm)).Draw(t, "thickness")),
			Grain:     rapid.SampledFrom([]Grain{Unknown, AlongLength, AlongWidth, None}).Draw(t, "grain"),
			Priced:    rapid.Bool().Draw(t, "priced"), Date: someText().Draw(t, "date"), From: someText().Draw(t, "from"), Note: someText().Draw(t, "note"),
		}
		if p.Priced {
			p.Price = money.Amount(rapid.Int64Range(0, int64(money.Max)).Draw(t, "price"))
		}
		return p
	})
}

// A rack under any sequence of adding, taking, keeping and reading again does what a
// plain list does, loses no line that is not its own, and gives no label twice.
func TestModel(t *testing.T) {
	heads := []string{
		"# mine\nlabel,material,length (mm),width (mm)\n",
		"note;shelf;label;material;width (in);length (in);thickness (in)\n\n# mine, \"too\nend;;;;;;\n",
		"\ufeffsep=\t\r\n# mine\r\nprice\tlabel\tmaterial\tthickness (cm)\tlength (cm)\twidth (m)\tgrain\tfrom\tdate\tnote",
	}
	rapid.Check(t, func(t *rapid.T) {
		head := rapid.SampledFrom(heads).Draw(t, "head")
		head = strings.Replace(head, "end;;;;;;\n", "", 1)
		r, list := Read("rack.csv", []byte(head))
		if r == nil {
			t.Fatal(list)
		}
		var model []Piece
		given := map[string]bool{}
		kept := map[string]bool{}
		add := func(p Piece) {
			if given[p.Label] {
				t.Fatalf("%s was given before", p.Label)
			}
			given[p.Label] = true
			model = append(model, p)
		}
		take := func(label string) {
			model = slices.DeleteFunc(model, func(p Piece) bool { return p.Label == label })
		}
		t.Repeat(map[string]func(*rapid.T){
			"add": func(t *rapid.T) {
				p, err := r.Add(somePiece().Draw(t, "piece"))
				if err != nil {
					t.Fatal(err)
				}
				add(p)
			},
			"take": func(t *rapid.T) {
				if len(model) == 0 {
					t.Skip("empty")
				}
				label := model[rapid.IntRange(0, len(model)-1).Draw(t, "which")].Label
				if _, err := r.Take(strings.ToLower(label)); err != nil {
					t.Fatal(err)
				}
				take(label)
			},
			"keep": func(t *rapid.T) {
				p := Plan{Digest: fmt.Sprintf("%016x", rapid.IntRange(0, 9).Draw(t, "plan")), Name: someText().Draw(t, "job"), Date: today}
				p.Kept = rapid.SliceOfN(somePiece(), 0, 3).Draw(t, "kept")
				if len(model) > 0 {
					p.Used = append(p.Used, model[rapid.IntRange(0, len(model)-1).Draw(t, "used")])
				}
				k, err := r.Keep(p)
				if err != nil {
					t.Fatal(err)
				}
				if kept[p.Digest] != (k.Since == today) {
					t.Fatalf("kept %v, since %q", kept[p.Digest], k.Since)
				}
				if kept[p.Digest] {
					return
				}
				kept[p.Digest] = true
				if len(p.Used) > 0 {
					take(p.Used[0].Label)
				}
				for _, a := range k.Added {
					add(a)
				}
			},
			"read again": func(t *rapid.T) {
				text := r.Bytes()
				again, list := Read("rack.csv", text)
				if again == nil {
					t.Fatalf("%v\n%s", list, text)
				}
				if !bytes.Equal(again.Bytes(), text) {
					t.Fatalf("%q\nis written back as\n%q", text, again.Bytes())
				}
				r = again
			},
			"": func(t *rapid.T) {
				if diff := same(model, r.Pieces()); diff != "" {
					t.Fatal(diff)
				}
				if !strings.Contains(string(r.Bytes()), "# mine") {
					t.Fatal("a comment was lost")
				}
			},
		})
	})
}

// Whatever is in a file, reading it ends, and what is read is written back as it was
// and takes another piece.
func FuzzRead(f *testing.F) {
	for _, file := range racks(f) {
		f.Add(file)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		start := time.Now()
		r, list := Read("fuzz.csv", src)
		if d := time.Since(start); d > 5*time.Second {
			t.Fatalf("took %v", d)
		}
		if (r == nil) != (list.Err() != nil) {
			t.Fatalf("rack %v, findings %v", r != nil, list)
		}
		if r == nil {
			return
		}
		if !bytes.Equal(r.Bytes(), src) {
			t.Fatalf("%q is written back as %q", src, r.Bytes())
		}
		before := r.Pieces()
		p, err := r.Add(Piece{Material: "birch 18", Thickness: 18 * mm, Length: 620 * mm, Width: 410 * mm, Grain: AlongWidth, Price: 1, Priced: true, Date: today, From: "=", Note: "#\n'"})
		if err != nil {
			if len(before) < MaxPieces && r.highest < maxNumber {
				t.Fatal(err)
			}
			return
		}
		again, list := Read("fuzz.csv", r.Bytes())
		if again == nil {
			if len(r.lines) > MaxLines || len(r.Bytes()) > MaxBytes {
				return
			}
			t.Fatalf("%v\n%q", list, r.Bytes())
		}
		if diff := same(append(before, p), again.Pieces()); diff != "" {
			t.Fatalf("%s\n%q", diff, r.Bytes())
		}
	})
}
