package arc

import (
	"strings"
	"testing"

	"panelyard/parts/length"
)

func TestParseRatio(t *testing.T) {
	for in, want := range map[string]Ratio{
		"16:9": {16, 9}, " 32 : 9 ": {32, 9}, "3440x1440": {3440, 1440}, "2560×1080": {2560, 1080}, "1920/1080": {1920, 1080},
		"2.39:1": {239, 100}, "1.5:1.25": {150, 125}, "0.001:0.001": {1, 1}, "100:1": {100, 1}, "99999.999:99999.999": {99_999_999, 99_999_999},
	} {
		if got, err := ParseRatio(in); err != nil || got != want {
			t.Errorf("ParseRatio(%q) = %v, %v, want %v", in, got, err, want)
		}
	}
	// Pixels and ratios of data sheets.
	if p := (Ratio{3440, 1440}); !p.Same(Ratio{43, 18}) || p.Same(Ratio{21, 9}) || p.String() != "3440:1440" {
		t.Errorf("%v is 43:18, not 21:9", p)
	}
	for _, in := range []string{"", "16", "16:", ":9", "16:9:3", "-16:9", "0:9", "16:0", "a:b", "101:1", "1:101", "1e3:1", strings.Repeat("9", 200)} {
		if got, err := ParseRatio(in); err == nil {
			t.Errorf("ParseRatio(%q) = %v, want an error", in, got)
		}
	}
}

func TestParseRadius(t *testing.T) {
	for in, want := range map[string]length.Length{
		"1800R": 1800 * mm, "1500r": 1500 * mm, " 4200R ": 4200 * mm, "70.5": 70*length.Inch + length.Inch/2, "6 ft": 6 * length.Foot,
	} {
		if got, err := ParseRadius(in, length.IN); err != nil || got != want {
			t.Errorf("ParseRadius(%q) = %v, %v, want %v", in, got, err, want)
		}
	}
	for _, in := range []string{"R", "", "1.8R", "-1800R", "R1800", "99999R", "1800RR"} {
		if got, err := ParseRadius(in, length.MM); err == nil {
			t.Errorf("ParseRadius(%q) = %v, want an error", in, got)
		}
	}
}

// Mistakes about displays.
func TestDisplayMistakes(t *testing.T) {
	r := Ratio{16, 9}
	for _, c := range []struct {
		name string
		err  error
		want []string
	}{
		{"no diagonal", size(r, 0), []string{"diagonal: the diagonal is not above 0"}},
		{"no diagonal, no ratio", size(Ratio{}, -1), []string{"diagonal: the diagonal is not above 0", "ratio: a ratio has two sides"}},
		{"giant", size(r, length.Max+1), []string{"longer than 33554.432 mm"}},
		{"no sides", diagonal(0, -1), []string{"width: the width is not above 0", "height: the height is not above 0"}},
		{"sides too long together", diagonal(length.Max, length.Max), []string{"diagonal: the diagonal is longer"}},
		{"a width round the circle", screen(100*mm, 629*mm), []string{"width: the length 629.000 mm is not less than the whole circle"}},
		{"a width across more than the circle", screen(100*mm, 300*mm), []string{"radius: the radius 100.000 mm is less than half the chord"}},
		{"no body", depth(0, Arc{Rise: mm}), []string{"body: the body is not above 0"}},
		{"too deep", depth(length.Max, Arc{Rise: mm}), []string{"depth: the depth is longer"}},
	} {
		if c.err == nil {
			t.Errorf("%s: no error", c.name)
			continue
		}
		for _, want := range c.want {
			if !strings.Contains(c.err.Error(), want) || !strings.Contains(c.err.Error(), "remedy: ") {
				t.Errorf("%s: %v, want %q with a remedy", c.name, c.err, want)
			}
		}
	}
}

func size(r Ratio, d length.Length) error { _, _, err := r.Size(d); return err }
func diagonal(w, h length.Length) error   { _, err := Diagonal(w, h); return err }
func screen(r, w length.Length) error     { _, _, err := Screen(r, w); return err }
func depth(b length.Length, a Arc) error  { _, err := Depth(b, a); return err }
