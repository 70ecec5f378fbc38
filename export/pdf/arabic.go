package pdf

import (
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// forms are the shapes of an Arabic letter in Unicode's blocks of presentation forms,
// where they stand one after another: isolated, final, and for a letter that joins the
// next one initial and medial.
type forms struct {
	first rune
	count int
}

// arabic returns the forms by letter; of lam and the alef behind it, by both. They are
// taken from the blocks: the compatibility decomposition of a form is its letter.
var arabic = sync.OnceValue(func() map[string]forms {
	m := map[string]forms{}
	for _, block := range [][2]rune{{0xFB50, 0xFBB1}, {0xFBD3, 0xFBE9}, {0xFBFC, 0xFBFF}, {0xFE80, 0xFEFC}} {
		for r := block[0]; r <= block[1]; r++ {
			letter := norm.NFKC.String(string(r))
			if x, seen := m[letter]; seen && r == x.first+rune(x.count) {
				x.count++
				m[letter] = x
			} else if !seen {
				m[letter] = forms{r, 1}
			}
		}
	}
	return m
})

// joined gives Arabic letters the forms that their neighbours ask for (The Unicode
// Standard, section 9.2, rules of cursive joining; of the ligatures only the one that
// is never left out, lam with alef). Marks between letters are passed over. A form the
// face lacks leaves the letter as it is.
func joined(s string, has func(rune) bool) string {
	in := []rune(s)
	var letters []string // a letter, or lam and alef
	for i := 0; i < len(in); i++ {
		l := string(in[i])
		if i+1 < len(in) {
			if _, ok := arabic()[l+string(in[i+1])]; ok && in[i] == 'ل' {
				l += string(in[i+1])
				i++
			}
		}
		letters = append(letters, l)
	}
	// reaches reports whether a letter joins the one behind it, and takes whether it
	// joins the one before it.
	reaches := func(l string) bool { return arabic()[l].count >= 4 || l == "\u0640" }
	takes := func(l string) bool { return arabic()[l].count >= 2 || l == "\u0640" }
	next := func(i, step int) string {
		for i += step; i >= 0 && i < len(letters); i += step {
			if r := []rune(letters[i]); !unicode.Is(unicode.Mn, r[0]) {
				return letters[i]
			}
		}
		return ""
	}
	out := ""
	for i, l := range letters {
		x, ok := arabic()[l]
		if !ok {
			out += l
			continue
		}
		before := takes(l) && reaches(next(i, -1))
		after := reaches(l) && takes(next(i, +1))
		form := x.first
		switch {
		case before && after:
			form += 3
		case after:
			form += 2
		case before:
			form++
		}
		if has(form) {
			l = string(form)
		}
		out += l
	}
	return out
}
