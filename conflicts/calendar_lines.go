package conflicts

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	ics "github.com/arran4/golang-ical"
)

// Bounds on what stands before the value of a line. The library's time to
// read parameters grows with their number times the line's length.
const (
	maxHead       = 1 << 10
	maxParameters = 20
)

// beginsCalendar reports whether a text says of itself that it is a calendar.
func beginsCalendar(body []byte) bool {
	return bytes.Contains(bytes.ToUpper(body[:min(len(body), maxLine)]), []byte("BEGIN:VCALENDAR"))
}

// contentLine is one line of a calendar, unfolded (RFC 5545 3.1).
type contentLine struct {
	no   int // of its first line in the file, from 1
	text string
}

// unfold gives each content line to each. Lines may end in CRLF, LF or CR.
func (l *lister) unfold(body string, each func(contentLine)) {
	var line contentLine
	var folded strings.Builder
	end := func() {
		if folded.Len() > 0 {
			line.text = folded.String()
			folded = strings.Builder{}
		}
		switch {
		case len(line.text) > maxLine:
			l.leaveOut(line.no, line.text[:min(40, len(line.text))], "the line is longer than 64 KB")
		case strings.TrimSpace(line.text) != "":
			each(line)
		}
		line.text = ""
	}
	for no := 1; body != ""; no++ {
		if no > maxLines {
			l.short = true
			l.leaveOut(no, "", "only the first %d lines were read", maxLines)
			break
		}
		var text string
		text, body = cutLine(body)
		if text == "" || text[0] != ' ' && text[0] != '\t' {
			end()
			line = contentLine{no, text}
			continue
		}
		if folded.Len() == 0 {
			folded.WriteString(line.text)
		}
		if folded.Len() <= maxLine {
			folded.WriteString(text[1:])
		}
	}
	end()
}

// cutLine takes the first line off s, without what ends it.
func cutLine(s string) (line, rest string) {
	i := strings.IndexAny(s, "\r\n")
	if i < 0 {
		return s, ""
	}
	line, rest = s[:i], s[i+1:]
	if s[i] == '\r' {
		rest = strings.TrimPrefix(rest, "\n")
	}
	return line, rest
}

// name is the property's name in capitals, or empty where the line is none.
func (c contentLine) name() string {
	i := strings.IndexFunc(c.text, func(r rune) bool {
		return !(r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-')
	})
	if i <= 0 || c.text[i] != ':' && c.text[i] != ';' {
		return ""
	}
	return strings.ToUpper(c.text[:i])
}

// property is one property of a component, its names in capitals.
type property struct {
	line   int
	name   string
	value  string // TEXT is unescaped
	params map[string][]string
}

// param is the first value of a parameter, or empty.
func (p *property) param(name string) string {
	if v := p.params[name]; len(v) > 0 {
		return v[0]
	}
	return ""
}

// parse reads a content line whose name is known.
func (c contentLine) parse(name string) (*property, error) {
	if err := checkHead(c.text); err != nil {
		return nil, err
	}
	// The library knows which values are TEXT by names in capitals.
	base, err := ics.ParseProperty(ics.ContentLine(name + c.text[len(name):]))
	if err != nil || base == nil {
		return nil, errors.New("its parameters cannot be read")
	}
	p := &property{line: c.no, name: name, value: base.Value}
	if len(base.ICalParameters) > 0 {
		p.params = make(map[string][]string, len(base.ICalParameters))
		for k, v := range base.ICalParameters {
			p.params[strings.ToUpper(k)] = v
		}
	}
	return p, nil
}

// checkHead refuses a line that would keep the library busy.
func checkHead(line string) error {
	quoted, parameters := false, 0
	for i := range len(line) {
		switch c := line[i]; {
		case i == maxHead:
			return errors.New("its parameters are longer than 1 KB")
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == ':':
			return nil
		case c == ';' || c == ',':
			if parameters++; parameters > maxParameters {
				return fmt.Errorf("it has more than %d parameters", maxParameters)
			}
		}
	}
	return errors.New("it has no colon")
}
