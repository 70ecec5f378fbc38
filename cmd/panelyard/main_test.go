package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"panelyard": main, "interrupted": interrupted})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata",
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds:          map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// interrupted runs a command that gets Ctrl-C when its search comes to a point for the
// nth time, however long that takes: interrupted begins 2 compare job.yaml. The points
// are "begins", "plan", of a better plan, and what a longer search says how far it is.
func interrupted() {
	left, err := strconv.Atoi(os.Args[2])
	if err != nil {
		panic(err)
	}
	var mu sync.Mutex
	reached := func(ctx context.Context, what string) {
		mu.Lock()
		defer mu.Unlock()
		if !strings.HasPrefix(what, os.Args[1]) {
			return
		}
		if left--; left != 0 {
			return
		}
		self, err := os.FindProcess(os.Getpid())
		if err == nil {
			err = self.Signal(os.Interrupt)
		}
		if err != nil {
			panic(err)
		}
		<-ctx.Done()
	}
	os.Exit(run(os.Args[3:], streams{in: os.Stdin, out: os.Stdout, err: os.Stderr, reached: reached}))
}

// exits runs a command and wants its exit code: exits 2 panelyard plan.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code command args...")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		code = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if strconv.Itoa(code) != args[0] {
		ts.Fatalf("exit code %d, want %s", code, args[0])
	}
}

// runFlags runs a command that measures, with flags parted by bars, and wants a result
// and nothing else, or findings and no result.
func runFlags(t *testing.T, command, flags string) {
	t.Helper()
	args := []string{command}
	for _, a := range strings.Split(flags, "|") {
		// No files, and no other command: only what the command reads itself.
		if strings.Contains(a, "svg") || !strings.HasPrefix(a, "--") {
			a = "--chord=" + strings.ReplaceAll(a, "svg", "")
		}
		args = append(args, a)
	}
	var out, errs bytes.Buffer
	switch code := run(args, streams{out: &out, err: &errs}); {
	case code == exitDone && out.Len() == 0:
		t.Fatalf("%q: done, and nothing printed\n%s", args, errs.String())
	case code == exitDone && strings.Contains(out.String(), "NaN"):
		t.Fatalf("%q: %s", args, out.String())
	case code == exitDone && strings.HasPrefix(out.String(), "{") && !json.Valid(out.Bytes()):
		t.Fatalf("%q: %s", args, out.String())
	case code == exitBadInput && (out.Len() > 0 || errs.Len() == 0):
		t.Fatalf("%q: refused with %q on standard output, %q beside it", args, out.String(), errs.String())
	case code != exitDone && code != exitBadInput:
		t.Fatalf("%q: exit code %d", args, code)
	}
}
