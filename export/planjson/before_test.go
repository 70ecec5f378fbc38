package planjson_test

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/export/planjson"
	"panelyard/kerf"
	"panelyard/nest/rest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// goneOn is a plan that goes on from another one: the first stock is limited, two of it
// are gone, one is left in hand, and the band of a panel is there.
func goneOn(t *testing.T) (*export.Dossier, parts.Stock) {
	t.Helper()
	d := exporttest.Dossier(t, exporttest.Job(), kerf.Saw)
	s := d.Job.Stock[0]
	left := s
	left.Name, left.Offcut, left.InHand, left.Available, left.Price, left.Priced = s.Name+", in hand", true, true, 1, 0, false
	d.Before = &export.Before{Taken: []rest.Taken{{Stock: s.Name, Material: s.Material, Count: 2}}, Left: []parts.Stock{left}}
	d.Job.Panels[0].Banded = 1
	d.Done = []export.DoneRow{}
	return d, left
}

// What earlier plans took is off the stock of the job that goes on, and what they left
// is on it; no sheet to spare is bought twice.
func TestResumeBefore(t *testing.T) {
	d, left := goneOn(t)
	doc := reread(t, d)
	job := exporttest.Job()
	job.Stock[0].Available, job.Spare = 7, 1
	q, err := doc.Resume(job)
	if err != nil {
		t.Fatal(err)
	}
	if q.Stock[0].Available != 5 || q.Spare != 0 || q.Panels[0].Banded != 1 {
		t.Errorf("%d sheets, %d to spare, band of %d; want 5, 0, 1", q.Stock[0].Available, q.Spare, q.Panels[0].Banded)
	}
	got := q.Stock[len(q.Stock)-1]
	left.Pos, left.Breaks, left.Yard = got.Pos, nil, ""
	if !reflect.DeepEqual(got, left) {
		t.Errorf("left\n%+v\nwant\n%+v", got, left)
	}
	if job.Stock[0].Available != 7 {
		t.Error("the job of the file was changed")
	}
	job.Stock[0].Available = parts.Unlimited
	if q, err = doc.Resume(job); err != nil || q.Stock[0].Available != parts.Unlimited {
		t.Errorf("unlimited stock has become %d, %v", q.Stock[0].Available, err)
	}
}

// A file that says what cannot be is refused, all of it at once.
func TestResumeRefusesBefore(t *testing.T) {
	d, _ := goneOn(t)
	doc := reread(t, d)
	job := exporttest.Job()
	job.Stock[0].Available = 1
	b := doc.Before
	b.Taken = append(b.Taken, planjson.Taken{Stock: "whale", Material: "bone", Count: 1}, planjson.Taken{Stock: job.Stock[0].Name, Material: job.Stock[0].Material, Count: -1})
	b.Left[0].Count = 0
	b.Left = append(b.Left, planjson.Left{Stock: "plank", Length: "1e9", Width: "0", Count: 1, Trim: planjson.Trim{Left: "0", Right: "0", Bottom: "0", Top: "0"}})
	b.Banded = append(b.Banded, planjson.Banded{Part: "whale", Copies: 1}, planjson.Banded{Part: job.Panels[0].Name, Copies: -1})
	_, err := doc.Resume(job)
	if err == nil {
		t.Fatal("accepted")
	}
	for _, want := range []string{"were taken before, and the job has 1", "no such stock", "-1 sheets of", "0 of them is no count", `"1e9" is no length`, "no such panel", "of -1 copies"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%v\ndoes not say %q", err, want)
		}
	}
}

// Whatever is read, no stock of the job that goes on is unlimited which was not.
func FuzzResume(f *testing.F) {
	d := exporttest.Dossier(f, exporttest.Job(), kerf.Saw)
	d.Before = &export.Before{Taken: []rest.Taken{{Stock: d.Job.Stock[0].Name, Material: d.Job.Stock[0].Material, Count: 2}}}
	var b bytes.Buffer
	if err := planjson.Write(&b, d); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, src []byte) {
		doc, err := planjson.Read(bytes.NewReader(src))
		if err != nil {
			return
		}
		job := exporttest.Job()
		for i := range job.Stock {
			job.Stock[i].Available = 2
		}
		q, err := doc.Resume(job)
		if err != nil {
			return
		}
		for i := range q.Stock {
			if s := &q.Stock[i]; s.Available < 0 || s.Length <= 0 || s.Length > length.Max {
				t.Errorf("%+v", s)
			}
		}
	})
}
