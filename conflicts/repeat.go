package conflicts

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/teambition/rrule-go"
)

// Bounds on a rule of repetition.
const (
	maxRule     = 1 << 10 // bytes of its text
	maxInterval = 10_000
	maxADay     = 24 // times on one day

	// room is how many years beyond the last day are looked through at least,
	// before a rule is said never to come again.
	room = 50

	// effort is how much looking for days one source may cause: about one for
	// each day that a rule is held against.
	effort = 3_000_000
)

// repeater expands rules of repetition (RFC 5545 3.3.10).
//
// It works on what calendar and clock show, as if in UTC, so that 19:30 stays
// 19:30 when clocks change. The library cannot be interrupted, and looks on
// for days that never come (30 February) until the end of the year 9999. So
// every rule is first moved by a multiple of 400 years, after which the
// calendar repeats to the weekday, close to that end.
type repeater struct {
	spent float64 // effort
}

// rule is one RRULE, understood.
type rule struct {
	option rrule.ROption
	until  string // as written, or empty
	values int    // how many numbers and weekdays it lists
}

// perDay are the parts of a rule that say how often it is on one day.
var perDay = []string{"BYHOUR", "BYMINUTE", "BYSECOND"}

// ruleParts are the parts that a rule may have beside FREQ and UNTIL.
var ruleParts = append([]string{"INTERVAL", "COUNT", "WKST", "BYSETPOS", "BYMONTH", "BYMONTHDAY", "BYYEARDAY", "BYWEEKNO", "BYDAY"}, perDay...)

// subDaily are the frequencies that are refused: whatever takes place by the
// hour takes place on the day, and a rule by the second has no end.
var subDaily = map[string]string{"HOURLY": "hour", "MINUTELY": "minute", "SECONDLY": "second"}

// parseRule reads a rule in either case, with blanks.
func parseRule(text string) (rule, error) {
	if len(text) > maxRule {
		return rule{}, errors.New("the rule is longer than 1 KB")
	}
	text = strings.ToUpper(strings.Join(strings.Fields(text), ""))
	var r rule
	var kept []string
	times := 1
	for part := range strings.SplitSeq(text, ";") {
		name, value, _ := strings.Cut(part, "=")
		switch {
		case part == "" || strings.HasPrefix(name, "X-") || part == "RSCALE=GREGORIAN":
		case name == "FREQ" && subDaily[value] != "":
			return rule{}, fmt.Errorf("what repeats by the %s is not taken", subDaily[value])
		case name == "UNTIL":
			r.until = value
		case name != "FREQ" && !slices.Contains(ruleParts, name):
			return rule{}, fmt.Errorf("%q is no part of a rule that is known", clean(name, 40))
		case name == "COUNT" || name == "INTERVAL":
			// The library takes a COUNT of nothing to be for ever.
			n, err := strconv.Atoi(value)
			if err != nil || n < 1 || name == "INTERVAL" && n > maxInterval {
				return rule{}, fmt.Errorf("%s cannot be %q", name, clean(value, 40))
			}
			kept = append(kept, part)
		default:
			n := strings.Count(value, ",") + 1
			r.values += n
			if slices.Contains(perDay, name) {
				times *= n
			}
			kept = append(kept, part)
		}
	}
	if times > maxADay {
		return rule{}, fmt.Errorf("it takes place more than %d times a day", maxADay)
	}
	option, err := rrule.StrToROption(strings.Join(kept, ";"))
	if err != nil {
		return rule{}, fmt.Errorf("the rule cannot be read: %w", err)
	}
	r.option = *option
	return r, nil
}

var (
	errEffort = errors.New("the rules of this source ask for too much looking")
	errNever  = errors.New("its rule names days that never come")
)

// expand gives the starts of a rule from first to last, both included, to
// take, until that says no. The rule begins at start. All are wall times.
func (x *repeater) expand(r rule, start, first, last time.Time, take func(time.Time) bool) error {
	if start.After(last) {
		return nil
	}
	start = r.skip(start, first)
	days := float64(last.Unix()-start.Unix())/(24*60*60) + 1 // a time.Duration ends at 292 years
	if !x.afford(r, days) {
		return errEffort
	}
	shift := (9999 - room - last.Year()) / 400 * 400
	r.option.Dtstart = start.AddDate(shift, 0, 0)
	r.option.Until = time.Date(9999, 12, 31, 23, 59, 59, 0, time.UTC)
	made, err := rrule.NewRRule(r.option)
	if err != nil {
		return fmt.Errorf("the rule cannot be read: %w", err)
	}
	next := made.Iterator()
	for n := 1; ; n++ {
		t, ok := next()
		switch {
		case !ok && (r.option.Count == 0 || n <= r.option.Count):
			x.afford(r, 365*float64(9999-last.Year()-shift))
			return errNever
		case !ok:
			return nil
		}
		t = t.AddDate(-shift, 0, 0)
		if t.After(last) || !t.Before(first) && !take(t) {
			return nil
		}
	}
}

// skip is start, or a later one from which the rule goes on just the same and
// that is not after first. A rule that counts has to be gone through.
func (r rule) skip(start, first time.Time) time.Time {
	if r.option.Count > 0 || !start.Before(first) {
		return start
	}
	interval := max(1, r.option.Interval)
	days := int((first.Unix() - start.Unix()) / (24 * 60 * 60))
	months := 12*(first.Year()-start.Year()) + int(first.Month()-start.Month()) - 1
	switch later := start.Day() > 28; { // a day that not every month has
	case r.option.Freq == rrule.DAILY:
		return start.AddDate(0, 0, days/interval*interval)
	case r.option.Freq == rrule.WEEKLY:
		return start.AddDate(0, 0, days/(7*interval)*(7*interval))
	case r.option.Freq == rrule.MONTHLY && !later && months > 0:
		return start.AddDate(0, months/interval*interval, 0)
	case r.option.Freq == rrule.YEARLY && !later && months > 12:
		years := (months - 12) / 12
		return start.AddDate(years/interval*interval, 0, 0)
	}
	return start
}

// afford counts what looking through so many days takes, and reports whether
// there is that much left.
func (x *repeater) afford(r rule, days float64) bool {
	times := max(1, len(r.option.Byhour)) * max(1, len(r.option.Byminute)) * max(1, len(r.option.Bysecond))
	x.spent += math.Ceil(days / float64(max(1, r.option.Interval)) * float64(times) * float64(8+r.values) / 8)
	return x.spent <= effort
}
