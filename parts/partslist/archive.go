package partslist

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
	"unicode/utf16"
)

// The first bytes of a ZIP archive with files (APPNOTE.TXT 4.3.7) and of a
// compound file ([MS-CFB] 2.2), which holds old workbooks and encrypted ones.
const (
	zipMagic      = "PK\x03\x04"
	compoundMagic = "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
)

const saveRemedy = "save it as an .xlsx workbook or as CSV in UTF-8"

// compound says why a compound file is not read: an encrypted workbook names its
// stream EncryptedPackage, in UTF-16 ([MS-OFFCRYPTO] 2.3.4.4, from memory).
func (r *reader) compound(src []byte) {
	var name []byte
	for _, c := range utf16.Encode([]rune("EncryptedPackage")) {
		name = append(name, byte(c), byte(c>>8))
	}
	if bytes.Contains(src, name) {
		r.whole("is protected by a password", "open it with the password and save a copy without one")
		return
	}
	r.whole("is an old binary workbook (.xls), or another file of that kind", saveRemedy)
}

// archive is the files of a workbook, unpacked when they are asked for.
type archive struct {
	files map[string]*zip.File
	left  int64 // bytes that may still be unpacked
}

// The errors of an archive.
var (
	errTooBig  = fmt.Errorf("unpacks to more than %d MiB", MaxUnpacked>>20)
	errRatio   = fmt.Errorf("unpacks to more than %d times its size", MaxRatio)
	errMissing = errors.New("is missing")
	errDeep    = fmt.Errorf("is nested more than %d deep", MaxDepth)
)

// openArchive looks at the directory of an archive: nothing is unpacked before its
// sizes are within the limits. That the sizes are true is enforced by unpack.
func openArchive(src []byte) (*archive, error) {
	z, err := zip.NewReader(bytes.NewReader(src), int64(len(src)))
	if err != nil {
		return nil, fmt.Errorf("is a damaged archive: %w", err)
	}
	if len(z.File) > MaxParts {
		return nil, fmt.Errorf("holds %d files, more than %d", len(z.File), MaxParts)
	}
	a := &archive{files: map[string]*zip.File{}, left: MaxUnpacked}
	var total uint64
	for _, f := range z.File {
		name := partName(f.Name)
		switch {
		case a.files[name] != nil:
			return nil, fmt.Errorf("holds two files %q", clip(f.Name))
		case f.Flags&1 != 0: // APPNOTE.TXT 4.4.4
			return nil, fmt.Errorf("holds an encrypted file %q", clip(f.Name))
		case f.UncompressedSize64 > MaxUnpacked:
			return nil, errTooBig
		case tooDense(f.UncompressedSize64, f.CompressedSize64):
			return nil, errRatio
		}
		a.files[name] = f
		total += f.UncompressedSize64 // at most MaxParts times MaxUnpacked: no overflow
	}
	switch {
	case total > MaxUnpacked:
		return nil, errTooBig
	case tooDense(total, uint64(len(src))): // files may overlap: each alone looks harmless
		return nil, errRatio
	}
	return a, nil
}

// tooDense reports whether so much from so little is a bomb. Sheets of a few rows
// are packed well, and harmless.
func tooDense(unpacked, packed uint64) bool {
	return unpacked > 1<<20 && unpacked/MaxRatio > packed
}

// partName is the name under which a file is found: part names are compared
// without regard to case (ECMA-376 part 2, 6.2.2.3).
func partName(name string) string {
	return strings.ToLower(strings.TrimPrefix(path.Clean("/"+strings.ReplaceAll(name, `\`, "/")), "/"))
}

// has reports whether the archive holds a file.
func (a *archive) has(name string) bool { return a.files[partName(name)] != nil }

// unpack passes the content of a file to read, never more than its directory entry
// says and than is left. What read leaves is not unpacked.
func (a *archive) unpack(name string, read func(io.Reader) error) error {
	f := a.files[partName(name)]
	if f == nil {
		return errMissing
	}
	rc, err := f.Open()
	if err != nil {
		return fmt.Errorf("cannot be unpacked: %w", err)
	}
	defer rc.Close()
	limited := &io.LimitedReader{R: rc, N: min(a.left, int64(f.UncompressedSize64)) + 1}
	start := limited.N
	err = read(limited)
	a.left -= start - limited.N
	if limited.N <= 0 {
		return errTooBig
	}
	return err
}

// decode reads a small file into a value by encoding/xml.
func (a *archive) decode(name string, into any) error {
	err := a.unpack(name, func(r io.Reader) error {
		return xml.NewTokenDecoder(&shallow{d: xml.NewDecoder(r)}).Decode(into)
	})
	if err != nil {
		return fmt.Errorf("file %q in it: %w", clip(name), err)
	}
	return nil
}

// shallow passes tokens on up to MaxDepth levels.
type shallow struct {
	d     *xml.Decoder
	depth int
}

// Token returns the next token, or errDeep.
func (s *shallow) Token() (xml.Token, error) {
	t, err := s.d.RawToken() // the decoder above matches ends and names
	switch t.(type) {
	case xml.StartElement:
		s.depth++
	case xml.EndElement:
		s.depth--
	}
	if s.depth > MaxDepth {
		return nil, errDeep
	}
	return t, err
}
