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
	start, _ := from.In(loc).ZoneBounds()
	if start.IsZero() {
		// The zone has had this one offset since its records begin.
		name, offset := from.In(loc).Zone()
		observe(tz, "19700101T000000", name, offset, offset)
		return tz
	}
	for at := start; !at.IsZero() && !at.After(to); {
		_, before := at.Add(-time.Second).In(loc).Zone()
		name, offset := at.In(loc).Zone()
		// DTSTART is local time by the clock before the change.
		local := at.UTC().Add(time.Duration(before) * time.Second).Format(localForm)
		observe(tz, local, name, before, offset)
		_, at = at.In(loc).ZoneBounds()
	}
	return tz
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
