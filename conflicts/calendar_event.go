package conflicts

import (
	"errors"
	"strconv"
	"strings"
	"time"

	"banns/milestones"
)

// vevent is a VEVENT, understood.
type vevent struct {
	part     *component
	what     string
	uid      string
	sequence int
	start    moment
	length   length
	replaces *moment // RECURRENCE-ID: which day of another this one stands for
}

// understand reads the parts of an event on which its days rest.
func (c *calendarReader) understand(part *component) (vevent, error) {
	v := vevent{part: part, what: clean(part.value("SUMMARY"), maxName), uid: part.value("UID")}
	if v.what == "" {
		v.what = "an event without a name"
	}
	v.sequence, _ = strconv.Atoi(part.value("SEQUENCE"))
	p := part.get("DTSTART")
	if p == nil {
		return v, errors.New("it has no date (no DTSTART)")
	}
	var err error
	if v.start, err = c.moment(p, p.value, part.calendar, c.scope.Zone); err != nil {
		return v, err
	}
	if v.length, err = c.length(v); err != nil {
		return v, err
	}
	if p := part.get("RECURRENCE-ID"); p != nil {
		m, err := c.moment(p, p.value, part.calendar, v.floating(c.scope.Zone))
		if err != nil {
			return v, err
		}
		v.replaces = &m
		if p.param("RANGE") != "" {
			c.leaveOut(p.line, v.what, "a change to all later days is taken for the one day alone")
		}
	}
	return v, nil
}

// floating is the zone of times in the event that name none.
func (v vevent) floating(home *time.Location) *time.Location {
	if v.start.allDay() {
		return home
	}
	return v.start.zone
}

// length is how long an event takes. By RFC 5545 3.6.1 one without an end is
// a day long where it starts on a day, and has no length where at an hour.
func (c *calendarReader) length(v vevent) (length, error) {
	none := length{}
	if v.start.allDay() {
		none.days = 1
	}
	if p := v.part.get("DTEND"); p != nil {
		end, err := c.moment(p, p.value, v.part.calendar, v.floating(c.scope.Zone))
		if err != nil {
			c.leaveOut(p.line, v.what, "its end is not taken: %v", err)
			return none, nil
		}
		return c.between(v, end, p.line, none)
	}
	p := v.part.get("DURATION")
	if p == nil {
		return none, nil
	}
	l, err := parseLength(p.value)
	switch {
	case errors.Is(err, errLong):
		return none, err
	case err != nil:
		c.leaveOut(p.line, v.what, "its length is not taken: %v", err)
		return none, nil
	case v.start.allDay():
		// Whole days alone make sense here; what goes beyond begins another.
		return length{days: max(1, l.days+int((l.exact+24*time.Hour-1)/(24*time.Hour)))}, nil
	}
	return l, nil
}

// between is the length from the start of v to an end that is not included.
func (c *calendarReader) between(v vevent, end moment, line int, none length) (length, error) {
	if v.start.allDay() || end.allDay() {
		days := milestones.DateOf(end.wall).DaysSince(v.start.day())
		switch {
		case days > maxDays:
			return none, errLong
		case days < 0:
			c.leaveOut(line, v.what, "its end is before its start, and is not taken")
		case v.start.allDay() && !end.allDay() && end.wall.Hour()+end.wall.Minute() > 0:
			return length{days: days + 1}, nil
		case v.start.allDay() && days > 0:
			// Many write one day as from that day to itself.
			return length{days: days}, nil
		case !v.start.allDay() && days > 0:
			midnight := v.start.at(v.start.wall.Truncate(24*time.Hour).AddDate(0, 0, days))
			return length{exact: midnight.instant().Sub(v.start.instant())}, nil
		}
		return none, nil
	}
	exact := end.instant().Sub(v.start.instant())
	switch {
	case exact < 0:
		c.leaveOut(line, v.what, "its end is before its start, and is not taken")
		return none, nil
	case exact > maxDays*24*time.Hour:
		return none, errLong
	}
	return length{exact: exact}, nil
}

// describe is v without its days.
func (c *calendarReader) describe(v vevent) Event {
	e := Event{
		What: v.what, Status: Announced, Kind: kindOf(v.part.value("CATEGORIES"), v.what),
		Place:  milestones.Place{Name: clean(v.part.value("LOCATION"), maxName)},
		Note:   clean(v.part.value("DESCRIPTION"), maxNote),
		Source: Source{c.scope.Source, v.part.line},
	}
	if p := v.part.get("GEO"); p != nil {
		lat, lon := cutGeo(p.value)
		e.Place.At = c.position(p.line, v.what, lat, lon)
	}
	if strings.EqualFold(v.part.value("STATUS"), "TENTATIVE") {
		e.Status = Expected
	}
	return e
}

// setDays sets days and hours of an event that is so long from start on, as
// the wedding's zone has them.
func (e *Event) setDays(start moment, l length, home *time.Location) {
	if start.allDay() {
		e.From, e.To = start.day(), start.day().AddDays(l.days-1)
		return
	}
	from := start.instant().In(home)
	to := start.at(start.wall.AddDate(0, 0, l.days)).instant().Add(l.exact).In(home)
	e.setClocks(from, to)
}

// on is e on the days of another.
func (e Event) on(days Event) Event {
	e.From, e.To, e.Start, e.End = days.From, days.To, days.Start, days.End
	return e
}

// setClocks sets days and hours by two moments in the wedding's zone. What
// ends at midnight ends at 23:59, on the day that is then over.
func (e *Event) setClocks(from, to time.Time) {
	start := milestones.ClockOf(from)
	e.From, e.Start = milestones.DateOf(from), &start
	e.To = e.From
	if !to.After(from) {
		return
	}
	end := milestones.ClockOf(to)
	e.To, e.End = milestones.DateOf(to), &end
	if end.Hour == 0 && end.Minute == 0 && e.To.After(e.From) {
		e.To, e.End = e.To.AddDays(-1), &milestones.Clock{Hour: 23, Minute: 59}
	}
}
