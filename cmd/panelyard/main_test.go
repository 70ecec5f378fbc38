package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"panelyard": main})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata",
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds:          map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
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
	switch code := run(args, streams{nil, &out, &errs}); {
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
