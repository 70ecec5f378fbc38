package xlsx

import (
	"archive/zip"
	"bytes"
	"cmp"
	"encoding/xml"
	"errors"
	"io"
	"io/fs"
	"maps"
	"slices"
	"time"

	"github.com/xuri/excelize/v2"
)

// contentTypes is the part that lists the kinds of the other parts (ISO/IEC
// 29500-2).
const contentTypes = "[Content_Types].xml"

// pack takes the parts of a workbook from the library and zips them in a fixed
// order without times: the library keeps some lists in the order of a map.
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

// Close writes the archive, the content types first.
func (p *pack) Close() error {
	if b := p.parts[contentTypes]; b != nil {
		sorted, err := sortTypes(b.Bytes())
		if err != nil {
			return err
		}
		p.parts[contentTypes] = bytes.NewBuffer(sorted)
	}
	// The first day that a zip archive can hold.
	noTime := time.Date(1980, time.January, 1, 0, 0, 0, 0, time.UTC)
	z := zip.NewWriter(p.w)
	names := slices.SortedFunc(maps.Keys(p.parts), func(a, b string) int {
		if (a == contentTypes) != (b == contentTypes) {
			if a == contentTypes {
				return -1
			}
			return 1
		}
		return cmp.Compare(a, b)
	})
	for _, name := range names {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: noTime})
		if err != nil {
			return err
		}
		if _, err := w.Write(p.parts[name].Bytes()); err != nil {
			return err
		}
	}
	return z.Close()
}

// sortTypes writes the content types with their entries sorted.
func sortTypes(b []byte) ([]byte, error) {
	type def struct {
		Extension   string `xml:"Extension,attr"`
		ContentType string `xml:"ContentType,attr"`
	}
	type override struct {
		PartName    string `xml:"PartName,attr"`
		ContentType string `xml:"ContentType,attr"`
	}
	var t struct {
		XMLName   xml.Name   `xml:"http://schemas.openxmlformats.org/package/2006/content-types Types"`
		Defaults  []def      `xml:"Default"`
		Overrides []override `xml:"Override"`
	}
	if err := xml.Unmarshal(b, &t); err != nil {
		return nil, err
	}
	slices.SortFunc(t.Defaults, func(a, b def) int { return cmp.Compare(a.Extension, b.Extension) })
	slices.SortFunc(t.Overrides, func(a, b override) int { return cmp.Compare(a.PartName, b.PartName) })
	out, err := xml.Marshal(&t)
	return append([]byte(xml.Header), out...), err
}
