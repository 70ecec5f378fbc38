package batch

import (
	_ "embed"
	"html/template"
	"io"

	"panelyard/export/page"
)

//go:embed batch.tmpl
var source string

// HTML writes the batch as one page without scripts that needs no network. The error is
// the writer's, or a defect of the page.
func HTML(w io.Writer, b *Batch) error {
	return page.Write(w, source, template.FuncMap{"charts": b.charts}, b)
}
