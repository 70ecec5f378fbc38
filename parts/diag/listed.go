package diag

import "fmt"

// MaxFindings is how many findings of a file are listed; a file with more has one
// cause.
const MaxFindings = 200

// Listed sorts the findings of a file and returns what is listed of them: when
// there are too many, mistakes before warnings, and a warning how many are not.
func (l List) Listed(file string) List {
	l.Sort()
	more := len(l) - MaxFindings
	if more <= 0 {
		return l
	}
	mistakes, warnings := l.Split()
	mistakes = mistakes[:min(len(mistakes), MaxFindings)]
	warnings = warnings[:min(len(warnings), MaxFindings-len(mistakes))]
	l = append(mistakes, warnings...)
	l.Sort()
	l.Warn(Pos{File: file}, "", fmt.Sprintf("%d more findings are not listed", more), "begin with the first ones")
	return l
}
