package rack

import (
	"strings"
	"testing"

	"panelyard/parts/length"
)

const today = "2026-11-25"

// The digest is the SHA-256 (FIPS 180-4) of the content; that of {} was computed with
// the program sha256sum of GNU coreutils: printf '{}' | sha256sum.
func TestDigest(t *testing.T) {
	digest := must[string](t)
	if got := digest(Digest([]byte(" {\n}\n"))); got != "44136fa355b3678a" {
		t.Error(got)
	}
	a := digest(Digest([]byte(`{"a": 1.50, "b": ["x"]}`)))
	for src, equal := range map[string]bool{
		"{\r\n\t\"b\":[\"x\"],\"a\":1.50}": true,
		`{"a": 1.5, "b": ["x"]}`:           false, // a number is what is written
		`{"a": 1.50, "b": ["y"]}`:          false,
		`{"a": 1.50, "b": [["x"]]}`:        false,
	} {
		if got := digest(Digest([]byte(src))); (got == a) != equal {
			t.Errorf("%s: %s and %s", src, got, a)
		}
	}
	if _, err := Digest([]byte("plan")); err == nil {
		t.Error("no JSON has a digest")
	}
}

func TestKeep(t *testing.T) {
	r := New(length.MM)
	for range 3 {
		must[Piece](t)(r.Add(board(600, 400)))
	}
	used := func(label, material string, l, w length.Length) Piece {
		return Piece{Label: label, Material: material, Length: l * mm, Width: w * mm, From: "S1"}
	}
	left := board(300, 200)
	left.From = "tide-table kiosk S1"
	plan := Plan{
		Digest: "0123456789abcdef", Name: "tide-table; \"kiosk\"\n, 2", Date: today, Kept: []Piece{left, board(500, 120)},
		Used: []Piece{
			used("S3, piece 1", "birch 18", 2440, 1220), // of no rack
			used("r1", "birch 18", 600, 400),
			used("R2", "birch 18", 2440, 1220), // a sheet that happens to be called so
			used("R3", "MDF 18", 600, 400),
			used("R9", "birch 18", 600, 400), // taken by hand
		},
	}
	k := must[Kept](t)(r.Keep(plan))
	if k.Since != "" || len(k.Removed) != 1 || k.Removed[0].Label != "R1" || len(k.Warnings) != 2 {
		t.Errorf("%+v", k)
	}
	if len(k.Added) != 2 || k.Added[0].Label != "R4" || k.Added[0].Date != today || k.Added[1].Label != "R5" {
		t.Errorf("added %+v", k.Added)
	}
	text := string(r.Bytes())
	if !strings.HasSuffix(text, "# plan 0123456789abcdef, put in 2026-11-25: tide-table kiosk 2\n") {
		t.Errorf("%s", text)
	}
	// Once, also after the file was read again and the pieces have gone.
	again := read(t, text)
	must[[]Piece](t)(again.Take("R4", "R5"))
	again = read(t, string(again.Bytes()))
	before := string(again.Bytes())
	if k := must[Kept](t)(again.Keep(plan)); k.Since != today || len(k.Added)+len(k.Removed) > 0 || string(again.Bytes()) != before {
		t.Errorf("the second time: %+v", k)
	}
	// A mistake leaves the rack as it was, the used pieces included.
	bad := Plan{Digest: "00000000000000ff", Date: today, Used: []Piece{used("R2", "birch 18", 600, 400)}, Kept: []Piece{board(600, 400), board(-1, 400)}}
	if k, err := again.Keep(bad); err == nil || string(again.Bytes()) != before || len(k.Removed) > 0 {
		t.Errorf("%+v, %v", k, err)
	}
}

// A board that was measured again after the plan is still the same board.
func TestKeepRemeasured(t *testing.T) {
	r := New(length.MM)
	must[Piece](t)(r.Add(board(600, 400)))
	plan := Plan{Digest: "0123456789abcdef", Date: today, Used: []Piece{{Label: "R1", Material: "birch 18", Length: 605 * mm, Width: 395 * mm}}}
	if k := must[Kept](t)(r.Keep(plan)); len(k.Removed) != 1 || len(k.Warnings) != 0 {
		t.Errorf("%+v", k)
	}
}

// What is left is worked out to 1/8 micrometre, and kept as a rule measures it, never
// larger: 135.401375 mm are 135.4, and 5.33076 in, of which 5 21/64 (5.328125) is the last
// 1/64 before it.
func TestKeepRuled(t *testing.T) {
	side := 135*mm + 401*length.Micrometre + 3*length.Micrometre/8
	left := board(0, 0)
	left.Length, left.Width = 420*mm-length.Micrometre, side
	for unit, want := range map[length.Unit][2]string{length.MM: {"419.9", "135.4"}, length.IN: {"16.53125", "5.328125"}} {
		r := New(unit)
		k := must[Kept](t)(r.Keep(Plan{Digest: "0123456789abcdef", Date: today, Kept: []Piece{left}}))
		got := k.Added[0]
		if decimal(got.Length, unit) != want[0] || decimal(got.Width, unit) != want[1] || got.Length > left.Length || got.Width > side {
			t.Errorf("%v x %v, want %v", got.Length, got.Width, want)
		}
		if text := string(r.Bytes()); !strings.Contains(text, want[1]) || strings.Contains(text, "135.401") {
			t.Errorf("%s", text)
		}
	}
}

// The same job planned again has sheets of the same names: both boards are put in, and
// a warning tells that they may be one.
func TestKeepTwin(t *testing.T) {
	r := New(length.MM)
	left := func(l length.Length) Piece {
		p := board(l, 200)
		p.From = "tide-table kiosk S1"
		return p
	}
	// Two equal offcuts of one sheet are two boards, without a doubt.
	first := must[Kept](t)(r.Keep(Plan{Digest: "0000000000000001", Date: today, Kept: []Piece{left(500), left(500)}}))
	if len(first.Added) != 2 || len(first.Warnings) != 0 {
		t.Errorf("%+v", first)
	}
	second := must[Kept](t)(r.Keep(Plan{Digest: "0000000000000002", Date: today, Kept: []Piece{left(500), left(501), board(500, 200)}}))
	if len(second.Added) != 3 || len(second.Warnings) != 1 || !strings.Contains(second.Warnings.Error(), `"R3": R1 has the same size`) {
		t.Errorf("%+v", second)
	}
}

// What is too small for a rack is told and stops nothing else.
func TestKeepSmall(t *testing.T) {
	r := New(length.MM)
	k := must[Kept](t)(r.Keep(Plan{Digest: "0123456789abcdef", Date: today, Kept: []Piece{board(400, 3), board(500, 120)}}))
	if len(k.Added) != 1 || len(k.Warnings) != 1 || !strings.Contains(k.Warnings.Error(), "too small") {
		t.Errorf("%+v", k)
	}
}
