package arc

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Ratio is the width of a picture to its height, in whole numbers: 16 to 9. It is
// kept as it was written: 1920 to 1080 is the same shape, see [Ratio.Same].
type Ratio struct{ Width, Height int64 }

// proportion matches two decimal numbers.
var proportion = regexp.MustCompile(`^(\d{1,5})(?:\.(\d{1,3}))?\s*[:x×/]\s*(\d{1,5})(?:\.(\d{1,3}))?$`)

// maxSlender bounds the sides of a picture to each other.
const maxSlender = 100

// ParseRatio reads a ratio: `16:9`, `2.39:1`, or the pixels of a picture, `3440x1440`.
// Width and height are 0.001 to 99,999.999 and at most a hundred to one.
func ParseRatio(s string) (Ratio, error) {
	m := proportion.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return Ratio{}, fmt.Errorf("%.40q is not a ratio: write width:height, such as 16:9", s)
	}
	decimals := max(len(m[2]), len(m[4]))
	var sides [2]int64
	for i := range sides {
		whole, fraction := m[1+2*i], m[2+2*i]
		// Eight digits at most.
		sides[i], _ = strconv.ParseInt(whole+fraction+strings.Repeat("0", decimals-len(fraction)), 10, 64)
	}
	r := Ratio{sides[0], sides[1]}
	switch {
	case r.Width == 0 || r.Height == 0:
		return Ratio{}, fmt.Errorf("%.40q is not a ratio: neither side can be 0", s)
	case r.Width > maxSlender*r.Height || r.Height > maxSlender*r.Width:
		return Ratio{}, fmt.Errorf("%.40q is more than %d to 1: no display is that slender", s, maxSlender)
	}
	return r, nil
}

// Same reports whether two ratios are the same shape.
func (r Ratio) Same(q Ratio) bool { return r.Width*q.Height == q.Width*r.Height }

// String returns the ratio: 16:9.
func (r Ratio) String() string { return fmt.Sprintf("%d:%d", r.Width, r.Height) }

// Size returns width and height of a flat picture with a diagonal: that of the
// picture alone, without the rim around it. The error is a [diag.List].
func (r Ratio) Size(diagonal length.Length) (width, height length.Length, err error) {
	var list diag.List
	inRange(&list, "diagonal", diagonal)
	if r.Width <= 0 || r.Height <= 0 {
		list.Add(diag.Pos{}, "ratio", "a ratio has two sides above 0", "give one such as 16:9")
	}
	if err := list.Err(); err != nil {
		return 0, 0, err
	}
	w, h := float64(r.Width), float64(r.Height)
	k := float64(diagonal) / math.Hypot(w, h)
	return length.Length(math.Round(k * w)), length.Length(math.Round(k * h)), nil
}

// Diagonal returns the diagonal of a flat picture. The error is a [diag.List].
func Diagonal(width, height length.Length) (length.Length, error) {
	var list diag.List
	inRange(&list, "width", width)
	inRange(&list, "height", height)
	d := length.Length(math.Round(math.Hypot(float64(width), float64(height))))
	if len(list) == 0 {
		inRange(&list, "diagonal", d)
	}
	return d, list.Err()
}

// inRange adds a mistake unless a length is above 0 and at most length.Max.
func inRange(list *diag.List, name string, l length.Length) {
	switch {
	case l <= 0:
		list.Add(diag.Pos{}, name, fmt.Sprintf("the %s is not above 0", name), "give what is measured, or what the data sheet says")
	case l > length.Max:
		list.Add(diag.Pos{}, name, fmt.Sprintf("the %s is longer than %v", name, length.Max), "give a smaller display")
	}
}

// Screen returns the arc of a display that is curved across its width, both ways
// its data sheet may mean the width: along the curve (developed), and straight
// across (the chord). Data sheets differ and seldom say; a measured chord decides.
// The error is a [diag.List].
func Screen(radius, width length.Length) (along, across Arc, err error) {
	if along, err = Solve(Known{Radius: radius, Length: width}); err == nil {
		across, err = Solve(Known{Radius: radius, Chord: width})
	}
	if err != nil {
		return Arc{}, Arc{}, asWidth(err)
	}
	return along, across, nil
}

// asWidth gives findings on the length or the chord the name the caller knows.
func asWidth(err error) error {
	var list diag.List
	if !errors.As(err, &list) {
		return err
	}
	for i := range list {
		if p := &list[i].Part; *p == OfLength.String() || *p == OfChord.String() {
			*p = "width"
		}
	}
	return list
}

// Depth returns the depth a cabinet must leave for a curved display: its body and
// the rise of its curve. The error is a [diag.List].
func Depth(body length.Length, a Arc) (length.Length, error) {
	var list diag.List
	inRange(&list, "body", body)
	if d := body + a.Rise; len(list) == 0 {
		inRange(&list, "depth", d)
	}
	return body + a.Rise, list.Err()
}

// ParseRadius reads a radius: a length as [length.Parse] does, or a number with R as
// displays are sold, always in millimetres: `1800R`. The error says what is wrong
// with s.
func ParseRadius(s string, def length.Unit) (length.Length, error) {
	t := strings.TrimSpace(s)
	if n := len(t) - 1; n > 0 && (t[n] == 'R' || t[n] == 'r') && strings.Trim(t[:n], "0123456789") == "" {
		return length.Parse(t[:n], length.MM)
	}
	return length.Parse(s, def)
}
