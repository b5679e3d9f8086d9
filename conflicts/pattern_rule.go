package conflicts

import (
	"cmp"
	"time"

	"banns/milestones"

	"github.com/rickar/cal/v2"
)

// A Rule says on which day of each year something falls. Two that are equal
// say the same in the same words.
type Rule struct {
	kind    ruleKind
	month   time.Month // of nthWeekday, fixedDay, shiftedDay, nearDay
	day     int        // of fixedDay, shiftedDay, nearDay
	weekday time.Weekday
	nth     int // of nthWeekday: 1 to 4, or last
	side    side
	shift   int // of shiftedDay: which of shifts
	offset  int // of easterDay: days after it
	holiday *cal.Holiday
}

// ruleKind is a family of rules; the simplest come first.
type ruleKind int

const (
	nthWeekday ruleKind = iota // the third Monday of April
	fixedDay                   // 1 January
	shiftedDay                 // 1 January; 2 January when that is a Sunday
	nearDay                    // the Saturday nearest 6 November
	holidayDay                 // the Saturday before Labor Day
	easterDay                  // 50 days after Easter
	orthodoxDay
)

const last = 5 // of its month, the fifth where there is one

// side is where a weekday stands from a day. That of a holiday is never the
// holiday's own.
type side int

const (
	nearest side = iota
	onAfter
	onBefore
)

// easterSpan is how many days from Easter a rule may be: from the third Sunday
// before Lent to the Sunday after Corpus Christi, and some.
const easterSpan = 70

// shifts are what a fixed date may give way to, by the weekday it falls on:
// by how many days it is moved.
var shifts = [...][7]int{
	{time.Sunday: +1},
	{time.Saturday: -1, time.Sunday: +1},
	{time.Saturday: +2, time.Sunday: +1},
	{time.Sunday: -1},
	{time.Saturday: -1},
	{time.Saturday: +1},
	{time.Saturday: -1, time.Sunday: -2},
	{time.Saturday: +2},
}

// In is the rule's day for a year. It may lie just outside that year: the
// Saturday nearest 1 January. It is no day where the year has none, such as 29
// February.
func (r Rule) In(year int) milestones.Date {
	day := milestones.Date{Year: year, Month: r.month, Day: r.day}
	switch r.kind {
	case nthWeekday:
		return nthOf(year, r.month, r.weekday, r.nth)
	case easterDay:
		return Easter(year).AddDays(r.offset)
	case orthodoxDay:
		return Pascha(year).AddDays(r.offset)
	case holidayDay:
		if day = dayOf(r.holiday, year); !day.IsZero() && r.side == onAfter {
			return weekdayFrom(day.AddDays(1), r.weekday, onAfter)
		} else if !day.IsZero() {
			return weekdayFrom(day.AddDays(-1), r.weekday, onBefore)
		}
		return day
	}
	if !day.Exists() {
		return milestones.Date{}
	}
	switch r.kind {
	case shiftedDay:
		return day.AddDays(shifts[r.shift][day.Weekday()])
	case nearDay:
		return weekdayFrom(day, r.weekday, r.side)
	}
	return day
}

// nthOf is the nth, or the last, such weekday of a month.
func nthOf(year int, month time.Month, w time.Weekday, nth int) milestones.Date {
	first := milestones.Date{Year: year, Month: month, Day: 1}
	if nth == last {
		return weekdayFrom(first.AddMonths(1).AddDays(-1), w, onBefore)
	}
	return weekdayFrom(first, w, onAfter).AddDays(7 * (nth - 1))
}

// weekdayFrom is the weekday nearest day, on or after it, or on or before it.
func weekdayFrom(day milestones.Date, w time.Weekday, s side) milestones.Date {
	on := (int(w) - int(day.Weekday()) + 7) % 7
	switch {
	case s == onBefore && on > 0, s == nearest && on > 3:
		on -= 7
	}
	return day.AddDays(on)
}

// compare orders rules by kind, then by what they say.
func (r Rule) compare(s Rule) int {
	order := cmp.Or(cmp.Compare(r.kind, s.kind), cmp.Compare(r.side, s.side), cmp.Compare(r.shift, s.shift),
		cmp.Compare(r.month, s.month), cmp.Compare(r.day, s.day), cmp.Compare(r.weekday, s.weekday),
		cmp.Compare(r.nth, s.nth), cmp.Compare(r.offset, s.offset))
	if order == 0 && r.holiday != s.holiday {
		return cmp.Compare(r.holiday.Name, s.holiday.Name)
	}
	return order
}
