package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"panelyard/export/planjson"
	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/rack"
)

// maxPlan is how many bytes a plan may have.
const maxPlan = 64 << 20

func (f *rackFlags) keepCommand(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "keep PLAN",
		Short: "Put the offcuts that a plan keeps into the rack, and take out what it used up",
		Long: `After the sheets of a plan are cut: put the offcuts that it keeps into the rack, each
with a label to write on the board, and take the boards out of the rack that it used
up. PLAN is plan.json or the folder of the papers. This is done once for a plan,
however often it is asked for.`,
		Example: "  panelyard rack keep kiosk-saw/plan.json",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) != 1 {
				return fmt.Errorf("rack keep wants one plan, plan.json or the folder of the papers; got %d arguments", len(args))
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return f.keep(c, s, args[0]) },
	}
}

// keep is the command rack keep.
func (f *rackFlags) keep(c *cobra.Command, s streams, file string) error {
	unit, list := f.begin(c)
	if err := list.Err(); err != nil {
		return err
	}
	plan, resumed, err := readFinished(file)
	if err != nil {
		return err
	}
	var k rack.Kept
	err = f.change(c.Context(), s, rack.New(unit), func(r *rack.Rack) (err error) {
		k, err = r.Keep(plan)
		return err
	})
	if err != nil {
		return err
	}
	s.warn(k.Warnings)
	if k.Since != "" {
		s.say("the offcuts of this plan are in %s since %s; nothing was changed", f.path(), k.Since)
		return nil
	}
	if resumed {
		s.note("warning: this plan goes on from another one, of which it does not hold the sheets that were cut\n" +
			"    remedy: put that plan in as well, and take out by hand what was cut after it")
	}
	m := newMeasures(unit)
	if len(k.Added) == 0 {
		s.say("%s: no offcut is worth keeping", plan.Name)
	} else {
		s.say("%s: %s put into %s; write the labels on the boards", plan.Name, count(len(k.Added), "offcut"), f.path())
		var rows [][]string
		for i := range k.Added {
			p := &k.Added[i]
			rows = append(rows, []string{p.Label, p.Material, m.to(p.Length) + " x " + m.with(p.Width), grained(p, ""), "left of " + p.From})
		}
		table(s, rows)
	}
	if len(k.Removed) > 0 {
		var labels []string
		for _, p := range k.Removed {
			labels = append(labels, p.Label)
		}
		s.say("used up and taken out: %s", strings.Join(labels, ", "))
	}
	return nil
}

// readFinished reads a plan, from plan.json or the folder that holds it, and reports
// whether it goes on from another one. The error is a list of all that is wrong with it.
func readFinished(file string) (p rack.Plan, resumed bool, err error) {
	file = planFile(file)
	src, err := diag.ReadFile(file, maxPlan)
	if err != nil {
		remedy := "check the name and the permissions of the file"
		if errors.Is(err, fs.ErrNotExist) {
			remedy = "name plan.json, or the folder that plan --out has written"
		}
		return p, false, diag.List{{Pos: diag.Pos{File: file}, Fact: err.Error(), Remedy: remedy, Err: err}}
	}
	var list diag.List
	wrong := func(part, fact string) {
		list.Add(diag.Pos{File: file}, part, fact, "name a plan.json as panelyard plan --out wrote it")
	}
	doc, err := planjson.Read(bytes.NewReader(src))
	digest := ""
	if err == nil {
		digest, err = rack.Digest(src)
	}
	if err != nil {
		wrong("", diag.Brief(err))
	}
	if list != nil {
		return p, false, list
	}
	p = rack.Plan{Digest: digest, Name: doc.Job, Date: today()}
	if doc.Variant != "" {
		p.Name += " (" + doc.Variant + ")"
	}
	resumed = doc.Before != nil || len(doc.Done) > 0
	for i := range doc.Sheets {
		sh := &doc.Sheets[i]
		what := fmt.Sprintf("sheet %.40q", sh.ID)
		size := func(name string, n json.Number) length.Length {
			l, err := planjson.Length(n)
			if err != nil || l <= 0 {
				wrong(what, fmt.Sprintf("%s: %.40q is not a length above 0", name, n))
			}
			return l
		}
		grain, err := rack.ParseGrain(sh.Grain)
		if err != nil {
			wrong(what, "grain: "+err.Error())
		}
		from := strings.TrimSpace(p.Name + " " + sh.ID)
		resumed = resumed || sh.InHand
		if sh.Offcut {
			p.Used = append(p.Used, rack.Piece{Label: sh.Stock, Material: sh.Material, Length: size("length", sh.Length), Width: size("width", sh.Width)})
		}
		for _, o := range sh.Offcuts {
			if o.Keep {
				p.Kept = append(p.Kept, rack.Piece{
					Material: sh.Material, Grain: grain, From: from,
					Length: size("length of an offcut", o.Length), Width: size("width of an offcut", o.Width),
				})
			}
		}
	}
	return p, resumed, list.Err()
}
