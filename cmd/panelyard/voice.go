package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/mattn/go-isatty"

	"panelyard/parts/diag"
)

// streams are where the program reads and speaks. Results go to out; everything
// a person reads beside them goes to err, so that a pipe stays clean.
type streams struct {
	in       io.Reader
	out, err io.Writer
	// reached, when set, is told what a search comes to, and the search waits for it:
	// tests interrupt it there. It may be called from several goroutines.
	reached func(ctx context.Context, what string)
}

// checked is a writer that remembers that something could not be written.
type checked struct {
	io.Writer
	err error
}

// Write writes, unless that failed before.
func (c *checked) Write(b []byte) (int, error) {
	if c.err != nil {
		return 0, c.err
	}
	n, err := c.Writer.Write(b)
	c.err = err
	return n, err
}

// say prints a line of the result.
func (s streams) say(format string, args ...any) { fmt.Fprintf(s.out, format+"\n", args...) }

// note prints a line beside the result.
func (s streams) note(format string, args ...any) { fmt.Fprintf(s.err, format+"\n", args...) }

// fail prints an error: the findings of a job file as they are, a line each, and
// anything else behind the program's name.
func (s streams) fail(err error) {
	var list diag.List
	if errors.As(err, &list) {
		fmt.Fprintln(s.err, list.Error())
		n := len(list)
		s.note("panelyard: %s; nothing was written", count(n, "mistake"))
		return
	}
	s.note("panelyard: %v", err)
}

// warn prints warnings.
func (s streams) warn(list diag.List) {
	if len(list) > 0 {
		fmt.Fprintln(s.err, list.Error())
	}
}

// end returns what a command ends with that has planned: why is what an interruption left.
func (s streams) end(interrupted bool, why string, whole bool) error {
	switch {
	case interrupted:
		s.note("panelyard: interrupted; %s", why)
		return exitError(exitInterrupted)
	case !whole:
		return exitError(exitUnplaced)
	}
	return nil
}

// terminal reports whether progress may be drawn.
func (s streams) terminal() bool {
	f, ok := s.err.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// count writes a number of things.
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
