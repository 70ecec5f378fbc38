package rack

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/gofrs/flock"

	"panelyard/parts/length"
	"panelyard/parts/partstest"
)

// The variables that make the test binary one of the programs that change a rack at
// the same time: its file, and what to put into the note of each piece.
const (
	workerFile = "PANELYARD_TEST_RACK"
	workerName = "PANELYARD_TEST_RACK_WORKER"
)

func TestMain(m *testing.M) {
	if file := os.Getenv(workerFile); file != "" {
		os.Exit(work(file, os.Getenv(workerName)))
	}
	os.Exit(m.Run())
}

// perWorker is how many pieces each program puts in; every third it takes out again.
const perWorker = 12

// work puts pieces into a rack, and says each thing after it was done.
func work(file, name string) int {
	for i := range perWorker {
		var label string
		_, err := Change(context.Background(), file, New(length.MM), func(r *Rack) error {
			p := board(600, 400)
			p.Note = name + " " + strconv.Itoa(i)
			p, err := r.Add(p)
			label = p.Label
			return err
		})
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		fmt.Println("added", label)
		if i%3 != 2 {
			continue
		}
		if _, err := Change(context.Background(), file, nil, func(r *Rack) error {
			_, err := r.Take(label)
			return err
		}); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		fmt.Println("taken", label)
	}
	return 0
}

// worker is a program at work.
type worker struct {
	cmd  *exec.Cmd
	said chan []string
	err  strings.Builder
}

func start(t *testing.T, file, name string) *worker {
	t.Helper()
	w := &worker{cmd: exec.Command(os.Args[0]), said: make(chan []string, 1)}
	w.cmd.Env = append(os.Environ(), workerFile+"="+file, workerName+"="+name)
	w.cmd.Stderr = &w.err
	out, err := w.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := w.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() {
		var list []string
		for s := bufio.NewScanner(out); s.Scan(); {
			list = append(list, s.Text())
		}
		w.said <- list
	}()
	return w
}

// Many programs change a rack at once and some of them are killed: what a program said
// it did is so, no label is given twice, and no file is left in which a row is torn.
func TestManyPrograms(t *testing.T) {
	file := filepath.Join(t.TempDir(), "rack.csv")
	rng := rand.New(rand.NewPCG(1, 25))
	const workers, kills = 8, 4
	var list []*worker
	for i := range workers + kills {
		w := start(t, file, "w"+strconv.Itoa(i))
		list = append(list, w)
		if i >= workers {
			// Somewhere in its work: its whole work takes longer than this.
			time.AfterFunc(time.Duration(rng.IntN(200))*time.Millisecond, func() { _ = w.cmd.Process.Kill() })
		}
	}
	// Readers meet a whole rack at any time, without a lock.
	stop, reading := make(chan struct{}), make(chan error, 1)
	go func() {
		for {
			select {
			case <-stop:
				reading <- nil
				return
			default:
			}
			if r, list := ReadFile(file); r == nil && !errors.Is(list[0], fs.ErrNotExist) {
				reading <- list
				return
			}
			time.Sleep(time.Millisecond)
		}
	}()
	added, taken, killed := map[string]int{}, map[string]bool{}, 0
	for i, w := range list {
		for _, s := range <-w.said {
			what, label, _ := strings.Cut(s, " ")
			if what == "added" {
				added[label]++
			} else {
				taken[label] = true
			}
		}
		if err := w.cmd.Wait(); err != nil {
			if i < workers {
				t.Errorf("program %d: %v\n%s", i, err, w.err.String())
			}
			killed++
		}
	}
	close(stop)
	if err := <-reading; err != nil {
		t.Errorf("a reader found %v", err)
	}
	r, findings := ReadFile(file)
	if r == nil {
		t.Fatal(findings)
	}
	have := map[string]bool{}
	for _, p := range r.Pieces() {
		have[p.Label] = true
	}
	for label, n := range added {
		if n > 1 {
			t.Errorf("%s was given %d times", label, n)
		}
		if taken[label] && have[label] {
			t.Errorf("%s was taken and is still there", label)
		}
	}
	lost, unsaid := 0, 0
	for label := range added {
		if !have[label] && !taken[label] {
			lost++ // at most what a program took that was killed before it could say so
		}
	}
	for label := range have {
		if added[label] == 0 {
			unsaid++ // likewise what it added
		}
	}
	if lost+unsaid > killed {
		t.Errorf("%d pieces lost and %d too many, of %d killed programs", lost, unsaid, killed)
	}
	if want := workers * perWorker; len(added) < want {
		t.Errorf("%d pieces were added, want at least %d", len(added), want)
	}
	t.Logf("%d added, %d taken, %d programs killed, %d steps unsaid", len(added), len(taken), killed, lost+unsaid)
}

