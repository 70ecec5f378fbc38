package partslist

import (
	"strings"

	"panelyard/parts/length"
)

// format is what the number format of a cell says of its value.
type format struct {
	date    bool
	percent bool
	unit    length.Unit // zero when it shows none
}

// formatsOf returns the formats by style of a cell.
func formatsOf(s *stylesXML) []format {
	codes := map[int]string{}
	for _, f := range s.Formats {
		codes[f.ID] = f.Code
	}
	list := make([]format, len(s.Cells))
	for i, c := range s.Cells {
		if code, ok := codes[c.Format]; ok {
			list[i] = readFormat(code)
		} else {
			list[i] = format{date: builtinDate(c.Format), percent: c.Format == 9 || c.Format == 10}
		}
	}
	return list
}

// builtinDate reports whether a format that every program knows by its number shows
// a date or a time (ECMA-376 part 1, 18.8.30: 14 to 22 and 45 to 47; 27 to 36 and
// 50 to 58 in the languages of East Asia).
func builtinDate(id int) bool {
	return id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58
}

// readFormat reads the code of a number format (ECMA-376 part 1, 18.8.31). Text in
// it stands in quotes or behind a backslash: 0.0" mm" shows a unit. Of the sections
// for positive, negative, zero and text the first counts.
func readFormat(code string) format {
	var f format
	var shown strings.Builder
	letters := ""
	runes := []rune(code)
	for i := 0; i < len(runes); i++ {
		switch c := runes[i]; c {
		case '"':
			for i++; i < len(runes) && runes[i] != '"'; i++ {
				shown.WriteRune(runes[i])
			}
		case '\\':
			if i++; i < len(runes) {
				shown.WriteRune(runes[i])
			}
		case '_', '*':
			i++ // a blank as wide as the next sign, or that sign repeated
		case '[':
			start := i + 1
			for i < len(runes) && runes[i] != ']' {
				i++
			}
			// Elapsed time; others are colours, conditions and languages.
			if s := strings.ToLower(string(runes[start:min(i, len(runes))])); s != "" && strings.Trim(s, "hms") == "" {
				f.date = true
			}
		case ';':
			i = len(runes)
		default:
			letters += strings.ToLower(string(c))
		}
	}
	letters = strings.ReplaceAll(letters, "general", "")
	f.date = f.date || strings.ContainsAny(letters, "ymdhs")
	f.percent = strings.Contains(letters, "%")
	if u, ok := unitOf(shown.String()); ok && !f.date {
		f.unit = u
	}
	return f
}
