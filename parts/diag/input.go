package diag

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"unicode"
)

// ErrDirectory is the error of a folder in the place of a file.
var ErrDirectory = errors.New("is a directory")

// TooLarge is the error of a file that has more bytes than it may have: this many,
// whole MiB.
type TooLarge int

// Error says how large a file may be.
func (most TooLarge) Error() string { return fmt.Sprintf("is larger than %d MiB", int(most)>>20) }

// ReadFile reads a file, never more of it than the bytes allowed. The error is a
// fact for a [Finding], without the name of the file: [ErrDirectory], [TooLarge],
// or what the system says.
func ReadFile(path string, most int) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, unread(err)
	}
	defer f.Close()
	st, err := f.Stat()
	switch {
	case err != nil:
		return nil, unread(err)
	case st.IsDir():
		return nil, ErrDirectory
	case st.Size() > int64(most):
		return nil, TooLarge(most)
	}
	src, err := io.ReadAll(io.LimitReader(f, int64(most)+1))
	switch {
	case err != nil:
		return nil, unread(err)
	case len(src) > most: // it has grown, or is no regular file
		return nil, TooLarge(most)
	}
	return src, nil
}

// unread is an error of the system without the path, which findings carry.
func unread(err error) error {
	if pe := new(fs.PathError); errors.As(err, &pe) {
		err = pe.Err
	}
	return fmt.Errorf("cannot be read: %w", err)
}

// Unprintable reports whether c is a control character, one that turns the
// direction of the text around it, or none at all (Unicode, general category Cc,
// the property Bidi_Control, and noncharacters).
func Unprintable(c rune) bool {
	return unicode.IsControl(c) || unicode.Is(unicode.Bidi_Control, c) ||
		c == '\u2028' || c == '\u2029' || c&0xfffe == 0xfffe || c >= 0xfdd0 && c <= 0xfdef
}

// Brief is the text of an error, cut short.
func Brief(err error) string {
	if r := []rune(err.Error()); len(r) > 160 {
		return string(r[:160]) + "…"
	}
	return err.Error()
}
