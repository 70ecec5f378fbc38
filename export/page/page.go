// Package page is what the pages and JSON files of decisions (what to build, how many, out
// of what) have in common: a style for screen and paper, shades that are told apart
// without colour, and writers that write a document in one piece.
package page

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"html/template"
	"io"
	"strconv"
)

//go:embed page.css
var style string

// Write writes a page from its template, in which style is the common style. A page has
// no scripts and needs no network. The error is the writer's, or a defect of the page.
func Write(w io.Writer, source string, funcs template.FuncMap, data any) error {
	t, err := template.New("page").Funcs(template.FuncMap{"style": func() template.CSS { return template.CSS(style) }}).Funcs(funcs).Parse(source)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := t.Execute(&b, data); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// JSON writes a document, indented, its text as it is. The error is the writer's.
func JSON(w io.Writer, document any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(document); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}

// Number writes a number for JSON without an exponent.
func Number(v float64, decimals int) json.Number {
	return json.Number(strconv.FormatFloat(v, 'f', decimals, 64))
}

// Shades is how many shades there are.
const Shades = 4

// Shade returns a shade, from dark to light; they are told apart by their borders too.
func Shade(i int) string { return [Shades]string{"#333", "#888", "#ccc", "#fff"}[i] }

// Key draws the mark of a key, 28 wide and 12 high.
func Key(mark string) template.HTML {
	return template.HTML(`<svg viewBox="0 0 28 12" aria-hidden="true">` + mark + `</svg>`)
}
