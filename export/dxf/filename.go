package dxf

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"panelyard/export"
)

// maxFileName is the most bytes of a name of a file that come from the panel's own
// name (our own choice: the longest paths that some systems take are 260).
const maxFileName = 60

// FileNames returns a name of a file for each panel, without an extension: safe with
// any extension on the file systems in use, and on a controller that reads ASCII
// only. They are letters, digits and single - and _, differ in more than capitals,
// and depend on the names and keys of the rows only. Letters lose their accents;
// what has no letter or digit of ASCII is called panel and its key. Of several that
// would be alike the later ones get a number.
func FileNames(rows []export.PanelRow) []string {
	taken := map[string]bool{}
	next := map[string]int{} // the number to try after each name
	names := make([]string, len(rows))
	for i := range rows {
		name := plainName(rows[i].Name)
		switch {
		case name == "":
			name = "panel-" + plainName(rows[i].Key)
		case reserved(name):
			name = "panel-" + name
		}
		names[i] = name
		low := strings.ToLower(name)
		for n := max(2, next[low]); taken[strings.ToLower(names[i])]; n++ {
			names[i] = fmt.Sprintf("%s-%d", name, n)
			next[low] = n + 1
		}
		taken[strings.ToLower(names[i])] = true
	}
	return names
}

// plainName returns what a name has of letters and digits of ASCII, the rest as
// single dashes.
func plainName(s string) string {
	var b strings.Builder
	gap := false
	for _, c := range norm.NFD.String(s) {
		switch {
		case unicode.Is(unicode.Mn, c): // an accent
			continue
		case c > unicode.MaxASCII || !unicode.IsLetter(c) && !unicode.IsDigit(c) && c != '_':
			gap = true
			continue
		}
		if gap && b.Len() > 0 {
			b.WriteByte('-')
		}
		gap = false
		b.WriteRune(c)
		if b.Len() >= maxFileName {
			break
		}
	}
	return b.String()
}

// reserved reports whether a name is that of a device on some systems, whatever its
// extension: CON, PRN, AUX, NUL, COM0 to COM9, LPT0 to LPT9 (published rules for
// names of files, from memory).
func reserved(name string) bool {
	name = strings.ToUpper(name)
	switch name {
	case "CON", "PRN", "AUX", "NUL":
		return true
	}
	port := strings.HasPrefix(name, "COM") || strings.HasPrefix(name, "LPT")
	return port && len(name) == 4 && name[3] >= '0' && name[3] <= '9'
}
