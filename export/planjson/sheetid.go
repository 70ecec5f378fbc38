package planjson

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
)

// MaxID is how many characters the ID of a sheet has at most.
const MaxID = 40

// safeID is what is safe as a part of a file's name, as an XML name without a
// namespace (W3C, "Namespaces in XML 1.0", NCName) and as an ID in a page, all of which
// the papers of a plan make of it. Fewer letters than those allow.
var safeID = regexp.MustCompile(fmt.Sprintf(`^[A-Za-z][A-Za-z0-9_.-]{0,%d}$`, MaxID-1))

const safeIDs = "use a letter, then letters, digits, - _ or . (a to z, 40 in all), such as S2"

// checkIDs looks at the IDs of sheets, which come from a file that others may have
// changed. The error lists those that are not safe, and those that some file systems
// do not tell apart.
func (d *Document) checkIDs() error {
	var errs []error
	first := map[string]int{}
	for i := range d.Sheets {
		id := d.Sheets[i].ID
		if !safeID.MatchString(id) {
			errs = append(errs, fmt.Errorf("sheet %d: the ID %.60q is not safe in names of files: %s", i+1, id, safeIDs))
			continue
		}
		folded := strings.ToLower(id)
		if n, twice := first[folded]; twice {
			errs = append(errs, fmt.Errorf("sheet %d: the ID %q is that of sheet %d: give each sheet one of its own", i+1, id, n))
			continue
		}
		first[folded] = i + 1
	}
	for _, x := range d.Done {
		if !safeID.MatchString(x.Sheet) {
			errs = append(errs, fmt.Errorf("panel %.60q copy %d, which is cut: the ID %.60q of its sheet is not safe in names of files: %s", x.Part, x.Copy, x.Sheet, safeIDs))
		}
	}
	return errors.Join(errs...)
}
