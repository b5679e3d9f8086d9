package feed

import (
	"time"

	"banns/milestones"
)

// span is when an entry stands in a calendar.
type span struct {
	allDay     milestones.Date // zero where there is an hour
	start, end time.Time       // in the entry's zone
}

// span of an entry that has a day. A deadline with an hour ends at that
// minute and is half an hour long: a zero-length one vanishes from month
// views. What says no end lasts an hour.
func (e *Entry) span() span {
	day := e.Day()
	loc, err := milestones.Zone(e.Zone)
	if e.Clock == nil || e.Of == Notice || err != nil || !e.Done.IsZero() && e.Deadline() {
		return span{allDay: day}
	}
	clock := *e.Clock
	clock.Again = e.Again
	if e.Deadline() {
		if clock.Hour == 0 && clock.Minute == 0 {
			day = day.AddDays(1) // 00:00 ends the day on which it is acted upon
		}
		end := clock.On(day, loc)
		return span{start: end.Add(-30 * time.Minute), end: end}
	}
	start := clock.On(day, loc)
	end := start.Add(time.Hour)
	if e.Until != nil {
		end = e.Until.On(day, loc)
		if !end.After(start) {
			end = e.Until.On(day.AddDays(1), loc)
		}
	}
	return span{start: start, end: end}
}

// again reports whether t is in the second pass of an hour that its zone
// repeats, which no local time can name (RFC 5545 3.3.5).
func again(t time.Time) bool { return milestones.ClockOf(t).Again }
