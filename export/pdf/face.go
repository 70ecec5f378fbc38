package pdf

import (
	"fmt"
	"sync"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/dejavu/dejavusansbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Face is a face of text.
type Face int

// The faces: DejaVu Sans, chosen because it has the signs that drawings need (⌀, ×, ½,
// arrows) beside the letters of Europe and Arabic and Hebrew.
const (
	Regular Face = iota
	Bold
)

// family is the name of the faces within a document.
const family = "DejaVu"

// style returns the library's name of a face.
func (f Face) style() string {
	if f == Bold {
		return "B"
	}
	return ""
}

// data returns the font file of a face.
func (f Face) data() []byte {
	if f == Bold {
		return dejavusansbold.TTF
	}
	return dejavusans.TTF
}

// faces are the parsed fonts, of which widths are taken.
var faces = sync.OnceValue(func() (list [2]*sfnt.Font) {
	for f := range list {
		var err error
		if list[f], err = sfnt.Parse(Face(f).data()); err != nil {
			panic(fmt.Sprintf("the embedded font cannot be read: %v", err))
		}
	}
	return list
})

// has reports whether a face has a character. The library knows no characters beyond
// U+FFFF.
func (f Face) has(r rune) bool {
	if r > 0xFFFF {
		return false
	}
	i, err := faces()[f].GlyphIndex(nil, r)
	return err == nil && i != 0
}

// advance returns the width of a character of size 1; 0 when the face lacks it.
func (f Face) advance(r rune) float64 {
	face := faces()[f]
	i, err := face.GlyphIndex(nil, r)
	if err != nil || i == 0 {
		return 0
	}
	em := fixed.I(int(face.UnitsPerEm()))
	w, err := face.GlyphAdvance(nil, i, em, font.HintingNone)
	if err != nil {
		return 0
	}
	return float64(w) / float64(em)
}

// Width returns the width of a line of text in mm, its size in mm. Cost: O(len(s)).
func Width(s string, size float64, f Face) float64 {
	w := 0.0
	for _, r := range f.visual(s) {
		w += f.advance(r)
	}
	return w * size
}
