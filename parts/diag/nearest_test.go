package diag

import (
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	for _, c := range []struct{ s, words, want string }{
		{"tickness", "width depth thickness", "thickness"},
		{"widht", "depth width", "width"},
		{"Width", "width depth", "width"},
		{"width", "WIDTH Width", "WIDTH"}, // equally near: the first
		{"gap", "cap GAP", "GAP"},         // another case is nearer than another letter
		{"wide", "width", "width"},
		{"höhe", "höhen tiefe", "höhen"}, // letters, not bytes
		{"hohe", "höhe", "höhe"},
		{"x", "y z", ""},        // nothing is near a letter
		{"abc", "abd", "abd"},   // one letter of three
		{"ab", "ac", ""},        // half its letters
		{"height", "width", ""}, // three edits
		{"", "a ab abc", ""},    // more than half
		{"width", "", ""},
	} {
		if got := Nearest(c.s, strings.Fields(c.words)); got != c.want {
			t.Errorf("nearest to %q of %s is %q, want %q", c.s, c.words, got, c.want)
		}
	}
	long := strings.Repeat("x", 10000)
	if got := Nearest(long, []string{long[1:]}); got != "" {
		t.Error("long words are compared")
	}
}
