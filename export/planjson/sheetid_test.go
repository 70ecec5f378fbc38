package planjson_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/export/planjson"
)

// withIDs returns a plan of empty sheets with the given IDs.
func withIDs(t *testing.T, ids ...string) []byte {
	t.Helper()
	d := planjson.Document{Format: planjson.Format, Version: planjson.Version}
	for _, id := range ids {
		d.Sheets = append(d.Sheets, planjson.Sheet{ID: id})
	}
	src, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	return src
}

// IDs that would write a file elsewhere, or break a name, a page or a drawing, are
// refused, each with its sheet and a remedy, all at once.
func TestUnsafeIDs(t *testing.T) {
	nasty := []string{
		"", " ", "S 1", "../S1", "..", ".", ".S1", "/etc/S1", `C:\S1`, "S1/", "S1:2", "S*", "S?", "S|1", "S1\n", "S1\x00", "S1\t",
		`S"1`, "S'1", "S<1>", "S&1", "S1#", "S%2e", "1S", "-S1", "_S1", "Säge", "Ѕ1", "S1\u202e", "🪵", "=S1",
		"S" + strings.Repeat("1", planjson.MaxID), strings.Repeat("long", 1000),
	}
	_, err := planjson.Read(bytes.NewReader(withIDs(t, append(nasty, "S1")...)))
	if err == nil {
		t.Fatal("all are accepted")
	}
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != len(nasty) {
		t.Fatalf("%d findings of %d IDs:\n%v", len(lines), len(nasty), err)
	}
	for i, line := range lines {
		if !strings.HasPrefix(line, fmt.Sprintf("sheet %d: the ID ", i+1)) || !strings.Contains(line, ": use a letter, then") || len(line) > 400 {
			t.Errorf("%q: %s", nasty[i], line)
		}
	}
}

// Safe IDs are accepted, and are names in a path and in XML, as the standard library
// reads those.
func TestSafeIDs(t *testing.T) {
	ids := []string{"S1", "S2", "s-3", "Sheet_4.b", "S" + strings.Repeat("9", planjson.MaxID-1)}
	if _, err := planjson.Read(bytes.NewReader(withIDs(t, ids...))); err != nil {
		t.Fatal(err)
	}
	for _, id := range ids {
		if !filepath.IsLocal(id+".svg") || filepath.Base(id) != id {
			t.Errorf("%q is no name of a file", id)
		}
		dec := xml.NewDecoder(strings.NewReader("<" + id + "/>"))
		for {
			if _, err := dec.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%q is no name in XML: %v", id, err)
			}
		}
	}
}

// Two sheets of one ID would write one file; some systems do not tell S1 from s1.
func TestSameIDs(t *testing.T) {
	_, err := planjson.Read(bytes.NewReader(withIDs(t, "S1", "S2", "s1", "S2")))
	if want := "sheet 3: the ID \"s1\" is that of sheet 1: give each sheet one of its own\nsheet 4: the ID \"S2\" is that of sheet 2: give each sheet one of its own"; err == nil || err.Error() != want {
		t.Errorf("error %v", err)
	}
}

// The sheets of panels that were cut before are looked at, too.
func TestUnsafeDone(t *testing.T) {
	d := planjson.Document{Format: planjson.Format, Version: planjson.Version, Done: []planjson.Done{{Part: "shelf", Copy: 2, Sheet: "../S1"}, {Part: "shelf", Copy: 1, Sheet: "S1"}}}
	src, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	_, err = planjson.Read(bytes.NewReader(src))
	if err == nil || !strings.HasPrefix(err.Error(), `panel "shelf" copy 2, which is cut: the ID "../S1"`) || strings.Contains(err.Error(), "\n") {
		t.Errorf("error %v", err)
	}
}
