package check

import (
	"errors"
	"fmt"
	"strings"
)

// property is one content line (RFC 5545 3.1): names in upper case, quotes of
// parameter values taken off, several values of one parameter joined by commas.
type property struct {
	n      int
	name   string
	params map[string]string
	value  string
}

// properties parses every content line; what has no form is reported and left
// out.
func (r *report) properties(lines []unfolded) []property {
	var out []property
	for _, line := range lines {
		p, err := parse(string(line.text))
		if err != nil {
			r.add(line.n, "%v (RFC 5545 3.1)", err)
			continue
		}
		p.n = line.n
		out = append(out, p)
	}
	return out
}

// parse reads contentline = name *(";" param ) ":" value.
func parse(text string) (property, error) {
	name, rest := cutName(text)
	if name == "" {
		return property{}, fmt.Errorf("%s does not begin with a property name", show(text))
	}
	p := property{name: name, params: map[string]string{}}
	for strings.HasPrefix(rest, ";") {
		var err error
		if rest, err = p.parameter(rest[1:]); err != nil {
			return property{}, fmt.Errorf("%s: %w", clip(name), err)
		}
	}
	value, ok := strings.CutPrefix(rest, ":")
	if !ok {
		return property{}, fmt.Errorf("%s has no colon after it", clip(name))
	}
	p.value = value
	return p, nil
}

// parameter reads param = param-name "=" param-value *("," param-value) and
// returns what follows it.
func (p *property) parameter(text string) (rest string, err error) {
	name, rest := cutName(text)
	if name == "" {
		return "", errors.New("a semicolon with no parameter name after it")
	}
	if !strings.HasPrefix(rest, "=") {
		return "", fmt.Errorf("parameter %s has no value", clip(name))
	}
	if _, twice := p.params[name]; twice {
		return "", fmt.Errorf("parameter %s stands twice", clip(name))
	}
	var values []string
	for more := true; more; more = strings.HasPrefix(rest, ",") {
		var value string
		if value, rest, err = cutValue(rest[1:]); err != nil {
			return "", fmt.Errorf("parameter %s %w", clip(name), err)
		}
		values = append(values, value)
	}
	p.params[name] = strings.Join(values, ",")
	return rest, nil
}

// cutValue takes param-value = paramtext / quoted-string off the front. No
// DQUOTE can stand in either, and a backslash escapes nothing there.
func cutValue(text string) (value, rest string, err error) {
	if quoted, ok := strings.CutPrefix(text, `"`); ok {
		if value, rest, ok = strings.Cut(quoted, `"`); !ok {
			return "", "", errors.New("opens a quote and does not close it")
		}
		if rest != "" && !strings.ContainsRune(",;:", rune(rest[0])) {
			return "", "", errors.New("goes on after its closing quote")
		}
		return value, rest, nil
	}
	end := strings.IndexAny(text, `",;:`)
	if end < 0 {
		return text, "", nil
	}
	if text[end] == '"' {
		return "", "", errors.New("has a quote inside its value")
	}
	return text[:end], text[end:], nil
}

// cutName takes 1*(ALPHA / DIGIT / "-") off the front, in upper case: names are
// the same in any case (RFC 5545 2).
func cutName(text string) (name, rest string) {
	end := strings.IndexFunc(text, func(c rune) bool { return !isNameRune(c) })
	if end < 0 {
		end = len(text)
	}
	return strings.ToUpper(text[:end]), text[end:]
}

func isNameRune(c rune) bool {
	return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || isDigit(c) || c == '-'
}

func isDigit(c rune) bool { return c >= '0' && c <= '9' }
