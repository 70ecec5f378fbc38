package jobfile

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panelyard/parts"
)

// What the kept offcuts of rack.yaml cost in each of its variants, worked out by hand.
// The cheapest new birch is 92.50 for 2.44 x 1.22 m: 31.0736 a m2; 30 % of that for
// 0.62 x 0.41 m is 2.3697. MDF is 34.00 for the same: 11.4217 a m2.
func TestRackPrices(t *testing.T) {
	for variant, want := range map[string]string{
		"":             "R1 2.37, R3 2.91, R4 0.93, R6 0.67, R8 2.51",
		"own prices":   "R1 4.50, R3 -, R4 2.00, R6 -, R8 -",
		"fixed price":  "R1 1.25, R3 1.25, R4 1.25, R6 1.25, R8 1.25",
		"by the area":  "R1 1.53, R3 1.87, R4 1.62, R6 1.18, R8 1.61", // 6 times 0.2542, 0.3124, 0.27, 0.196 and 0.2688
		"without rate": "R1 -, R3 -, R4 -, R6 -, R8 -",
	} {
		file := filepath.Join(goodDir, "rack.yaml")
		name := variant
		if variant == "without rate" {
			file, name = changedJob(t, "  price: 30%", "  #"), ""
		}
		job, list := ReadVariant(file, name)
		if job == nil {
			t.Fatal(list)
		}
		var got []string
		for i := range job.Stock {
			s := &job.Stock[i]
			if !s.Offcut {
				continue
			}
			price := "-"
			if s.Priced {
				price = s.Price.String()
			}
			got = append(got, s.Name+" "+price)
			if trim := s.Trim == (parts.Trim{}); trim != (variant == "by the area") {
				t.Errorf("%s, %s: trim %+v", variant, s.Name, s.Trim)
			}
		}
		if all := strings.Join(got, ", "); all != want {
			t.Errorf("%s: %s, want %s", variant, all, want)
		}
	}
}

// changedJob writes rack.yaml and its rack into a folder, with a text replaced.
func changedJob(t *testing.T, before, after string) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"rack.yaml", "rack.csv"} {
		src, err := os.ReadFile(filepath.Join(goodDir, name))
		if err != nil {
			t.Fatal(err)
		}
		if name == "rack.yaml" {
			if !strings.Contains(string(src), before) {
				t.Fatalf("no %q in %s", before, src)
			}
			src = []byte(strings.Replace(string(src), before, after, 1))
		}
		if err := os.WriteFile(filepath.Join(dir, name), src, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, "rack.yaml")
}

// Only the half sheet has a price: 50.00 for 1.22 x 1.22 m, 30 % of that for 0.62 x
// 0.41 m is 2.5618.
func TestRackOtherSheet(t *testing.T) {
	job, list := ReadFile(changedJob(t, ", price: 92.50}", "}"))
	if job == nil {
		t.Fatal(list)
	}
	if s := job.Stock[3]; s.Name != "R1" || s.Price.String() != "2.56" || strings.Contains(list.Error(), "price") {
		t.Errorf("%s costs %v: %v", s.Name, s.Price, list)
	}
}

// A square foot is 0.09290304 m2 (NIST SP 811, appendix B.8, exact): 0.62 x 0.41 m at
// 1.00 a square foot is 2.7362.
func TestRackSquareFeet(t *testing.T) {
	job, list := ReadFile(changedJob(t, "price: 30%", "price: 1 per ft2"))
	if job == nil {
		t.Fatal(list)
	}
	if s := job.Stock[3]; s.Name != "R1" || s.Price.String() != "2.74" {
		t.Errorf("%s costs %v", s.Name, s.Price)
	}
}

// What of a rack is doubtful is a warning, and the rest of it can be used.
func TestRackWarnings(t *testing.T) {
	for _, c := range []struct{ before, after, want string }{
		{"price: 34}", "}", `rack: price: no sheet of "MDF 12" has a price`},
		{"{left: 2, right: 2}", "{left: 300, right: 200}", `offcut "R3": is left out: the trim`},
	} {
		job, list := ReadFile(changedJob(t, c.before, c.after))
		if job == nil {
			t.Fatalf("%s: %v", c.after, list)
		}
		if !strings.Contains(list.Error(), c.want) {
			t.Errorf("%s: no %q in %v", c.after, c.want, list)
		}
	}
}

// A job may have no stock but what is in the rack.
func TestRackAlone(t *testing.T) {
	src, err := os.ReadFile(filepath.Join(goodDir, "rack.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(src)
	from, to := strings.Index(text, "stock:"), strings.Index(text, "rack:")
	job, list := ReadFile(changedJob(t, text[from:to], ""))
	if job == nil {
		t.Fatal(list)
	}
	if len(job.Stock) != 5 {
		t.Errorf("%d pieces: %v", len(job.Stock), list)
	}
}

// Whatever is in a rack and its keys: never a panic, and a job only where
// there is no mistake.
func FuzzRack(f *testing.F) {
	file := filepath.Join(goodDir, "rack.yaml")
	job, err := os.ReadFile(file)
	if err != nil {
		f.Fatal(err)
	}
	src, err := os.ReadFile(filepath.Join(goodDir, "rack.csv"))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(src, "30%", "2")
	f.Add(src, "6 per m2", "{left: 3}")
	f.Add(src, "own", "0")
	f.Fuzz(func(t *testing.T, kept []byte, price, trim string) {
		text := strings.Replace(string(job), "price: 30%", fmt.Sprintf("price: %q", price), 1)
		text = strings.Replace(text, "trim: {left: 2, right: 2}", "trim: "+trim, 1)
		open := func(path string, _ int) ([]byte, error) { return kept, nil }
		job, list := newReader("fuzz.yaml", open).read([]byte(text))
		if (job == nil) != (list.Err() != nil) {
			t.Fatalf("job %v, findings %v", job != nil, list)
		}
		if job == nil {
			return
		}
		names := map[string]bool{}
		for i := range job.Stock {
			s := &job.Stock[i]
			if names[s.Name] || s.Price < 0 || s.Length <= s.Trim.Left+s.Trim.Right || s.Width <= s.Trim.Bottom+s.Trim.Top {
				t.Fatalf("stock %+v", *s)
			}
			names[s.Name] = true
		}
	})
}
