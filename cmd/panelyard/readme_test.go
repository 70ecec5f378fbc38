package main

import (
	"bytes"
	"flag"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// The picture in the README is what the demo draws.
func TestReadmePicture(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors fuse multiplications and additions, and may find another plan that is as good")
	}
	picture, err := filepath.Abs("../../testdata/readme/sheet-map.svg")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	var errs bytes.Buffer
	if code := run([]string{"demo"}, streams{out: io.Discard, err: &errs}); code != exitDone {
		t.Fatalf("demo: exit code %d\n%s", code, errs.String())
	}
	got, err := os.ReadFile(filepath.Join(demoDir, "saw", "maps", "S1.svg"))
	if err != nil {
		t.Fatal(err)
	}
	if flag.Lookup("update").Value.String() == "true" { // the flag is that of partstest
		if err := os.MkdirAll(filepath.Dir(picture), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(picture, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(picture)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("the demo draws another map: run go test ./cmd/panelyard -run Picture -update and look at it")
	}
}
