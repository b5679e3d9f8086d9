package conflicts

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"banns/milestones"
)

// list turns the components that were read into events.
func (c *calendarReader) list() {
	var all []vevent
	for _, part := range c.events {
		v, err := c.understand(part)
		if err != nil {
			c.leaveOut(part.line, v.what, "%v", err)
			continue
		}
		all = append(all, v)
	}
	all = c.newest(all)
	c.listing.Told = len(all)
	replaced := map[string]*exceptions{} // by UID, the days that others stand for
	for _, v := range all {
		if v.replaces == nil || v.uid == "" {
			continue
		}
		if replaced[v.uid] == nil {
			replaced[v.uid] = &exceptions{}
		}
		replaced[v.uid].add(*v.replaces)
	}
	for _, v := range all {
		gone := replaced[v.uid]
		if v.replaces != nil {
			gone = nil
		}
		if !c.takePlaces(v, gone) {
			return
		}
	}
}

// newest leaves out older versions of an event, and what stands twice.
func (c *calendarReader) newest(all []vevent) []vevent {
	type identity struct {
		uid      string
		replaces time.Time
	}
	best := map[identity]vevent{} // the highest sequence
	id := func(v vevent) identity {
		i := identity{uid: v.uid}
		if v.replaces != nil {
			i.replaces = v.replaces.instant()
		}
		return i
	}
	for _, v := range all {
		if b, ok := best[id(v)]; !ok || v.sequence > b.sequence {
			best[id(v)] = v
		}
	}
	type place struct {
		identity
		start time.Time
	}
	seen := map[place]int{}
	return slices.DeleteFunc(all, func(v vevent) bool {
		if v.uid == "" {
			return false
		}
		if b := best[id(v)]; v.sequence < b.sequence {
			c.leaveOut(v.part.line, v.what, "a newer version of it stands on line %d", b.part.line)
			return true
		}
		at := place{id(v), v.start.instant()}
		if line, ok := seen[at]; ok {
			c.leaveOut(v.part.line, v.what, "it stands on line %d too", line)
			return true
		}
		seen[at] = v.part.line
		return false
	})
}

// takePlaces takes the days of an event that are read for, without those that
// others stand for. It reports whether there is room for more.
func (c *calendarReader) takePlaces(v vevent, replaced *exceptions) bool {
	cancelled := strings.EqualFold(v.part.value("STATUS"), "CANCELLED")
	days, room := 0, true
	var described Event // once it is known to be needed
	gone := c.exceptions(v)
	c.starts(v, func(start moment) bool {
		if gone.has(start) || replaced.has(start) {
			return true
		}
		var e Event
		e.setDays(start, v.length, c.scope.Zone)
		if !c.scope.touches(e.From, e.To) {
			return true
		}
		switch days++; {
		case cancelled:
			c.leaveOut(v.part.line, v.what, "it is cancelled")
			return false
		case days > maxRepeats:
			c.leaveOut(v.part.line, v.what, "only its first %d days are taken", maxRepeats)
			return false
		}
		if days == 1 {
			described = c.describe(v)
		}
		room = c.take(described.on(e))
		return room
	})
	return room
}

// starts gives every start of an event to take, until that says no: its own,
// and those that its rules and its list of days add, up to the last day that
// is read for. RFC 5545 3.8.5.3 counts DTSTART as the first of a rule.
func (c *calendarReader) starts(v vevent, take func(moment) bool) {
	if v.replaces != nil || v.part.get("RRULE") == nil && v.part.get("RDATE") == nil {
		take(v.start)
		return
	}
	last := v.start.at(c.lastWall())
	found := []time.Time{v.start.wall}
	for _, p := range v.part.props {
		var err error
		switch p.name {
		case "RRULE":
			if err = c.rule(v, p, last.wall, &found); err != nil {
				err = fmt.Errorf("%w; only its first day is taken", err)
			}
		case "RDATE":
			err = c.listed(v, p, &found)
		case "EXRULE":
			err = errors.New("a rule of exceptions (EXRULE) is not read; some of its days may not take place")
		}
		if err != nil {
			c.leaveOut(p.line, v.what, "%v", err)
		}
	}
	slices.SortFunc(found, time.Time.Compare)
	for _, wall := range slices.Compact(found) {
		if !take(v.start.at(wall)) {
			return
		}
	}
}

