package check

import (
	"fmt"
	"strings"
	"time"
)

// event checks what the parts of a VEVENT say of each other (RFC 5545 3.6.1).
func (r *report) event(ev *component, zones map[string]*timezone) {
	start, startOK := r.moment(ev, "DTSTART", zones)
	end, endOK := r.moment(ev, "DTEND", zones)
	if startOK && endOK {
		r.order(ev, start, end)
	}
	r.length(ev, start)
	r.alarms(ev)
}

// span is one end of an event: the moment as written and, where that is known,
// the instant that it is.
type span struct {
	moment
	instant time.Time
}

// moment reads DTSTART or DTEND; ok is false where it is missing or has a fault.
func (r *report) moment(ev *component, name string, zones map[string]*timezone) (s span, ok bool) {
	p, found := ev.first(name)
	if !found {
		return s, false
	}
	m, fault := readMoment(p)
	if fault != "" {
		return s, false // the rules have reported it
	}
	s = span{m, m.clock}
	switch m.form {
	case floating:
		r.add(p.n, "%s %s floats: it has neither Z nor TZID, and some clients read it as UTC", name, p.value)
		return s, false
	case zoned:
		s.instant, fault = resolve(m, zones[m.tzid])
	}
	if fault != "" {
		r.add(p.n, "%s %s", name, fault)
	}
	return s, fault == ""
}

// resolve finds the instant of a clock reading by the VTIMEZONE it names, and
// holds that against the tz database: a VTIMEZONE may be well formed, cover the
// reading, and still be an hour off because it lacks the last change.
func resolve(m moment, z *timezone) (time.Time, string) {
	if z == nil {
		return time.Time{}, fmt.Sprintf("names %s, which has no VTIMEZONE (RFC 5545 3.2.19)", show(m.tzid))
	}
	z.used = true
	if !z.sound {
		return time.Time{}, "" // reported where the zone was read
	}
	if !z.covers(m.clock) {
		return time.Time{}, fmt.Sprintf("is before the first observance of its VTIMEZONE, %s (RFC 5545 3.6.5)", z.obs[0].start.Format(dateTimeForm))
	}
	at := z.instant(m.clock)
	if z.known == nil {
		return at, ""
	}
	want, got := m.clock.Format(dateTimeForm), at.In(z.known).Format(dateTimeForm)
	if want != got {
		return time.Time{}, fmt.Sprintf("%s is by its VTIMEZONE %s in %s", want, got, z.tzid)
	}
	return at, ""
}

// order checks that an event ends in the form it starts in, and later.
func (r *report) order(ev *component, start, end span) {
	p, _ := ev.first("DTEND")
	switch {
	case (start.form == date) != (end.form == date):
		r.add(p.n, "DTEND and DTSTART are not both dates or both times (RFC 5545 3.8.2.2)")
	case start.instant.IsZero() || end.instant.IsZero():
	case !end.instant.After(start.instant):
		r.add(p.n, "DTEND is not after DTSTART (RFC 5545 3.8.2.2)")
	}
}

// length checks that an event says how long it is, once. RFC 5545 3.6.1 lets it
// be silent, but an event of no length vanishes from a month's view.
func (r *report) length(ev *component, start span) {
	_, hasEnd := ev.first("DTEND")
	length, hasLength := ev.first("DURATION")
	switch {
	case hasEnd && hasLength:
		r.add(length.n, "DURATION beside DTEND (RFC 5545 3.6.1)")
	case !hasEnd && !hasLength:
		r.add(ev.n, "VEVENT has no DTEND")
	case hasLength && start.form == date && strings.Contains(length.value, "T"):
		r.add(length.n, "DURATION of an all-day event is not in days or weeks (RFC 5545 3.8.2.5)")
	}
}

// alarms refuses a second alarm: one large client reads only the first.
func (r *report) alarms(ev *component) {
	first := 0
	for _, kid := range ev.kids {
		switch {
		case places[kid.name] != alarm:
		case first > 0:
			r.add(kid.n, "a second VALARM in the event, the first is on line %d", first)
		default:
			first = kid.n
		}
	}
}
