package check

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// kind is a value type (RFC 5545 3.3): what VALUE may call it, and what is
// wrong with a value of it, as the end of a sentence that the property's name
// begins; "" where nothing is.
type kind struct {
	types  []string
	faults func(property) string
}

// value checks a value by its kind.
func (r *report) value(p property, k kind) {
	says := ""
	switch named, given := p.params["VALUE"]; {
	case given && k.types != nil && !slices.Contains(k.types, strings.ToUpper(named)):
		says = fmt.Sprintf("is said to be %s, it is %s (RFC 5545 3.2.20)", show(named), strings.Join(k.types, " or "))
	default:
		says = k.faults(p)
	}
	if says != "" {
		r.add(p.n, "%s %s", clip(p.name), says)
	}
}

var (
	anything = kind{nil, func(property) string { return "" }}
	text     = kind{[]string{"TEXT"}, func(p property) string { return textFault(p.value, `;,`) }}
	texts    = kind{[]string{"TEXT"}, func(p property) string { return textFault(p.value, `;`) }}
	words    = kind{[]string{"TEXT"}, wordsFault}
	// extension is an X- property: of any type, and TEXT where it names none
	// (RFC 5545 3.8.8.2).
	extension = kind{nil, extensionFault}
	uri       = kind{[]string{"URI"}, uriFault}
	address   = kind{[]string{"CAL-ADDRESS"}, uriFault}
	count     = kind{[]string{"INTEGER"}, countFault}
	offset    = kind{[]string{"UTC-OFFSET"}, offsetFault}
	geo       = kind{[]string{"FLOAT"}, geoFault}
	duration  = kind{[]string{"DURATION"}, durationFault}
	interval  = kind{[]string{"DURATION"}, intervalFault}
	before    = kind{[]string{"DURATION"}, beforeFault}
	when      = kind{[]string{"DATE", "DATE-TIME"}, whenFault}
	utc       = kind{[]string{"DATE-TIME"}, utcFault}
)

// oneOf is a TEXT of a few given words.
func oneOf(allowed ...string) kind {
	return kind{[]string{"TEXT"}, func(p property) string {
		if slices.Contains(allowed, p.value) {
			return ""
		}
		return fmt.Sprintf("is %s, not %s", show(p.value), strings.Join(allowed, " or "))
	}}
}

// textFault finds what must be escaped and is not, and what is escaped and
// cannot be. A comma may stand bare between the values of a list.
func textFault(value, bare string) string {
	for i := 0; i < len(value); i++ {
		switch c := value[i]; {
		case strings.IndexByte(bare, c) >= 0:
			return fmt.Sprintf("has a bare %q (RFC 5545 3.3.11)", c)
		case c != '\\':
		case i+1 == len(value):
			return "ends in a backslash (RFC 5545 3.3.11)"
		case strings.IndexByte(`\;,nN`, value[i+1]) < 0:
			escaped, _ := utf8.DecodeRuneInString(value[i+1:])
			return fmt.Sprintf(`escapes %q, which has no escape (RFC 5545 3.3.11)`, escaped)
		default:
			i++
		}
	}
	return ""
}

// wordsFault is of a TEXT that says nothing when it is empty.
func wordsFault(p property) string {
	if strings.TrimSpace(p.value) == "" {
		return "is empty"
	}
	return textFault(p.value, `;,`)
}

func extensionFault(p property) string {
	if named := p.params["VALUE"]; named != "" && !strings.EqualFold(named, "TEXT") {
		return ""
	}
	return textFault(p.value, `;`)
}

// uriForm is a scheme and then only what RFC 3986 2 lets stand unescaped.
var uriForm = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9+.-]*:(?:[A-Za-z0-9._~:/?#\[\]@!$&'()*+,;=-]|%[0-9A-Fa-f]{2})+$`)

func uriFault(p property) string {
	if uriForm.MatchString(p.value) {
		return ""
	}
	return fmt.Sprintf("is %s, no URI (RFC 5545 3.3.13)", show(p.value))
}

// countFault is of an INTEGER, which has 32 bits, that counts something.
func countFault(p property) string {
	if n, err := strconv.ParseInt(p.value, 10, 32); err == nil && n >= 0 {
		return ""
	}
	return fmt.Sprintf("is %s, no count (RFC 5545 3.3.8)", show(p.value))
}

var geoForm = regexp.MustCompile(`^([+-]?\d+(?:\.\d+)?);([+-]?\d+(?:\.\d+)?)$`)

func geoFault(p property) string {
	m := geoForm.FindStringSubmatch(p.value)
	if m == nil {
		return fmt.Sprintf("is %s, not latitude;longitude (RFC 5545 3.8.1.6)", show(p.value))
	}
	lat, _ := strconv.ParseFloat(m[1], 64)
	long, _ := strconv.ParseFloat(m[2], 64)
	if lat < -90 || lat > 90 || long < -180 || long > 180 {
		return fmt.Sprintf("%s is nowhere on earth (RFC 5545 3.8.1.6)", show(p.value))
	}
	return ""
}

// clip shortens a name from the stream that stands in a sentence unquoted.
func clip(name string) string {
	const long = 40
	if len(name) > long || strings.ContainsFunc(name, func(c rune) bool { return !isNameRune(c) }) {
		return show(name)
	}
	return name
}
