package conflicts

import (
	"time"

	"banns/milestones"

	"github.com/rickar/cal/v2"
)

// dated is the day of one edition, and the year whose edition it is: the
// parade for New Year's Day of 2028 may be held on 31 December 2027.
type dated struct {
	day  milestones.Date
	year int
}

// A guesser knows every rule by which something could fall on a day.
type guesser struct {
	holidays []*cal.Holiday // those of the region
}

// rules are the rules that put something on that day.
func (g guesser) rules(at dated) []Rule {
	all := make([]Rule, 0, rulesMost)
	d := at.day
	if d.Year == at.year {
		all = append(all, Rule{kind: fixedDay, month: d.Month, day: d.Day})
		if n := (d.Day-1)/7 + 1; n <= 4 {
			all = append(all, Rule{kind: nthWeekday, month: d.Month, weekday: d.Weekday(), nth: n})
		}
		if d.AddDays(7).Month != d.Month {
			all = append(all, Rule{kind: nthWeekday, month: d.Month, weekday: d.Weekday(), nth: last})
		}
	}
	all = shifted(all, at)
	all = near(all, at)
	all = fromEaster(all, at)
	return g.fromHolidays(all, at)
}

// rulesMost is about the most rules that there are for a day.
const rulesMost = 32

func shifted(all []Rule, at dated) []Rule {
	for i, shift := range shifts {
		for _, by := range []int{-2, -1, 0, 1, 2} {
			base := at.day.AddDays(-by)
			if base.Year == at.year && shift[base.Weekday()] == by {
				all = append(all, Rule{kind: shiftedDay, month: base.Month, day: base.Day, shift: i})
			}
		}
	}
	return all
}

// near are the rules of a weekday nearest, on or after, or on or before some
// day. The three say the same, except about the end of February.
func near(all []Rule, at dated) []Rule {
	add := func(day milestones.Date, s side) {
		leap := day.Month == time.February && day.Day == 29
		if day.Year == at.year && !leap {
			all = append(all, Rule{kind: nearDay, month: day.Month, day: day.Day, weekday: at.day.Weekday(), side: s})
		}
	}
	feb := milestones.Date{Year: at.day.Year, Month: time.March, Day: 1}
	apart := at.day.DaysSince(feb)
	for i := range 7 {
		add(at.day.AddDays(i-3), nearest)
		if -7 < apart && apart < 7 {
			add(at.day.AddDays(-i), onAfter)
			add(at.day.AddDays(i), onBefore)
		}
	}
	return all
}

func fromEaster(all []Rule, at dated) []Rule {
	add := func(kind ruleKind, easter milestones.Date) {
		if n := at.day.DaysSince(easter); -easterSpan <= n && n <= easterSpan {
			all = append(all, Rule{kind: kind, offset: n})
		}
	}
	add(easterDay, Easter(at.year))
	add(orthodoxDay, Pascha(at.year))
	return all
}

func (g guesser) fromHolidays(all []Rule, at dated) []Rule {
	for _, h := range g.holidays {
		day := dayOf(h, at.year)
		if day.IsZero() {
			continue
		}
		r := Rule{kind: holidayDay, weekday: at.day.Weekday(), holiday: h, side: onAfter}
		n := at.day.DaysSince(day)
		if n < 0 {
			r.side = onBefore
		}
		if n != 0 && -7 <= n && n <= 7 {
			all = append(all, r)
		}
	}
	return all
}
