package dxf

import (
	"strings"
	"testing"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
)

// Codes in texts, as the published format describes them (from memory).
func TestTextCodes(t *testing.T) {
	for in, want := range map[string]string{
		"side":              "side",
		"%%c35%%d%%p1%%%":   "⌀35°±1%",
		"%%uleft%%u %%o%%k": "left ", "%%065%%": "A", "%%": "", "%%x": "x", "50%": "50%", "%%999": "999",
	} {
		if got := plain(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	for in, want := range map[string]string{
		`{\fSans|b0|i0;tide \H3x;table}`: "tide table",
		`a\Pb\~c\\d\{e\}`:                "a\nb c\\d{e}",
		`\A1;\C3;18\S1/2; \S3^4;\S5#6;`:  "181/2 3/45/6",
		`\LLine\l \Oo\o \Kk\k`:           "Line o k",
		`a^Ib^Jc^ d`:                     "a b\nc^d",
		`\pi1,l2;text`:                   "text",
		`\S1`:                            "1",
		`\S;x`:                           "x",
		`\H3`:                            "",
		`\`:                              `\`,
		`\z`:                             `\z`,
		`%%c8`:                           "⌀8",
	} {
		if got := unformatted(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	r := &reader{}
	for in, want := range map[string]string{
		`Gr\U+00F6\U+00dFe`: "Größe", `\U+`: `\U+`, `\U+12`: `\U+12`, `\U+00E`: `\U+00E`, `\U+ZZZZ`: `\U+ZZZZ`, "a\xffb": "a\ufffdb",
		`\U+D83E\U+DEB5 shelf`: "🪵 shelf", `\U+D83E!`: "\ufffd!", `\U+D83E\U+0041`: "\ufffdA",
	} {
		if got := r.decoded(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

// The character set is that of version and code page.
func TestCharacters(t *testing.T) {
	in := func(encode func(string) (string, error), s string) string {
		out, err := encode(s)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	utf8 := func(s string) (string, error) { return s, nil }
	sjis, cp1251, cp1252 := japanese.ShiftJIS.NewEncoder().String, charmap.Windows1251.NewEncoder().String, charmap.Windows1252.NewEncoder().String
	for _, c := range []struct {
		name, version, page string
		encode              func(string) (string, error)
		text                string
		warns               bool
	}{
		{"UTF-8", "AC1027", "ANSI_1252", utf8, "Türe Щ 側", false},
		{"UTF-8 though old", "AC1015", "ANSI_1252", utf8, "Türe Щ 側", false},
		{"UTF-8 without a header", "", "", utf8, "Türe", false},
		{"1252", "AC1015", "ANSI_1252", cp1252, "Türe", false},
		{"1251", "AC1009", "ansi_1251", cp1251, "Щит", false},
		{"932", "AC1018", "ANSI_932", sjis, "側板", false},
		{"new, but not UTF-8", "AC1032", "ANSI_1251", cp1251, "Щит", false},
		{"unknown page", "AC1015", "KIOSK", cp1252, "Türe", true},
		{"no page", "AC1015", "", cp1252, "Türe", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := entities("0", "TEXT", "8", in(c.encode, c.text), "10", "0", "20", "0", "1", in(c.encode, c.text))
			if c.version != "" {
				src = strings.Replace(src, "9\n$INSUNITS", "9\n$ACADVER\n1\n"+c.version+"\n9\n$DWGCODEPAGE\n3\n"+c.page+"\n9\n$INSUNITS", 1)
			}
			d, list := Read("a", []byte(src), Options{})
			if list.Err() != nil || d.Texts[0].Content != c.text || d.Texts[0].Layer != c.text {
				t.Errorf("%+v, %v", d, list)
			}
			if (len(list) > 0) != c.warns {
				t.Error(list)
			}
		})
	}
}
