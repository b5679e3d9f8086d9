package conflicts

import (
	"bytes"
	"encoding/binary"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// decode16 drops a byte order mark, and turns UTF-16 into UTF-8 where the
// mark says that it is.
func decode16(b []byte) []byte {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(b, []byte("\xef\xbb\xbf")):
		return b[3:]
	case bytes.HasPrefix(b, []byte("\xff\xfe")):
		order = binary.LittleEndian
	case bytes.HasPrefix(b, []byte("\xfe\xff")):
		order = binary.BigEndian
	default:
		return b
	}
	units := make([]uint16, 0, len(b)/2)
	for b = b[2:]; len(b) > 1; b = b[2:] {
		units = append(units, order.Uint16(b))
	}
	return []byte(string(utf16.Decode(units)))
}

// windows1252 is what the bytes 0x80 to 0x9f mean on western Windows; the
// ones above are the same as in Unicode.
var windows1252 = []rune("€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ")

// utf8Text is s, read as western Windows wrote it where it is not UTF-8.
func utf8Text(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	for i := range len(s) {
		c := rune(s[i])
		if c >= 0x80 && c < 0xa0 {
			c = windows1252[c-0x80]
		}
		b.WriteRune(c)
	}
	return b.String()
}

// clean is s in one line: every run of blanks and control characters is one
// space, and there are at most so many runes, the last being an ellipsis
// where there were more.
func clean(s string, most int) string {
	var b strings.Builder
	n, blank := 0, false
	for _, r := range utf8Text(s) {
		if unicode.IsSpace(r) || unicode.IsControl(r) || unicode.In(r, unicode.Cf) && r != zeroWidthJoiner {
			blank = blank || unicode.IsSpace(r) || unicode.IsControl(r)
			continue
		}
		if n >= most-1 {
			b.WriteRune('…')
			break
		}
		if blank && n > 0 {
			b.WriteByte(' ')
			n++
		}
		b.WriteRune(r)
		n++
		blank = false
	}
	return b.String()
}

// zeroWidthJoiner holds some scripts and signs together; the other format
// characters can turn the line that they stand in around.
const zeroWidthJoiner = '\u200d'
