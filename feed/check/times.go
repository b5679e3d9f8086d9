package check

import (
	"fmt"
	"regexp"
	"strings"
	"time"
)

// form is which of the four forms a date or time is in (RFC 5545 3.3.4, 3.3.5).
type form int

const (
	date     form = iota + 1
	floating      // form 1, with local time
	inUTC         // form 2, with UTC time
	zoned         // form 3, with local time and a time zone reference
)

// moment is a DATE or DATE-TIME as written. Its clock is kept in UTC whatever
// its form: it is a reading of a clock, and says nothing of where the clock is.
type moment struct {
	form  form
	clock time.Time
	tzid  string
}

// The two layouts. time.Parse would take a fraction of a second too, so that
// isForm holds a value to the length as well.
const (
	dateForm     = "20060102"
	dateTimeForm = "20060102T150405"
)

// readMoment reads a property's value, or returns what is wrong with it.
func readMoment(p property) (moment, string) {
	tzid, hasZone := p.params["TZID"]
	if strings.EqualFold(p.params["VALUE"], "DATE") {
		return readDate(p.value, hasZone)
	}
	if isForm(p.value, dateForm) {
		return moment{}, fmt.Sprintf("%s is a date without VALUE=DATE (RFC 5545 3.3.4)", p.value)
	}
	local, isUTC := strings.CutSuffix(p.value, "Z")
	if !isForm(local, dateTimeForm) {
		return moment{}, fmt.Sprintf("%s is no date-time (RFC 5545 3.3.5)", show(p.value))
	}
	m := moment{form: floating, tzid: tzid}
	m.clock, _ = time.Parse(dateTimeForm, local)
	switch {
	case isUTC && hasZone:
		return moment{}, "is in UTC and has a TZID (RFC 5545 3.2.19)"
	case isUTC:
		m.form = inUTC
	case hasZone:
		m.form = zoned
	}
	return m, ""
}

func readDate(value string, hasZone bool) (moment, string) {
	if !isForm(value, dateForm) {
		return moment{}, fmt.Sprintf("%s is no date (RFC 5545 3.3.4)", show(value))
	}
	if hasZone {
		return moment{}, "is a date and has a TZID (RFC 5545 3.2.19)"
	}
	day, _ := time.Parse(dateForm, value)
	return moment{form: date, clock: day}, ""
}

func isForm(value, layout string) bool {
	_, err := time.Parse(layout, value)
	return err == nil && len(value) == len(layout)
}

func whenFault(p property) string {
	_, fault := readMoment(p)
	return fault
}

func utcFault(p property) string {
	m, fault := readMoment(p)
	if fault == "" && m.form != inUTC {
		return fmt.Sprintf("%s is not in UTC (RFC 5545 3.8.7)", p.value)
	}
	return fault
}

// durationForm is dur-value of RFC 5545 3.3.6: weeks alone, or days and then a
// time that leaves out no unit between two that it has.
var durationForm = regexp.MustCompile(`^([+-]?)P(?:\d+W|\d+D(?:` + timeForm + `)?|` + timeForm + `)$`)

const timeForm = `T(?:\d+H(?:\d+M(?:\d+S)?)?|\d+M(?:\d+S)?|\d+S)`

func durationFault(p property) string {
	m := durationForm.FindStringSubmatch(p.value)
	switch {
	case m == nil:
		return fmt.Sprintf("is %s, no duration (RFC 5545 3.3.6)", show(p.value))
	case m[1] == "-" || !strings.ContainsAny(p.value, "123456789"):
		return fmt.Sprintf("is %s, not a positive duration", show(p.value))
	}
	return ""
}

// intervalFault is of REFRESH-INTERVAL, which has no default type: VALUE must
// be said (RFC 7986 5.7).
func intervalFault(p property) string {
	if _, said := p.params["VALUE"]; !said {
		return "has no VALUE=DURATION (RFC 7986 5.7)"
	}
	return durationFault(p)
}

// beforeFault is of a TRIGGER: before the start, since that is the one form
// that every client reads alike.
func beforeFault(p property) string {
	if related := p.params["RELATED"]; related != "" && !strings.EqualFold(related, "START") {
		return fmt.Sprintf("is related to %s, in a feed it is to START", show(related))
	}
	m := durationForm.FindStringSubmatch(p.value)
	switch {
	case m == nil:
		return fmt.Sprintf("is %s, no duration (RFC 5545 3.3.6)", show(p.value))
	case m[1] != "-" || !strings.ContainsAny(p.value, "123456789"):
		return fmt.Sprintf("is %s, not before the start", show(p.value))
	}
	return ""
}

func offsetFault(p property) string {
	if _, ok := readOffset(p.value); !ok {
		return fmt.Sprintf("is %s, no UTC offset (RFC 5545 3.3.14)", show(p.value))
	}
	return ""
}

var offsetForm = regexp.MustCompile(`^[+-](?:[01]\d|2[0-3])[0-5]\d(?:[0-5]\d)?$`)

// readOffset reads (+/-)hhmm[ss]; minus nought is not one.
func readOffset(value string) (time.Duration, bool) {
	if !offsetForm.MatchString(value) {
		return 0, false
	}
	unit := [...]time.Duration{10 * time.Hour, time.Hour, 10 * time.Minute, time.Minute, 10 * time.Second, time.Second}
	var d time.Duration
	for i, c := range value[1:] {
		d += time.Duration(c-'0') * unit[i]
	}
	if value[0] == '-' {
		return -d, d != 0
	}
	return d, true
}
