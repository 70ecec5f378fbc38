package diag

import "strings"

// Nearest returns the word within two edits of s, fewer than half its letters, or "". It
// is for remedies: did you mean. Case counts as an edit only between words that are
// otherwise as near. Cost: len(words) times the square of their length, which is cut at
// 40 letters.
func Nearest(s string, words []string) string {
	best, word := 6, ""
	for _, w := range words {
		d := 2 * edits([]rune(strings.ToLower(s)), []rune(strings.ToLower(w)))
		if d >= len([]rune(w)) {
			continue
		}
		if !strings.EqualFold(s, w) || s == w {
			d++ // the same word in another case is nearest
		}
		if d < best {
			best, word = d, w
		}
	}
	return word
}

// edits is the Levenshtein distance of short words (folklore, in one row).
func edits(a, b []rune) int {
	if len(a) > 40 || len(b) > 40 {
		return max(len(a), len(b))
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j := range b {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
