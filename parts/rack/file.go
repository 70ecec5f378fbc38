package rack

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"

	"panelyard/parts/diag"
)

// Patience is how long [Change] waits for other programs that change the same rack.
const Patience = 10 * time.Second

// ErrBusy is the error of a rack that other programs did not leave alone.
var ErrBusy = errors.New("is being changed by another program, and stays so")

// Change reads the rack of a file, changes it, and writes it back; nothing is written
// when change returns an error, or has changed nothing. When there is no file, a rack
// begins as fresh; a nil fresh wants the file to be there. It returns what the reading
// warned of, and a [diag.List] or the error of change. See the package comment for two
// programs at a time. Cost: the size of the rack, and waiting for the disk.
func Change(ctx context.Context, path string, fresh *Rack, change func(*Rack) error) (diag.List, error) {
	return changed(ctx, path, fresh, Patience, change)
}

// changed is Change with another patience.
func changed(ctx context.Context, path string, fresh *Rack, patience time.Duration, change func(*Rack) error) (diag.List, error) {
	real, err := target(path)
	if err != nil {
		return nil, failed(path, err)
	}
	if _, err := os.Stat(real); fresh == nil && errors.Is(err, fs.ErrNotExist) {
		_, list := ReadFile(path)
		return nil, list.Err() // before a lock file is left in a wrong folder
	}
	unlock, err := lock(ctx, real, patience)
	if err != nil {
		return nil, failed(path, err)
	}
	defer unlock()
	r, list, mode := fresh, diag.List(nil), fs.FileMode(0o644)
	st, err := os.Stat(real)
	switch {
	case errors.Is(err, fs.ErrNotExist) && fresh != nil:
		r.name = path
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return nil, failed(path, err)
	default:
		if r, list = ReadFile(path); r == nil {
			return nil, list.Err()
		}
		mode = st.Mode().Perm()
	}
	before := r.Bytes()
	if err := change(r); err != nil {
		return list, err
	}
	after := r.Bytes()
	if bytes.Equal(before, after) {
		return list, nil
	}
	if len(after) > MaxBytes {
		return list, failed(path, diag.TooLarge(MaxBytes))
	}
	if err := replace(real, after, mode); err != nil {
		return list, failed(path, err)
	}
	return list, nil
}

// failed is an error of a file as a finding.
func failed(path string, err error) diag.List {
	if pe := new(fs.PathError); errors.As(err, &pe) {
		err = fmt.Errorf("cannot be changed: %w", pe.Err)
	}
	remedy := "check the folder of the file and its permissions"
	switch {
	case errors.Is(err, ErrBusy):
		remedy = "wait for the other program, or end it"
	case errors.Is(err, errors.ErrUnsupported):
		err = fmt.Errorf("files cannot be locked here: %w", err)
		remedy = "keep the rack on a disk of this machine"
	}
	return diag.List{{Pos: diag.Pos{File: path}, Fact: err.Error(), Remedy: remedy, Err: err}}
}

// target follows symbolic links, so that lock and new file lie beside the file itself.
func target(path string) (string, error) {
	real, err := filepath.EvalSymlinks(path)
	if errors.Is(err, fs.ErrNotExist) {
		dir, err := filepath.EvalSymlinks(filepath.Dir(path))
		return filepath.Join(dir, filepath.Base(path)), err
	}
	return real, err
}

// beside returns the name of a hidden file beside a rack.
func beside(path, what string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+what)
}

// lock locks a rack, and returns how to unlock it. The lock file stays: a program that
// waits has it open, and one that came after its removal would lock another file.
func lock(ctx context.Context, path string, patience time.Duration) (func(), error) {
	f := flock.New(beside(path, ".lock"), flock.SetPermissions(0o666))
	limited, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	ok, err := f.TryLockContext(limited, 5*time.Millisecond)
	switch {
	case ctx.Err() != nil:
		return nil, errors.New("was left alone: interrupted")
	case errors.Is(err, context.DeadlineExceeded):
		return nil, ErrBusy
	case err != nil:
		return nil, err
	case !ok:
		return nil, ErrBusy
	}
	return func() { _ = f.Unlock() }, nil // closing the file unlocks it, which cannot fail in a way that matters
}

// replace puts a new file in the place of an old one, at once and on the disk. The
// caller has the lock, so that the name beside is its own, whatever a program that was
// killed has left there.
func replace(path string, data []byte, mode fs.FileMode) error {
	next := beside(path, ".new")
	if err := os.Remove(next); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	f, err := os.OpenFile(next, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(mode) // the mask may have taken bits that the old file has
	}
	if err == nil {
		err = f.Sync()
	}
	if err := errors.Join(err, f.Close()); err != nil {
		return errors.Join(err, os.Remove(next))
	}
	if err := os.Rename(next, path); err != nil {
		return errors.Join(err, os.Remove(next))
	}
	// The new name is on the disk when the folder is. Not every system can do that.
	if dir, err := os.Open(filepath.Dir(path)); err == nil {
		_ = dir.Sync()
		dir.Close()
	}
	return nil
}
