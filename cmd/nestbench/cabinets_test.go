package main

import (
	"context"
	"strings"
	"testing"
)

// Cabinets are planned, judged and counted.
func TestCabinets(t *testing.T) {
	code, out, errs := runWith(t, context.Background(), solversFor, "--cabinets", "3", "--rounds", "2", "--time", "1m", "--seed", "5")
	if code != exitDone || errs != "" {
		t.Fatalf("code %d, %s", code, errs)
	}
	lines := strings.Split(strings.TrimSpace(out), "\n")
	if len(lines) < 8 || !strings.HasPrefix(strings.TrimSpace(lines[1]), "5 ") {
		t.Fatalf("printed:\n%s", out)
	}
	last := strings.Fields(lines[len(lines)-1])
	if last[0] != "all" || len(last) != 4 {
		t.Fatalf("the last line is %q", lines[len(lines)-1])
	}
	sum := 0
	for _, f := range last[1:] {
		sum += int(f[0] - '0')
	}
	if sum != 3 {
		t.Errorf("%d of 3 jobs are counted: %s", sum, lines[len(lines)-1])
	}
	for _, args := range [][]string{{"--cabinets", "2", "file.json"}, {"--cabinets", "-1"}} {
		if code, _, errs := runWith(t, context.Background(), solversFor, args...); code != exitBad || errs == "" {
			t.Errorf("%v: code %d, %q", args, code, errs)
		}
	}
}
