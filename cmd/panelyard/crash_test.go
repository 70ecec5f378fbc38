package main

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"panelyard/parts/partstest"
)

// smallJob is planned in a moment, has a variant, and papers of some size.
const smallJob = `job: small
currency: EUR
materials: [{name: mdf, thickness: 12}]
stock: [{name: sheet, material: mdf, length: 1200, width: 600, price: 10}]
panels: [{name: shelf, length: 500, width: 300, quantity: 2}]
variants: [{name: narrow, panels: [{name: shelf, width: 250}]}]
`

// workshop makes a folder with a job, a rack, and the papers of each command that
// writes some.
func workshop(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "job.yaml"), []byte(smallJob), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, line := range commandLines {
		if out, err := program(dir, line).CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", line, err, out)
		}
	}
	return dir
}

// commandLines are the commands that write files, each over what it wrote before.
var commandLines = []string{
	"plan job.yaml --cut router --rounds 1 --out saw",
	"recut saw --spoiled shelf:1 --cut S1 --rounds 1 --out again",
	"compare job.yaml --rounds 1 --out compare",
	"template job.yaml shelf --out shelf.pdf --svg shelf.svg",
	"rack add --rack rack.csv --material mdf --length 620 --width 410 --note " + strings.Repeat("long", 200),
	"bend --thickness 18 --web 2 --radius 300 --angle 90 --svg bend.svg",
	"arc --chord 600 --rise 50 --svg arc.svg",
}

// program is a run of panelyard in a folder. [TestMain] has put it on the path.
func program(dir, line string) *exec.Cmd {
	c := exec.Command("panelyard", strings.Fields(line)...)
	c.Dir = dir
	return c
}

// A disk that takes no file of more than some size, which the system enforces: each
// command fails with one line, and what it wrote before is as it was.
func TestDiskFull(t *testing.T) {
	sh := partstest.Tool(t, "sh")
	dir := workshop(t)
	for _, line := range commandLines {
		name := strings.Fields(line)[0]
		t.Run(name, func(t *testing.T) {
			before := tree(t, dir)
			failed := 0
			for blocks := 0; ; blocks = blocks*3/2 + 1 { // of 512 or 1024 bytes
				c := exec.Command(sh, "-c", fmt.Sprintf("ulimit -f %d && exec panelyard %s", blocks, line))
				c.Dir = dir
				out, err := c.CombinedOutput()
				if err == nil {
					break
				}
				failed++
				if c.ProcessState.ExitCode() != exitBadInput || !strings.Contains(string(out), "panelyard: ") && !strings.Contains(string(out), "rack.csv: ") {
					t.Errorf("%d blocks: exit code %d\n%s", blocks, c.ProcessState.ExitCode(), out)
				}
				sameTree(t, fmt.Sprintf("%d blocks", blocks), tree(t, dir), before)
				if blocks > 1000 {
					t.Fatalf("%d blocks are not enough", blocks)
				}
			}
			if failed == 0 {
				t.Error("no limit made it fail")
			}
		})
	}
}

// Of two drawings none is written when the other cannot be.
func TestBothDrawings(t *testing.T) {
	dir := workshop(t)
	before := tree(t, dir)
	for _, svg := range []string{"missing/shelf.svg", "job.yaml", "saw"} {
		out, err := program(dir, "template job.yaml shelf --mirror --out shelf.pdf --svg "+svg).CombinedOutput()
		if err == nil || !strings.Contains(string(out), svg) {
			t.Errorf("--svg %s: %v, %s", svg, err, out)
		}
		sameTree(t, svg, tree(t, dir), before)
	}
}

// A program that is killed, with few or many of its papers staged or on their way,
// leaves the papers before whole, in their place or in previous, and the next run leaves
// nothing of it.
func TestKilled(t *testing.T) {
	dir := workshop(t)
	out := filepath.Join(dir, "saw")
	line := strings.Replace(commandLines[0], "--rounds 1", "--rounds 1 --seed 2", 1)
	killed := 0
	steps := []int{1, 2, 3, 5, 7, 9, 11, 13, 15, 16}
	for _, staged := range steps {
		before := papersOf(tree(t, out))
		c := program(dir, line)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan error)
		go func() { ended <- c.Wait() }()
		var err error
		for waiting := true; waiting; {
			select {
			case err = <-ended:
				waiting = false
			case <-time.After(100 * time.Microsecond):
				if inStage(out) >= staged {
					c.Process.Kill()
					err = <-ended
					waiting = false
				}
			}
		}
		if err != nil {
			killed++
		}
		// The next run settles it; whatever there was is in its place or in previous.
		if text, err := program(dir, line).CombinedOutput(); err != nil {
			t.Fatalf("after a kill with %d staged: %v\n%s", staged, err, text)
		}
		after := tree(t, out)
		if !holds(after, before) {
			t.Fatalf("after a kill with %d staged the papers before are not whole", staged)
		}
		for name := range after {
			if strings.HasPrefix(name, stagePrefix) || name == folderLock {
				t.Errorf("with %d staged, %s was left", staged, name)
			}
		}
	}
	t.Log(killed, "of", len(steps), "killed")
	if killed < len(steps)/2 {
		t.Errorf("%d of %d killed: no fair test", killed, len(steps))
	}
}

// inStage returns how many files and folders are staged in a folder.
func inStage(dir string) int {
	list, _ := filepath.Glob(filepath.Join(dir, stagePrefix+"*"))
	n := len(list)
	for _, stage := range list {
		// Files come and go meanwhile: what cannot be read is not counted.
		_ = filepath.WalkDir(stage, func(string, fs.DirEntry, error) error {
			n++
			return nil
		})
	}
	return n
}

// papersOf are the files in a folder of papers that are in their place.
func papersOf(files map[string]string) map[string]string {
	papers := map[string]string{}
	for name, text := range files {
		if !strings.HasPrefix(name, previous) && !strings.HasPrefix(name, ".") && text != "a folder" {
			papers[name] = text
		}
	}
	return papers
}

// holds reports whether some folder of old papers holds exactly these.
func holds(files, papers map[string]string) bool {
	old := map[string]map[string]string{}
	for name, text := range files {
		if parts := strings.SplitN(filepath.ToSlash(name), "/", 3); len(parts) == 3 && parts[0] == previous && text != "a folder" {
			if old[parts[1]] == nil {
				old[parts[1]] = map[string]string{}
			}
			old[parts[1]][parts[2]] = text
		}
	}
	for _, set := range old {
		if maps.Equal(set, papers) {
			return true
		}
	}
	return false
}
