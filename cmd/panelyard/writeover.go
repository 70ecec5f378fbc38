package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// How much of a file is searched for a mark, from its beginning and from its end: a PDF
// says who made it behind its pages.
const (
	markHead = 8 << 10
	markTail = 256 << 10
)

// output is a file that a command writes: its name, the flag that gave it, what it is,
// and its content.
type output struct {
	file, flag, what string
	data             []byte
}

// writeOver writes the files of a command: over earlier ones of the same command, which
// their mark tells, but over nothing else, and all of them or none.
func writeOver(command string, list ...output) error {
	for _, o := range list {
		switch f, err := os.Open(o.file); {
		case err == nil:
			ours := marked(f, pictureMark(command))
			f.Close()
			if !ours {
				return fmt.Errorf("%s is there and no %s of panelyard %s: choose another name for %s", o.file, o.what, command, o.flag)
			}
		case !errors.Is(err, fs.ErrNotExist):
			return fmt.Errorf("cannot write the %s: %w", o.what, err)
		}
	}
	return replaceAll(list...)
}

// replaceAll writes files beside their places, and moves them there when all are
// written.
func replaceAll(list ...output) error {
	var staged []string
	defer func() {
		for _, name := range staged {
			os.Remove(name) // fails, rightly, once it was moved
		}
	}()
	stage := func(o output) error {
		t, err := os.CreateTemp(filepath.Dir(o.file), stagePrefix)
		if err != nil {
			return err
		}
		staged = append(staged, t.Name())
		_, err = t.Write(o.data)
		return errors.Join(err, t.Chmod(0o644), t.Close())
	}
	for _, o := range list {
		if err := stage(o); err != nil {
			return fmt.Errorf("cannot write the %s %s: %w", o.what, o.file, bare(err))
		}
	}
	for i, o := range list {
		if err := os.Rename(staged[i], o.file); err != nil {
			return fmt.Errorf("cannot write the %s %s: %w", o.what, o.file, bare(err))
		}
	}
	return nil
}

// bare is what the system says of a file or folder that is staged, whose name says
// nothing to anybody.
func bare(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// pictureMark tells a picture of a command from other files.
func pictureMark(command string) string { return "drawn by panelyard " + command }

// marked reports whether a file has a mark near its beginning or its end.
func marked(f *os.File, mark string) bool {
	st, err := f.Stat()
	if err != nil || !st.Mode().IsRegular() {
		return false
	}
	for _, from := range [2]int64{0, max(0, st.Size()-markTail)} {
		n := int64(markTail)
		if from == 0 && st.Size() > markTail {
			n = markHead
		}
		part, err := io.ReadAll(io.NewSectionReader(f, from, n))
		if err == nil && bytes.Contains(part, []byte(mark)) {
			return true
		}
	}
	return false
}
