package check

import (
	"bytes"
	"unicode/utf8"
)

// physical is a line as it stands in the stream, its line end taken off.
type physical struct {
	n    int
	text []byte
}

// split cuts the stream into physical lines and checks what can be said of
// each by itself. A bare LF is reported and still ends its line: every line
// after it can then be read.
func (r *report) split(b []byte) []physical {
	if len(b) == 0 {
		r.add(1, "nothing here, not even a calendar (RFC 5545 3.4)")
	}
	b, marked := bytes.CutPrefix(b, []byte("\uFEFF"))
	if marked {
		r.add(1, "a byte order mark before the first line (RFC 5545 3.4)")
	}
	var lines []physical
	for n := 1; len(b) > 0; n++ {
		text, rest, ended := bytes.Cut(b, []byte("\n"))
		b = rest
		line := physical{n, bytes.TrimSuffix(text, []byte("\r"))}
		r.lineEnd(n, ended, len(line.text) < len(text))
		r.octets(line)
		lines = append(lines, line)
	}
	return lines
}

func (r *report) lineEnd(n int, lf, cr bool) {
	switch {
	case !lf:
		r.add(n, "the stream ends without CRLF (RFC 5545 3.1)")
	case !cr:
		r.add(n, "ends in a bare LF, not CRLF (RFC 5545 3.1)")
	}
}

// maxOctets is the length of a line without its line end (RFC 5545 3.1).
const maxOctets = 75

func (r *report) octets(line physical) {
	if len(line.text) == 0 {
		r.add(line.n, "an empty line (RFC 5545 3.1)")
	}
	if len(line.text) > maxOctets {
		r.add(line.n, "%d octets, the limit is %d (RFC 5545 3.1)", len(line.text), maxOctets)
	}
	if i := bytes.IndexFunc(line.text, isControl); i >= 0 {
		if line.text[i] == '\r' {
			r.add(line.n, "a bare CR (RFC 5545 3.1)")
			return
		}
		r.add(line.n, "control character 0x%02X (RFC 5545 3.1)", line.text[i])
	}
}

// isControl is the CONTROL of RFC 5545 3.1: HTAB is not one.
func isControl(r rune) bool { return r < ' ' && r != '\t' || r == 0x7F }

// unfolded is a content line put together again from its physical lines.
type unfolded struct {
	n     int
	text  []byte
	folds []fold
}

// fold is where in the text a physical line began, and which one.
type fold struct{ at, n int }

// unfold undoes folding (RFC 5545 3.1). It works on octets, as a client may
// do, so that a fold inside a rune is seen before anything mends it.
func (r *report) unfold(lines []physical) []unfolded {
	var out []unfolded
	for _, line := range lines {
		switch {
		case len(line.text) == 0:
		case line.text[0] != ' ' && line.text[0] != '\t':
			out = append(out, unfolded{n: line.n, text: bytes.Clone(line.text)})
		case len(out) == 0:
			r.add(line.n, "folded, with no line before it (RFC 5545 3.1)")
		default:
			last := &out[len(out)-1]
			last.folds = append(last.folds, fold{len(last.text), line.n})
			last.text = append(last.text, line.text[1:]...)
		}
	}
	for _, u := range out {
		r.runes(u)
	}
	return out
}

// runes tells a fold inside a rune, which unfolding mends but a client that
// decodes line by line does not, from octets that are no UTF-8 at all.
func (r *report) runes(u unfolded) {
	if at := badOctet(u.text); at >= 0 {
		r.add(u.lineAt(at), "not UTF-8 (RFC 5545 3.1.4)")
		return
	}
	for _, f := range u.folds {
		if f.at < len(u.text) && !utf8.RuneStart(u.text[f.at]) {
			r.add(f.n, "the fold before it is inside a rune (RFC 5545 3.1)")
		}
	}
}

// lineAt is the physical line that holds the octet at an offset.
func (u unfolded) lineAt(at int) int {
	n := u.n
	for _, f := range u.folds {
		if f.at <= at {
			n = f.n
		}
	}
	return n
}

// badOctet is the offset of the first octet that is no UTF-8, or -1.
func badOctet(text []byte) int {
	for i := 0; i < len(text); {
		c, size := utf8.DecodeRune(text[i:])
		if c == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}
