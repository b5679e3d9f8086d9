package milestones

import (
	"fmt"
	"time"
)

// Clock is an hour of the day, 00:00 to 23:59, in a zone that stands beside
// it.
type Clock struct {
	Hour, Minute int
	Again        bool // the second pass of an hour that the zone repeats when clocks go back
}

// ParseClock reads HH:MM, from 00:00 to 23:59.
func ParseClock(s string) (Clock, error) {
	t, err := time.Parse("15:04", s)
	if err != nil {
		return Clock{}, fmt.Errorf("%q is no hour of the day; write it as \"16:30\"", s)
	}
	return Clock{Hour: t.Hour(), Minute: t.Minute()}, nil
}

// String is the hour as HH:MM.
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", c.Hour, c.Minute) }

// MarshalText writes HH:MM.
func (c Clock) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// ClockOf is the hour that t shows in its own zone. It knows the second pass
// of a repeated hour by asking what the zone made of the same reading.
func ClockOf(t time.Time) Clock {
	c := Clock{Hour: t.Hour(), Minute: t.Minute()}
	first := c.On(DateOf(t), t.Location())
	c.Again = t.Truncate(time.Minute).After(first)
	return c
}

// On is the moment at which clocks in loc show c on day d. Of an hour that
// is repeated it is the first pass, unless c.Again; an hour that is skipped
// is read with the offset from before the change (RFC 5545 3.3.5).
func (c Clock) On(d Date, loc *time.Location) time.Time {
	noon := time.Date(d.Year, d.Month, d.Day, c.Hour, c.Minute, 0, 0, time.UTC)
	// The offsets in force a day either side bracket any one change.
	_, before := noon.AddDate(0, 0, -1).In(loc).Zone()
	_, after := noon.AddDate(0, 0, 1).In(loc).Zone()
	early := noon.Add(-time.Duration(before) * time.Second).In(loc)
	late := noon.Add(-time.Duration(after) * time.Second).In(loc)
	shows := func(t time.Time) bool {
		return t.Hour() == c.Hour && t.Minute() == c.Minute && DateOf(t) == d
	}
	switch {
	case shows(early) && shows(late) && c.Again && late.After(early):
		return late
	case shows(early) || !shows(late):
		return early
	}
	return late
}

// Moment is a day, and an hour where there is one.
type Moment struct {
	Date
	Clock *Clock
	Zone  string // the zone of Clock: an IANA name
}

// UnmarshalText reads HH:MM.
func (c *Clock) UnmarshalText(b []byte) (err error) {
	*c, err = ParseClock(string(b))
	return err
}
