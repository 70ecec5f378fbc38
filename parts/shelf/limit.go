package shelf

import (
	"fmt"
	"sort"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Limit is how far a shelf may sag: Sag for every Per of its span.
type Limit struct{ Sag, Per length.Length }

// The limits of the trade.
const (
	// UsualOver is n of the usual limit of a hundred and forty-fourth of the span
	// (Architectural Woodwork Standards, first edition, 1.2.21.3).
	UsualOver = 144
	// StrictPerFoot is the stricter habit: 0.02 in a foot of span, a trade body's page.
	StrictPerFoot = length.Inch / 50
)

// Over returns the limit of span/n.
func Over(n int) Limit { return Limit{1, length.Length(n)} }

// PerFoot returns the limit of a sag a foot of span.
func PerFoot(sag length.Length) Limit { return Limit{sag, length.Foot} }

// check adds a mistake unless the limit is from a tenth of the span, beyond which
// the estimate does not hold, to a hundred-thousandth of it.
func (l Limit) check(list *diag.List) {
	const least, most = 10, 100_000
	if l.Sag <= 0 || l.Per <= 0 || l.Per > length.Max || l.Sag > l.Per/least || l.Per/most > l.Sag {
		list.Add(diag.Pos{}, "limit", fmt.Sprintf("the sag %v for %v of span is no limit for a shelf", l.Sag, l.Per),
			fmt.Sprintf("use span/%d to span/%d", least, most))
	}
}

// Allowed returns the sag that is allowed over a span, rounded down. Both are up to
// [length.Max]; Per is not 0.
func (l Limit) Allowed(span length.Length) length.Length { return span * l.Sag / l.Per }

// MaxSpan returns the largest span over which s, whatever its own Span, sags no
// more than the limit in the long run; [length.Max] when every span does. A Creep
// of 0 gives the span for the sag at once. The error is a [diag.List].
func (s Shelf) MaxSpan(load Load, limit Limit) (length.Length, error) {
	list := s.check(load)
	limit.check(&list)
	if err := list.Err(); err != nil {
		return 0, err
	}
	b, ratio := s.beam(load), float64(limit.Sag)/float64(limit.Per)
	// The sag grows faster than the span, so the first span that is too long has
	// all shorter ones below it.
	first := sort.Search(int(length.Max), func(i int) bool {
		span := length.Length(i + 1).MM()
		return b.sag(span)*(1+s.Creep) > span*ratio
	})
	if first == 0 {
		list.Add(diag.Pos{}, "load", "no span keeps the limit", "take a thicker or stiffer board, or less load")
		return 0, list
	}
	return length.Length(first), nil
}
