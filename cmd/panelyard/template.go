package main

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"panelyard/export"
	"panelyard/export/template"
	"panelyard/parts"
	"panelyard/parts/diag"
)

// templateFlags are the flags of template, as they were written.
type templateFlags struct {
	measureFlags

	variant               string
	paper                 string
	landscape             bool
	overlap, margin       string
	cut, finished, mirror bool
	out, svg              string
	figures               figureFlags
}

func templateCommand(s streams) *cobra.Command {
	var f templateFlags
	c := &cobra.Command{
		Use:   "template JOB PANEL",
		Short: "Draw a panel at true size, on pages to tape together or on one sheet",
		Long: `Draw the outline of a panel of the job file JOB at true size, with its openings, centre
lines, edge bands and the kerfs of a bend. PANEL is its name in the plan; the name of a
pair is its left panel.

With --out, a PDF in pages that overlap and have crosses to lay them over each other;
its first page says which page goes where. Pages with nothing to draw are left out. With
--svg, one sheet as large as the panel. Print at 100 %, actual size, and measure the
ruler of each page before you trust it.`,
		Example: "  panelyard template kiosk.yaml side --out side.pdf\n" +
			"  panelyard template kiosk.yaml side-right --finished --paper a3 --landscape --out side.pdf\n" +
			"  panelyard template kiosk.yaml \"display front\" --mirror --svg front.svg",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("template wants a job file and the name of a panel, got %d arguments; see panelyard template --help", len(args))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return f.run(s, args[0], args[1]) },
	}
	f.set = c.Flags()
	f.set.StringVar(&f.variant, "variant", "", "variant of the job; without it the job as written")
	f.set.StringVar(&f.paper, "paper", template.DefaultPaper, "paper: "+strings.Join(template.PaperNames(), ", "))
	f.set.BoolVar(&f.landscape, "landscape", false, "pages are wider than high")
	f.set.StringVar(&f.overlap, "overlap", template.DefaultOverlap.String(), "strip that neighbouring pages have in common")
	f.set.StringVar(&f.margin, "margin", template.DefaultMargin.String(), "of each page, where the printer does not print")
	f.set.BoolVar(&f.cut, "cut", false, "the size the panel is cut to, without edge bands; this is what is drawn if nothing is said")
	f.set.BoolVar(&f.finished, "finished", false, "the finished size, edge bands included")
	f.set.BoolVar(&f.mirror, "mirror", false, "mirrored, as the back of the panel is seen")
	f.figures.add(f.set)
	f.set.StringVar(&f.out, "out", "", "file for the PDF")
	f.set.StringVar(&f.svg, "svg", "", "file for the SVG")
	return c
}

// run is the command template.
func (f *templateFlags) run(s streams, file, panel string) error {
	if err := errors.Join(f.usage(), f.figures.check()); err != nil {
		return err
	}
	job, err := readJob(s, file, f.variant, f.figures)
	if err != nil {
		return err
	}
	opt := template.Options{Paper: f.paper, Landscape: f.landscape}
	var list diag.List
	opt.Overlap = f.length(&list, "overlap", f.overlap, job.Units)
	opt.Margin = f.length(&list, "margin", f.margin, job.Units)
	x, more := template.New(job, panel, f.finished, f.mirror)
	if list = append(list, more...); len(list) > 0 {
		return list
	}
	return f.write(s, x, opt)
}

// usage returns what is wrong with the flags by themselves.
func (f *templateFlags) usage() error {
	var list diag.List
	if f.cut && f.finished {
		f.mistake(&list, "finished", "it contradicts --cut", "give one of them: --cut is without edge bands, --finished with them")
	}
	f.file(&list, "out", f.out, "side.pdf")
	f.file(&list, "svg", f.svg, "side.svg")
	switch {
	case !f.set.Changed("out") && !f.set.Changed("svg"):
		list.Add(diag.Pos{}, "", "the template has no file to go to", "give --out FILE.pdf, or --svg FILE.svg, or both")
	case f.out != "" && f.out == f.svg:
		f.mistake(&list, "svg", fmt.Sprintf("%.80q is also the file of --out", f.svg), "give two files")
	}
	return list.Err()
}

// write writes the files and says what is in them. Both are complete before either is
// written.
func (f *templateFlags) write(s streams, x *template.Template, opt template.Options) error {
	var pages []template.Page
	var files []output
	var doc, sheet bytes.Buffer
	if f.out != "" {
		var list diag.List
		if pages, list = template.Pages(x, opt); len(list) > 0 {
			return list
		}
		if err := template.WritePDF(&doc, x.Title(), pages); err != nil {
			return fmt.Errorf("cannot draw the template: %w", err)
		}
		files = append(files, output{f.out, "--out", "drawing", doc.Bytes()})
	}
	if f.svg != "" {
		if err := template.WriteSVG(&sheet, x.Title(), template.Sheet(x)); err != nil {
			return fmt.Errorf("cannot draw the template: %w", err)
		}
		files = append(files, output{f.svg, "--svg", "drawing", sheet.Bytes()})
	}
	if err := writeOver("template", files...); err != nil {
		return err
	}
	f.report(s, x, pages)
	return nil
}

// report says what was drawn and where.
func (f *templateFlags) report(s streams, x *template.Template, pages []template.Page) {
	write := export.LengthsOf(x.Job)
	size := "cut size"
	if x.Finished {
		size = "finished size"
	}
	face := "the good face"
	if x.Mirrored {
		face = "the back"
	}
	hand := ""
	if x.Panel.Hand != parts.NoHand {
		hand = fmt.Sprintf(" (%s)", x.Panel.Hand)
	}
	s.say("%s%s, %s %s %s, seen from %s", x.Panel.Name, hand, size, write.Size(x.Outline.Box().Size()), write.Unit(), face)
	if len(pages) > 0 {
		s.say("%s and the page map", count(len(pages)-1, "page"))
	}
	s.say("print at 100 %%, actual size, and measure the ruler before you cut\n")
	for _, file := range []string{f.out, f.svg} {
		if file != "" {
			s.say("look   %s", file)
		}
	}
}
