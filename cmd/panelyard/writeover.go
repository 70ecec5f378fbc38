package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// How much of a file is searched for a mark, from its beginning and from its end: a PDF
// says who made it behind its pages.
const (
	markHead = 8 << 10
	markTail = 256 << 10
)

// writeOver writes a file beside its place and moves it there: over an earlier one of
// the same command, which its mark tells, but over nothing else. what is the kind of
// file and flag the flag that named it.
func writeOver(file, flag, what, command string, data []byte) error {
	switch f, err := os.Open(file); {
	case err == nil:
		ours := marked(f, pictureMark(command))
		f.Close()
		if !ours {
			return fmt.Errorf("%s is there and no %s of panelyard %s: choose another name for %s", file, what, command, flag)
		}
	case !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("cannot write the %s: %w", what, err)
	}
	if err := writeNew(file, data); err != nil {
		return fmt.Errorf("cannot write the %s: %w", what, err)
	}
	return nil
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
