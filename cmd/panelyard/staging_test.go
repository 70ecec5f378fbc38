package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/export/exporttest"
	"panelyard/kerf"
)

// tree returns what lies in a folder: the content of each file by its path.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, _ := filepath.Rel(dir, path)
		if d.IsDir() {
			files[name] = "a folder"
			return nil
		}
		data, err := os.ReadFile(path)
		files[name] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// sameTree compares what lies in a folder with what did.
func sameTree(t *testing.T, what string, got, want map[string]string) {
	t.Helper()
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s: %s is gone or another", what, name)
		}
	}
	for name := range got {
		if _, ok := want[name]; !ok {
			t.Errorf("%s: %s was left", what, name)
		}
	}
}

// written are the papers of a run: its name in each of them.
func written(t *testing.T, dir, run string) *folder {
	t.Helper()
	f, err := newFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(f.stage, "maps"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"plan.json", "cutlist.csv", "report.html", "maps/S1.svg"} {
		err := f.write(name, func(w io.Writer) error {
			_, err := fmt.Fprintf(w, `{"format": %q, "run": %q}`, f.kind.format, run)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return f
}

// placed puts the papers of a run into a folder.
func placed(t *testing.T, dir, run string) {
	t.Helper()
	f := written(t, dir, run)
	defer f.discard()
	if err := f.place(); err != nil {
		t.Fatal(err)
	}
}

var errDisk = errors.New("no space left on device")

// failAt returns a rename that fails once, at call n.
func failAt(n int, calls *int) func(from, to string) error {
	return func(from, to string) error {
		if *calls++; *calls == n+1 {
			return errDisk
		}
		return os.Rename(from, to)
	}
}

// A disk that fails at document n, for all n: the papers before stay whole, nothing is
// left, and the error names document and folder.
func TestWriteFails(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Router)
	wish := usualPapers()
	if err := wish.check(); err != nil {
		t.Fatal(err)
	}
	for _, before := range []bool{true, false} {
		dir := filepath.Join(t.TempDir(), "papers")
		var want map[string]string
		if before {
			placed(t, dir, "first")
			want = tree(t, dir)
		}
		failed := true
		for n := 0; failed; n++ {
			f, err := newFolder(dir)
			if err != nil {
				t.Fatal(err)
			}
			calls, name := 0, ""
			f.writeFile = func(file string, data []byte, mode fs.FileMode) error {
				if calls++; calls == n+1 {
					name = filepath.Base(file)
					half := os.WriteFile(file, data[:len(data)/2], mode)
					return errors.Join(half, &fs.PathError{Op: "write", Path: file, Err: errDisk})
				}
				return os.WriteFile(file, data, mode)
			}
			err = f.papers(d, wish)
			f.discard()
			if failed = name != ""; !failed {
				if err != nil || n < 15 {
					t.Errorf("%d documents written: %v", n, err)
				}
				break
			}
			if !errors.Is(err, errDisk) || !strings.Contains(err.Error(), name) || !strings.Contains(err.Error(), dir) {
				t.Errorf("document %d, %s: error %v", n, name, err)
			}
			if _, err := os.Stat(dir); !before && err == nil {
				t.Errorf("document %d: the folder for papers that did not come is left", n)
			} else if before {
				sameTree(t, name, tree(t, dir), want)
			}
		}
	}
}

// A rename that fails, for all of them: everything is moved back.
func TestPlaceFails(t *testing.T) {
	dir := t.TempDir()
	placed(t, dir, "first")
	placed(t, dir, "second")
	want := tree(t, dir)
	for n := 0; ; n++ {
		f := written(t, dir, "third")
		calls := 0
		f.rename = failAt(n, &calls)
		err := f.place()
		f.discard()
		if err == nil {
			if calls != n || n < 8 {
				t.Errorf("placed with %d renames, %d failed", calls, n)
			}
			break
		}
		if !errors.Is(err, errDisk) {
			t.Errorf("rename %d: %v", n, err)
		}
		sameTree(t, fmt.Sprintf("rename %d", n), tree(t, dir), want)
	}
	for name, run := range map[string]string{"plan.json": "third", "previous/1/plan.json": "first", "previous/2/maps/S1.svg": "second"} {
		if got := tree(t, dir)[name]; !strings.Contains(got, run) {
			t.Errorf("%s holds %q, want the papers of the %s run", name, got, run)
		}
	}
}

// A program that dies at rename n, for all n: the next one finds either the papers
// before, all in their place, or the new ones and those before in previous. Nothing of
// the dead one is left, and what looks like a staging folder and is none stays.
func TestDeath(t *testing.T) {
	for _, before := range []bool{true, false} {
		undone, finished := 0, 0
		for n, died := 0, true; died; n++ {
			dir := t.TempDir()
			other := filepath.Join(dir, stagePrefix+"notes")
			if err := errors.Join(os.Mkdir(other, 0o755), os.WriteFile(filepath.Join(other, "mine"), nil, 0o644)); err != nil {
				t.Fatal(err)
			}
			if before {
				placed(t, dir, "first")
			}
			old := tree(t, dir)
			f := written(t, dir, "second")
			died = dies(f, n)
			f.life.Unlock() // what the system does for a dead program
			next, err := newFolder(dir)
			if err != nil {
				t.Fatalf("after death at rename %d: %v", n, err)
			}
			next.discard()
			got := tree(t, dir)
			if strings.Contains(got["plan.json"], "second") {
				finished++
				moved := map[string]string{".": got["."], stagePrefix + "notes": "a folder", stagePrefix + "notes/mine": ""}
				for name, text := range old {
					if name != "." && !strings.HasPrefix(name, stagePrefix) {
						moved[filepath.Join(previous, "1", name)] = text
						moved[name] = strings.Replace(text, "first", "second", 1)
					}
				}
				if before {
					moved[previous], moved[filepath.Join(previous, "1")] = "a folder", "a folder"
				} else {
					for _, name := range []string{"plan.json", "cutlist.csv", "report.html", "maps", "maps/S1.svg"} {
						moved[name] = got[name]
					}
				}
				sameTree(t, fmt.Sprintf("death at rename %d", n), got, moved)
				continue
			}
			undone++
			sameTree(t, fmt.Sprintf("death at rename %d", n), got, old)
		}
		t.Log(undone, "undone,", finished, "finished")
		// Four papers out and four in, before each of which it died, and after the last;
		// then it did not.
		if want := map[bool]int{true: 5, false: 1}[before]; undone != want || finished != 5 {
			t.Errorf("%d undone, want %d; %d finished, want 5", undone, want, finished)
		}
	}
}

// dies places papers and stops at rename n as a killed program does. It reports
// whether it came to that.
func dies(f *folder, n int) (died bool) {
	calls := 0
	f.rename = func(from, to string) error {
		if calls == n {
			panic(errDisk)
		}
		err := os.Rename(from, to)
		if err == nil {
			calls++
		}
		return err
	}
	defer func() { died = recover() != nil }()
	if err := f.place(); err != nil {
		panic(err)
	}
	return false
}

// The staging folder of a program that lives is left alone, whoever comes; both runs
// put their papers there, one after the other.
func TestTwoAtATime(t *testing.T) {
	dir := t.TempDir()
	first := written(t, dir, "first")
	defer first.discard()
	second := written(t, dir, "second")
	defer second.discard()
	third, err := newFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	third.discard()
	if err := errors.Join(first.place(), second.place()); err != nil {
		t.Fatal(err)
	}
	got := tree(t, dir)
	for name, run := range map[string]string{"maps/S1.svg": "second", "previous/1/maps/S1.svg": "first"} {
		if !strings.Contains(got[name], run) {
			t.Errorf("%s holds %q, want the papers of the %s run", name, got[name], run)
		}
	}
	done := make(chan error)
	const runs = 12
	for i := range runs {
		go func() {
			f, err := newFolder(dir)
			if err == nil {
				err = errors.Join(
					f.write("plan.json", func(w io.Writer) error {
						_, err := fmt.Fprintf(w, `{"format": %q, "run": "%d"}`, f.kind.format, i)
						return err
					}), f.place())
				f.discard()
			}
			done <- err
		}()
	}
	for range runs {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
	found := map[string]bool{}
	for name, text := range tree(t, dir) {
		if filepath.Base(name) == "plan.json" {
			found[text] = true
		}
		if strings.Contains(name, stagePrefix) || strings.HasSuffix(name, folderLock) {
			if !strings.HasPrefix(name, filepath.Base(first.stage)) && !strings.HasPrefix(name, filepath.Base(second.stage)) {
				t.Errorf("%s was left", name)
			}
		}
	}
	if len(found) != runs+2 {
		t.Errorf("papers of %d runs of %d", len(found), runs+2)
	}
}

// One that does not let go is named after a while.
func TestPatience(t *testing.T) {
	dir := t.TempDir()
	release, err := alone(dir, folderPatience)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := alone(dir, 1); err == nil || !strings.Contains(err.Error(), "another panelyard writes into "+dir) {
		t.Errorf("error %v", err)
	}
	release()
	if release, err = alone(dir, folderPatience); err != nil {
		t.Fatal(err)
	}
	release()
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("%v left", left)
	}
}

// A note that is cut short, or was tampered with, moves nothing out of its folder.
func TestPlacing(t *testing.T) {
	stage := t.TempDir()
	if err := (placing{12, "plan.json"}).note(stage); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(filepath.Join(stage, placingName))
	if err != nil {
		t.Fatal(err)
	}
	for n := range len(whole) {
		if err := os.WriteFile(filepath.Join(stage, placingName), whole[:n], 0o644); err != nil {
			t.Fatal(err)
		}
		if p, ok := placingOf(stage); ok {
			t.Errorf("%q read as %v", whole[:n], p)
		}
	}
	for text, want := range map[string]placing{string(whole): {12, "plan.json"}, "1\n../../x\n": {1, "x"}} {
		if err := os.WriteFile(filepath.Join(stage, placingName), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if p, ok := placingOf(stage); !ok || p != want {
			t.Errorf("%q read as %v, %v", text, p, ok)
		}
	}
}
