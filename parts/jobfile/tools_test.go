package jobfile

import (
	"strings"
	"testing"
)

// Panels may share blanks unless the job says no.
func TestShareBlanks(t *testing.T) {
	const job = "job: A\nmaterials: [{name: mdf, thickness: 12}]\nstock: [{name: s, length: 2440, width: 1220}]\npanels: [{name: lid, length: 60, width: 30}]\ntools: {saw: {share_blanks: VALUE}}\n"
	for value, own := range map[string]bool{"yes": false, "no": true, "": false, "~": false} {
		if j := read(t, strings.Replace(job, "VALUE", value, 1)); j.Saw.OwnBlanks != own {
			t.Errorf("share_blanks: %s: own blanks %t", value, j.Saw.OwnBlanks)
		}
	}
	_, list := Read("a.yaml", []byte(strings.Replace(job, "VALUE", "2", 1)))
	if err := list.Err(); err == nil || !strings.Contains(err.Error(), "share_blanks") {
		t.Errorf("share_blanks: 2: %v", err)
	}
}
