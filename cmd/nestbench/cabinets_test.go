package main

import (
	"context"
	"fmt"
	"math"
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
	var cost, gap, costs, gaps float64
	for _, l := range lines[1:4] {
		f := strings.Fields(l)
		if _, err := fmt.Sscan(f[5]+" "+f[7], &cost, &gap); err != nil {
			t.Fatalf("%q: %v", l, err)
		}
		costs, gaps = costs+cost, gaps+gap
	}
	if _, err := fmt.Sscanf(lines[5], "mean: cost %f, gap %f %%", &cost, &gap); err != nil || math.Abs(cost-costs/3) > 1 || math.Abs(gap-gaps/3) > 0.02 {
		t.Errorf("%q, want a cost of %.1f and a gap of %.2f %%: %v", lines[5], costs/3, gaps/3, err)
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
