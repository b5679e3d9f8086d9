// Package check tells whether a feed is sound, without the code that wrote it.
//
// Its one rule: nothing here reads a calendar with the library that banns
// writes calendars with. [Calendar] is written from the RFC's text, byte by
// byte; [Libical], [ICalJS] and [PythonICalendar] are programs of others.
//
// Calendar holds a stream to RFC 5545 and RFC 7986, and beyond them to what
// banns promises of every feed: one calendar of plain events, each entry
// written out (no recurrence), none floating, none without a length, and a
// VTIMEZONE that is true.
package check

import (
	"cmp"
	"fmt"
	"slices"
)

// Calendar returns the faults of an iCalendar stream, in order of line, one
// plain sentence each:
//
//	line 14: 82 octets, the limit is 75 (RFC 5545 3.1)
//
// A sound stream has none; of one with very many, only the first thousand found
// are named. What cannot be read is named once and passed over, so that one
// mistake is, as far as possible, one sentence.
func Calendar(b []byte) []string {
	var r report
	lines := r.split(b)
	r.size(b, lines)
	if root := r.nest(r.properties(r.unfold(lines))); root != nil {
		r.calendar(root)
	}
	return r.sentences()
}

// limit is what a feed stays under: some clients refuse more.
const limit = 1_000_000

func (r *report) size(b []byte, lines []physical) {
	if len(b) >= limit {
		r.add(len(lines), "%d octets by here, a feed stays under %d", len(b), limit)
	}
}

// calendar checks a whole VCALENDAR: first each property by itself, then what
// properties and components say of each other. A feed with no entry holds one
// VTIMEZONE that nothing names, since a calendar is never without a component
// (RFC 5545 3.6).
func (r *report) calendar(cal *component) {
	r.component(cal, calendar)
	zones := r.zones(cal)
	seen := map[string]int{}
	events := 0
	for _, kid := range cal.kids {
		if places[kid.name] == event {
			r.uid(kid, seen)
			r.event(kid, zones)
			events++
		}
	}
	if len(cal.kids) == 0 {
		r.add(cal.n, "VCALENDAR holds no component (RFC 5545 3.6)")
	}
	if lone := events == 0 && len(zones) == 1; !lone {
		r.unused(zones)
	}
}

// uid refuses a UID that another event has: without RECURRENCE-ID, which a
// feed does not use, the two would be one event (RFC 5545 3.8.4.7).
func (r *report) uid(ev *component, seen map[string]int) {
	p, ok := ev.first("UID")
	if !ok {
		return
	}
	if n, twice := seen[p.value]; twice {
		r.add(p.n, "UID %s is the UID of line %d too (RFC 5545 3.8.4.7)", show(p.value), n)
		return
	}
	seen[p.value] = p.n
}

// report gathers faults, in whatever order they are found.
type report struct{ faults []fault }

type fault struct {
	n    int // of the physical line, from 1
	says string
}

// most is how many faults are named: more than anybody reads, few enough that a
// megabyte of nothing but faults is over soon.
const most = 1000

func (r *report) add(n int, format string, args ...any) {
	if len(r.faults) == most {
		return
	}
	r.faults = append(r.faults, fault{max(n, 1), fmt.Sprintf(format, args...)})
}

func (r *report) sentences() []string {
	slices.SortStableFunc(r.faults, func(a, b fault) int { return cmp.Compare(a.n, b.n) })
	var says []string
	for _, f := range r.faults {
		says = append(says, fmt.Sprintf("line %d: %s", f.n, f.says))
	}
	return says
}

// show quotes what came from the stream, cut to a length that can be read.
func show(s string) string {
	const long = 60
	if len(s) <= long {
		return fmt.Sprintf("%q", s)
	}
	return fmt.Sprintf("%.*q…", long, s)
}
