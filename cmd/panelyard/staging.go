package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// Staging folders lie in the folder of the papers, so that moving a document out of
// one is a rename. Two programs may write into one folder, and any may be killed:
//
//   - A staging folder has a lock file, which its program holds as long as it lives. The
//     system lets go of it when the program ends, however it ends.
//   - Staging folders are made, placed and swept by one program at a time, which holds
//     the lock file of the folder. It is removed afterwards.
//   - Before papers are moved, the file "placing" notes where the old ones go. Old papers
//     are moved out, the proof that they are ours last; then the new ones are moved in,
//     the proof first. What a dead program has begun is thus undone while its proof is
//     still staged, and finished when it is not.
const (
	stagePrefix = ".panelyard-"
	lockName    = ".lock"
	placingName = ".placing"
	folderLock  = ".panelyard.lock"
)

// folderPatience is how long a program waits for another that moves its papers, which
// takes a few renames.
const folderPatience = 10 * time.Second

// alone waits until no other program works on the folders in dir, and returns how to let
// others go on. Where files cannot be locked it goes on without.
func alone(dir string, patience time.Duration) (func(), error) {
	limited, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	path := filepath.Join(dir, folderLock)
	for {
		l := flock.New(path)
		ok, err := l.TryLockContext(limited, 5*time.Millisecond)
		switch {
		case errors.Is(err, context.DeadlineExceeded):
			return nil, fmt.Errorf("another panelyard writes into %s: wait for it, or end it", dir)
		case err != nil || !ok:
			return func() {}, nil
		}
		// One who waited may hold a file that was removed meanwhile: it locks nobody out.
		held, err1 := l.Stat()
		there, err2 := os.Lstat(path)
		if err1 == nil && err2 == nil && os.SameFile(held, there) {
			return func() {
				err := os.Remove(path)
				_ = l.Unlock() // closing the file unlocks it
				if err != nil {
					os.Remove(path) // some systems do not remove a file that is open
				}
			}, nil
		}
		_ = l.Unlock()
	}
}

// newStage makes a staging folder in dir, when it fits, and settles what dead programs
// left there. Whether it fits is looked at while no other program moves its papers.
func newStage(dir string, fits func() error) (stage string, life *flock.Flock, err error) {
	release, err := alone(dir, folderPatience)
	if err != nil {
		return "", nil, err
	}
	defer release()
	sweep(dir)
	if err := fits(); err != nil {
		return "", nil, err
	}
	if stage, err = os.MkdirTemp(dir, stagePrefix); err != nil {
		return "", nil, fmt.Errorf("cannot write into the folder for the papers: %w", err)
	}
	life = flock.New(filepath.Join(stage, lockName))
	_, _ = life.TryLock() // where files cannot be locked, nobody sweeps either
	return stage, life, nil
}

// sweep settles the staging folders of dead programs in dir. Others, and what is not
// known for one, are left as they are.
func sweep(dir string) {
	list, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range list {
		if !e.IsDir() || !strings.HasPrefix(e.Name(), stagePrefix) {
			continue
		}
		stage := filepath.Join(dir, e.Name())
		lock := filepath.Join(stage, lockName)
		if st, err := os.Lstat(lock); err != nil || !st.Mode().IsRegular() {
			// Its program died before it made the lock: nothing is in it. What holds
			// something is somebody's, and is not removed by this.
			os.Remove(stage)
			continue
		}
		l := flock.New(lock)
		if ok, err := l.TryLock(); err != nil || !ok {
			continue // it lives, or nobody can tell
		}
		err := settle(dir, stage)
		_ = l.Unlock()
		if err == nil {
			os.RemoveAll(stage)
		}
	}
}

// placing says what a program is about to do with its staging folder: the number of the
// folder for the old papers, and the proof among the papers.
type placing struct {
	archive int
	proof   string
}

// note writes it down.
func (p placing) note(stage string) error {
	return os.WriteFile(filepath.Join(stage, placingName), fmt.Appendf(nil, "%d\n%s\n", p.archive, p.proof), 0o644)
}

// placingOf reads it; ok is false when nothing was begun.
func placingOf(stage string) (p placing, ok bool) {
	data, err := os.ReadFile(filepath.Join(stage, placingName))
	number, proof, _ := strings.Cut(string(data), "\n")
	if err != nil || !strings.HasSuffix(proof, "\n") {
		return p, false // killed while it was written, before anything was moved
	}
	p.proof = filepath.Base(strings.TrimSuffix(proof, "\n"))
	p.archive, err = strconv.Atoi(number)
	return p, err == nil
}

// settle brings to an end what a dead program has begun.
func settle(dir, stage string) error {
	p, ok := placingOf(stage)
	if !ok {
		return nil
	}
	from := archiveOf(dir, p.archive)
	if _, err := os.Lstat(filepath.Join(stage, p.proof)); err != nil {
		from = stage // all old papers were out, and the first new one in
	}
	list, err := os.ReadDir(from)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for _, e := range list {
		to := filepath.Join(dir, e.Name())
		if _, err := os.Lstat(to); err == nil || e.Name() == lockName || e.Name() == placingName {
			continue
		}
		if err := os.Rename(filepath.Join(from, e.Name()), to); err != nil {
			return err
		}
	}
	unmake(archiveOf(dir, p.archive))
	return nil
}

// archiveOf is the folder for old papers of a number.
func archiveOf(dir string, number int) string {
	return filepath.Join(dir, previous, strconv.Itoa(number))
}

// unmake removes an archive, and the folder of archives, when they are empty.
func unmake(archive string) {
	os.Remove(archive)
	os.Remove(filepath.Dir(archive))
}

// moves are renames that can be undone.
type moves struct {
	rename func(from, to string) error
	done   [][2]string
}

func (m *moves) move(from, to string) error {
	err := m.rename(from, to)
	if err == nil {
		m.done = append(m.done, [2]string{from, to})
	}
	return err
}

// undo moves everything back.
func (m *moves) undo() error {
	var errs []error
	for _, x := range slices.Backward(m.done) {
		errs = append(errs, m.rename(x[1], x[0]))
	}
	return errors.Join(errs...)
}
