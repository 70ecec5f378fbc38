package xlsx

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"io/fs"
	"maps"
	"slices"
	"time"

	"github.com/xuri/excelize/v2"
)

// pack takes the parts of a workbook from the library and zips them in the order
// of their names, which begins with [Content_Types].xml, and without times: the
// library itself writes streamed worksheets in the order of a map.
type pack struct {
	w     io.Writer
	parts map[string]*bytes.Buffer
}

var _ excelize.ZipWriter = (*pack)(nil)

func newPack(w io.Writer) *pack { return &pack{w: w, parts: map[string]*bytes.Buffer{}} }

// Create returns a writer for a part.
func (p *pack) Create(name string) (io.Writer, error) {
	b := new(bytes.Buffer)
	p.parts[name] = b
	return b, nil
}

// AddFS is not used by the library for workbooks it made itself.
func (p *pack) AddFS(fs.FS) error { return errors.New("xlsx: no file system can be packed") }

// Close writes the archive.
func (p *pack) Close() error {
	// The first day that a zip archive can hold.
	noTime := time.Date(1980, time.January, 1, 0, 0, 0, 0, time.UTC)
	z := zip.NewWriter(p.w)
	for _, name := range slices.Sorted(maps.Keys(p.parts)) {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: noTime})
		if err != nil {
			return err
		}
		part := p.parts[name].Bytes()
		if name == "[Content_Types].xml" {
			if part, err = sorted(part); err != nil {
				return err
			}
		}
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return z.Close()
}