// lastWall is the end of the last day that is read for, and a day more: a
// zone can be that far ahead of the wedding's.
func (c *calendarReader) lastWall() time.Time {
	to := c.scope.To.AddDays(2)
	return time.Date(to.Year, to.Month, to.Day, 0, 0, 0, 0, time.UTC)
}

// rule adds the starts of an RRULE, without those long before the days that
// are read for. The repeater's effort bounds how many there can be.
func (c *calendarReader) rule(v vevent, p *property, last time.Time, found *[]time.Time) error {
	r, err := parseRule(p.value)
	if err != nil {
		return err
	}
	if r.until != "" {
		until, err := c.until(v, r.until)
		if err != nil {
			return err
		}
		last = earlier(last, until)
	}
	from := c.scope.From.AddDays(-v.length.days - int(v.length.exact.Hours()/24) - 2)
	first := time.Date(from.Year, from.Month, from.Day, 0, 0, 0, 0, time.UTC)
	if last.Before(first) {
		return nil
	}
	return c.repeats.expand(r, v.start.wall, first, last, func(t time.Time) bool {
		*found = append(*found, t)
		return true
	})
}

// until is the last wall time that an UNTIL lets through. One that is a day
// lets through the whole day, and one in UTC is told by the event's clock.
func (c *calendarReader) until(v vevent, text string) (time.Time, error) {
	wall, allDay, utc, err := parseWall(text)
	switch {
	case err != nil:
		return wall, err
	case allDay || v.start.allDay():
		return wall.Truncate(24 * time.Hour).Add(24*time.Hour - time.Minute), nil
	case utc:
		local := wall.In(v.start.zone)
		day, clock := milestones.DateOf(local), milestones.ClockOf(local)
		return time.Date(day.Year, day.Month, day.Day, clock.Hour, clock.Minute, 0, 0, time.UTC), nil
	}
	return wall, nil
}

// listed adds the days of an RDATE.
func (c *calendarReader) listed(v vevent, p *property, found *[]time.Time) error {
	n := 0
	for value := range strings.SplitSeq(p.value, ",") {
		if n++; n > maxRepeats {
			return errors.New("it lists more days than are taken")
		}
		value, _, _ = strings.Cut(value, "/") // of a period, its start
		m, err := c.moment(p, value, v.part.calendar, v.floating(c.scope.Zone))
		if err != nil {
			return err
		}
		*found = append(*found, v.told(m))
	}
	return nil
}

// told is m as the event's own calendar and clock show it.
func (v vevent) told(m moment) time.Time {
	switch {
	case v.start.allDay():
		return m.wall.Truncate(24 * time.Hour)
	case m.allDay():
		hour := v.start.wall.Sub(v.start.wall.Truncate(24 * time.Hour))
		return m.wall.Add(hour)
	}
	local := m.instant().In(v.start.zone)
	y, month, day := local.Date()
	return time.Date(y, month, day, local.Hour(), local.Minute(), 0, 0, time.UTC)
}

// exceptions are starts of an event that do not take place, or not then.
type exceptions struct {
	instants map[int64]bool           // Unix time
	days     map[milestones.Date]bool // without an hour: whatever starts on them
	timed    map[milestones.Date]bool // the days of instants, for events without an hour
}

func (x *exceptions) add(m moment) {
	if x.days == nil {
		x.instants, x.days, x.timed = map[int64]bool{}, map[milestones.Date]bool{}, map[milestones.Date]bool{}
	}
	if m.allDay() {
		x.days[m.day()] = true
		return
	}
	x.instants[m.instant().Unix()] = true
	x.timed[m.day()] = true
}

func (x *exceptions) has(m moment) bool {
	switch {
	case x == nil || x.days == nil:
		return false
	case m.allDay():
		return x.days[m.day()] || x.timed[m.day()]
	}
	return x.days[m.day()] || x.instants[m.instant().Unix()]
}

// exceptions are the days of EXDATE.
func (c *calendarReader) exceptions(v vevent) *exceptions {
	x := &exceptions{}
	for _, p := range v.part.props {
		if p.name != "EXDATE" {
			continue
		}
		for value := range strings.SplitSeq(p.value, ",") {
			m, err := c.moment(p, value, v.part.calendar, v.floating(c.scope.Zone))
			if err != nil {
				c.leaveOut(p.line, v.what, "an exception cannot be read: %v", err)
				continue
			}
			x.add(m)
		}
	}
	return x
}
