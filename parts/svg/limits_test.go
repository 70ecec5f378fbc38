package svg

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"panelyard/parts/drawing"
)

// The limits, at and beyond, and the time they take.
func TestLimits(t *testing.T) {
	rep := strings.Repeat
	const unit = `<rect width="1" height="1"/>`
	groups := func(n int) string { return rep("<g>", n) + unit + rep("</g>", n) }
	chain := func(n int) string { // of uses
		s := `<defs><rect id="u0" width="1" height="1"/>`
		for i := 1; i < n; i++ {
			s += fmt.Sprintf(`<use id="u%d" href="#u%d"/>`, i, i-1)
		}
		return s + fmt.Sprintf(`</defs><use href="#u%d"/>`, n-1)
	}
	tenfold := func(inner string) string {
		s := `<defs><g id="g0">` + inner + `</g>`
		for i := 1; i <= 12; i++ {
			s += fmt.Sprintf(`<g id="g%d">%s</g>`, i, rep(fmt.Sprintf(`<use href="#g%d"/>`, i-1), 10))
		}
		return s + `</defs><use href="#g12"/>`
	}
	often := func(def string) string { // as often as may be
		return `<defs>` + def + `</defs>` + rep(`<use href="#a"/>`, 45_000)
	}
	long := rep("x", 1<<20)
	attributes := ""
	for i := range MaxAttributes - 2 {
		attributes += fmt.Sprintf(` a%d=""`, i)
	}
	for _, c := range []struct{ name, body, want string }{
		{"most elements", rep(unit, MaxElements-1), ""},
		{"too many elements", rep(unit, MaxElements), "more than 100000 elements"},
		{"most when used", often(`<rect id="a" width="1" height="1"/>`), ""},
		{"too many when used", often(`<g id="a"><rect width="1" height="1"/></g>`), "more than 100000 elements when those that are used are counted each time"},
		{"deepest", groups(MaxDepth - 2), ""},
		{"deeper", groups(MaxDepth - 1), "more than 100 deep"},
		{"deeper, in another namespace", "<x:a xmlns:x='urn:x'>" + rep("<x:a>", MaxDepth) + rep("</x:a>", MaxDepth) + "</x:a>", "more than 100 deep"},
		{"most uses in each other", chain(MaxUses), ""},
		{"more uses in each other", chain(MaxUses + 1), "is used in more than 16 others"},
		{"ten to the twelfth", tenfold(unit), "when those that are used"},
		{"ten to the twelfth, empty", tenfold(""), "when those that are used"},
		{"ten to the twelfth, faulty", tenfold(`<path d="x"/>`), "when those that are used"},
		{"ten to the twelfth, of symbols", strings.NewReplacer("<g ", "<symbol ", "</g>", "</symbol>").Replace(tenfold("")), "when those that are used"},
		{"most attributes", `<rect width="1" height="1"` + attributes + `/>`, ""},
		{"more attributes", `<rect width="1" height="1"` + attributes + ` b=""/>`, "has 251 attributes, 250 at most"},
		{"too many segments in a path", `<path d="M0 0` + rep("h1", drawing.MaxSegments+1) + `"/>`, "1000001 segments"},
		{"too many points", `<polygon points="` + rep("0 ", 2*drawing.MaxSegments+1) + `"/>`, "more than 2000000 numbers"},
		{"too many segments when used", often(`<path id="a" d="M0 0` + rep("h1v1", 1000) + `z"/>`), "more than 1000000 segments"},
		{"a fine curve", `<path d="M0 0C3e4 3e4 -3e4 3e4 0 0z"/>`, ""},
		{"a curve out of reach", `<path d="M0 0C3e4 3e6 -3e4 3e6 0 0z"/>`, "further than 33.5 m"},
		{"a long path used often", often(`<path id="a" d="` + rep(" ", 1<<20) + `M0 0"/>`), ""},
		{"a long faulty path used often", often(`<path id="a" d="M0 0` + rep("h1", 1<<19) + `x"/>`), "where a command belongs"},
		{"a long path that goes far, used often", often(`<path id="a" d="M0 0` + rep("h1", 1<<19) + `h1e9"/>`), "further than 33.5 m"},
		{"long names used often", often(`<g id="`+long+`"><title>`+long+`</title></g><rect id="a" class="`+long+`" fill="`+long+`" style="fill:`+long+`" width="1" height="1"><title>`+long+`</title></rect>`) + unit, ""},
		{"a long transform used often", often(`<rect id="a" width="1" height="1" transform="` + rep("scale(1)", maxTransforms) + `"/>`), ""},
		{"a long text used often", often(`<text id="a">`+long+`</text>`) + unit, ""},
		{"a long id that is missing", `<use href="#` + long + `"/>`, "has an href of 1048577 characters"},
		{"a long measure", `<rect width="` + rep("1", maxValue+1) + `" height="1"/>`, "1001 characters, 1000 at most"},
		{"a long number", `<rect width="` + rep("1", maxDigits+1) + `" height="1"/>`, "a number of 101 characters, 100 at most"},
		{"a long viewBox", `<svg viewBox="0 0 1 1` + rep(" ", maxValue) + `"/>`, "viewBox: has 1007 characters"},
		{"a long word for the aspect", `<svg viewBox="0 0 1 1" preserveAspectRatio="` + long + `"/>`, "preserveAspectRatio: \"xxx"},
		{"many kinds", func() string {
			s := ""
			for i := range 5000 {
				s += fmt.Sprintf("<kind%d/>", i)
			}
			return s + unit
		}(), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := []byte(sheet(c.body))
			start := time.Now()
			d, list := Read("a", src, Options{})
			e := time.Since(start)
			if e > 20*time.Second { // a loaded machine
				t.Errorf("took %v", e)
			}
			t.Logf("%d bytes in %v", len(src), e)
			if c.want == "" && d == nil {
				t.Errorf("refused: %.500s", list.Error())
			}
			if c.want != "" && (d != nil || !strings.Contains(list.Error(), c.want)) {
				t.Errorf("%.500s, want %q", list.Error(), c.want)
			}
			if len(list.Error()) > 100_000 {
				t.Errorf("the findings have %d bytes", len(list.Error()))
			}
		})
	}
}

// 64 MiB, at and beyond, without keeping the file.
func TestSize(t *testing.T) {
	name := filepath.Join(t.TempDir(), "large.svg")
	src := sheet(`<circle r="1"/>`)
	if err := os.WriteFile(name, []byte(src+strings.Repeat("\n", MaxBytes-len(src))), 0o644); err != nil {
		t.Fatal(err)
	}
	if d, list := ReadFile(name, Options{}); list.Err() != nil || len(d.Pieces) != 1 {
		t.Error(list)
	}
	if err := os.Truncate(name, MaxBytes+1); err != nil {
		t.Fatal(err)
	}
	if _, list := ReadFile(name, Options{}); !strings.Contains(list.Error(), "is larger than 64 MiB") {
		t.Error(list)
	}
	if _, list := ReadFile(filepath.Dir(name), Options{}); !strings.Contains(list.Error(), "cannot be read") {
		t.Error(list)
	}
	if _, list := Read("a", make([]byte, MaxBytes+1), Options{}); !strings.Contains(list.Error(), "is larger than 64 MiB") {
		t.Error(list)
	}
}