// What a killed program leaves behind stands in nobody's way.
func TestLeftovers(t *testing.T) {
	file := filepath.Join(t.TempDir(), "rack.csv")
	for _, name := range []string{".new", ".lock"} {
		if err := os.WriteFile(beside(file, name), []byte("label,mat"), 0o444); err != nil {
			t.Fatal(err)
		}
	}
	add(t, file)
	if r, list := ReadFile(file); r == nil || len(r.Pieces()) != 1 {
		t.Fatal(list)
	}
	if _, err := os.Stat(beside(file, ".new")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the new file is still there: %v", err)
	}
}

// add puts a piece into a file.
func add(t *testing.T, file string) {
	t.Helper()
	_, err := Change(context.Background(), file, New(length.MM), func(r *Rack) error {
		_, err := r.Add(board(600, 400))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A lock that is held ends the waiting, with a mistake, and not the rack.
func TestBusy(t *testing.T) {
	file := filepath.Join(t.TempDir(), "rack.csv")
	add(t, file)
	f := flock.New(beside(file, ".lock"))
	if err := f.Lock(); err != nil {
		t.Fatal(err)
	}
	nothing := func(*Rack) error { t.Error("a locked rack was changed"); return nil }
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	if _, err := Change(ctx, file, nil, nothing); err == nil || !strings.Contains(err.Error(), "interrupted") {
		t.Error(err)
	}
	begin := time.Now()
	_, err := changed(context.Background(), file, nil, 100*time.Millisecond, nothing)
	if d := time.Since(begin); !errors.Is(err, ErrBusy) || d < 100*time.Millisecond {
		t.Errorf("%v after %v", err, d)
	}
	if err := f.Unlock(); err != nil {
		t.Fatal(err)
	}
	add(t, file)
}

// The file keeps its permissions and its place behind a link; a change that fails or
// changes nothing writes nothing.
func TestFile(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "shared", "rack.csv")
	if err := os.Mkdir(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	add(t, file)
	if runtime.GOOS != "windows" {
		if err := os.Chmod(file, 0o660); err != nil {
			t.Fatal(err)
		}
		link := filepath.Join(dir, "rack.csv")
		if err := os.Symlink(file, link); err != nil {
			t.Fatal(err)
		}
		add(t, link)
		if st := must[fs.FileInfo](t)(os.Lstat(link)); st.Mode()&fs.ModeSymlink == 0 {
			t.Error("the link was replaced")
		}
		if st := must[fs.FileInfo](t)(os.Stat(file)); st.Mode().Perm() != 0o660 {
			t.Errorf("the permissions are %v", st.Mode())
		}
	} else {
		add(t, file)
	}
	before := must[fs.FileInfo](t)(os.Stat(file))
	no := errors.New("no")
	for _, change := range []func(*Rack) error{
		func(*Rack) error { return nil },
		func(r *Rack) error {
			_, err := r.Add(board(1, 1))
			return err
		},
		func(r *Rack) error {
			must[Piece](t)(r.Add(board(600, 400)))
			return no
		},
	} {
		if _, err := Change(context.Background(), file, nil, change); errors.Is(err, no) != (err != nil && err.Error() == "no") {
			t.Error(err)
		}
	}
	if after := must[fs.FileInfo](t)(os.Stat(file)); !os.SameFile(before, after) {
		t.Error("a new file was written for nothing")
	}
	// No rack, and no folder; nothing is left there.
	for _, name := range []string{"none.csv", "none/rack.csv"} {
		if _, err := Change(context.Background(), filepath.Join(dir, name), nil, nil); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Change(context.Background(), filepath.Join(dir, "none", "rack.csv"), New(length.MM), nil); err == nil {
		t.Error("a rack without a folder")
	}
	if _, err := Change(context.Background(), dir, New(length.MM), nil); err == nil || !strings.Contains(err.Error(), "directory") {
		t.Errorf("a folder: %v", err)
	}
	if names := must[[]os.DirEntry](t)(os.ReadDir(dir)); len(names) != 2 && runtime.GOOS != "windows" {
		t.Errorf("left in the folder: %v", names)
	}
}

// LibreOffice reads a rack and writes it again; we read the same pieces, know the
// highest label and the plans, and find every comment.
func TestLibreOffice(t *testing.T) {
	soffice := partstest.Tool(t, "soffice")
	dir := t.TempDir()
	for name, head := range map[string]string{
		"commas": "", "semicolons": "label;material;thickness (mm);length (mm);width (mm);grain;shelf;price;date;from;note\n# sold last year; the oak\n",
	} {
		t.Run(name, func(t *testing.T) {
			r := New(length.MM)
			if head != "" {
				r = read(t, head)
			}
			plan := Plan{Digest: "0123456789abcdef", Name: "tide-table kiosk", Date: today}
			for i, note := range []string{"", "=1+1", "-5", "the 1/2\" one", "a, b; c", "#3", "two\nlines"} {
				p := board(600, 400)
				p.Length, p.Width = p.Length+mm/2, p.Width+length.Length(i)*mm/4
				p.Thickness, p.Note, p.From, p.Price, p.Priced = 18*mm+mm/10, note, "tide-table kiosk S1", 45_000, i%2 == 0
				plan.Kept = append(plan.Kept, p)
			}
			must[Kept](t)(r.Keep(plan))
			must[[]Piece](t)(r.Take("R7"))
			file := filepath.Join(dir, name+".csv")
			if err := os.WriteFile(file, r.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			// Separator, quote and UTF-8 (76), as a person tells it in the dialogue; then
			// written as cells are shown.
			sep := strconv.Itoa(int(r.sep))
			out := filepath.Join(dir, "out")
			cmd := exec.Command(soffice, "-env:UserInstallation=file://"+filepath.ToSlash(dir)+"/profile", "--headless",
				"--infilter=CSV:"+sep+",34,76,1", "--convert-to", "csv:Text - txt - csv (StarCalc):"+sep+",34,76,1,,0,false,true", "--outdir", out, file)
			if text, err := cmd.CombinedOutput(); err != nil {
				t.Fatalf("soffice: %v\n%s", err, text)
			}
			src := must[[]byte](t)(os.ReadFile(filepath.Join(out, name+".csv")))
			again := read(t, string(src))
			if diff := same(r.Pieces(), again.Pieces()); diff != "" {
				t.Errorf("%s\n%s", diff, src)
			}
			if p := must[Piece](t)(again.Add(board(600, 400))); p.Label != "R8" {
				t.Errorf("the next label is %s\n%s", p.Label, again.Bytes())
			}
			if k := must[Kept](t)(again.Keep(plan)); k.Since != today {
				t.Errorf("the plan is not known: %+v\n%s", k, src)
			}
			if head != "" && !strings.Contains(string(src), "# sold last year") {
				t.Errorf("a comment was lost\n%s", src)
			}
		})
	}
}
