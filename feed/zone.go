package feed

import (
	"fmt"
	"time"

	ics "github.com/arran4/golang-ical"
)

// timezone describes loc from one moment to another: an observance for each
// change of its clocks, and the one that holds at from (RFC 5545 3.6.5).
func timezone(loc *time.Location, from, to time.Time) *ics.VTimezone {
	tz := ics.NewTimezone(loc.String())
	at, changes := lastChange(from.In(loc))
	if !changes {
		// The zone has had this one offset since its records begin.
		name, offset := at.Zone()
		observe(tz, "19700101T000000", name, offset, offset)
	}
	for changes && !at.After(to) {
		_, before := at.Add(-time.Second).Zone()
		name, offset := at.Zone()
		// DTSTART is local time by the clock before the change.
		local := at.UTC().Add(time.Duration(before) * time.Second).Format(localForm)
		observe(tz, local, name, before, offset)
		at, changes = nextChange(at)
	}
	return tz
}

// lastChange is when the clocks that hold at t began to, if they ever did.
//
// ZoneBounds alone does not say: beyond the years that a zone's file lists,
// its bounds are also the ends of years, and it takes every year for 365
// days, so that on 31 December of a leap year the next bound is behind.
func lastChange(t time.Time) (time.Time, bool) {
	for {
		start, _ := t.ZoneBounds()
		if start.IsZero() {
			return t, false
		}
		before := start.Add(-time.Second)
		if !sameClocks(before, start) {
			return start, true
		}
		t = before
	}
}

// nextChange is the first change of clocks after t, if there is any.
func nextChange(t time.Time) (time.Time, bool) {
	for {
		_, end := t.ZoneBounds()
		switch {
		case end.IsZero():
			return t, false
		case !end.After(t):
			end = t.AddDate(0, 0, 1)
		}
		if !sameClocks(t, end) {
			return end, true
		}
		t = end
	}
}

func sameClocks(a, b time.Time) bool {
	name, offset := a.Zone()
	other, off := b.Zone()
	return name == other && offset == off
}

// observe adds one observance. Daylight time is the larger offset: Dublin's
// own records call its winter time the saving one.
func observe(tz *ics.VTimezone, start, name string, from, to int) {
	var c *ics.ComponentBase
	if to > from {
		d := &ics.Daylight{}
		tz.Components = append(tz.Components, d)
		c = &d.ComponentBase
	} else {
		c = &tz.AddStandard().ComponentBase
	}
	c.AddProperty(ics.ComponentPropertyDtStart, start)
	c.AddProperty("TZOFFSETFROM", offset(from))
	c.AddProperty("TZOFFSETTO", offset(to))
	c.AddProperty("TZNAME", clean(name))
}

func offset(seconds int) string {
	sign := '+'
	if seconds < 0 {
		sign, seconds = '-', -seconds
	}
	text := fmt.Sprintf("%c%02d%02d", sign, seconds/3600, seconds/60%60)
	if seconds%60 != 0 {
		text += fmt.Sprintf("%02d", seconds%60)
	}
	return text
}
