package conflicts

import (
	"fmt"
	"strings"
	"time"

	"banns/milestones"
)

// Feasts by the days after Easter. Both churches count alike; some names
// differ.
var (
	westernFeasts = map[int]string{
		-48: "Shrove Monday", -47: "Shrove Tuesday", -46: "Ash Wednesday", -7: "Palm Sunday", -3: "Maundy Thursday",
		-2: "Good Friday", -1: "Holy Saturday", 0: "Easter Sunday", 1: "Easter Monday", 39: "Ascension Day",
		49: "Whit Sunday", 50: "Whit Monday", 56: "Trinity Sunday", 60: "Corpus Christi",
	}
	easternFeasts = map[int]string{
		-48: "Clean Monday", -7: "Palm Sunday", -3: "Holy Thursday", -2: "Good Friday", -1: "Holy Saturday",
		0: "Pascha", 1: "Bright Monday", 39: "Ascension Day", 49: "Pentecost", 50: "Monday of the Holy Spirit", 56: "All Saints",
	}
)

// feastName is the name of the feast that r is counted to, if it has one.
func feastName(r Rule) string {
	switch r.kind {
	case easterDay:
		return westernFeasts[r.offset]
	case orthodoxDay:
		return easternFeasts[r.offset]
	}
	return ""
}

// String is the rule in words: "the third Monday of April".
func (r Rule) String() string {
	switch r.kind {
	case nthWeekday:
		nth := map[int]string{1: "first", 2: "second", 3: "third", 4: "fourth", last: "last"}[r.nth]
		return fmt.Sprintf("the %s %s of %s", nth, r.weekday, r.month)
	case fixedDay:
		return r.dayWords()
	case shiftedDay:
		return r.shiftWords()
	case nearDay:
		where := [...]string{nearest: "nearest", onAfter: "on or after", onBefore: "on or before"}[r.side]
		return fmt.Sprintf("the %s %s %s", r.weekday, where, r.dayWords())
	case holidayDay:
		where := "before"
		if r.side == onAfter {
			where = "after"
		}
		return fmt.Sprintf("the %s %s %s", r.weekday, where, r.holiday.Name)
	}
	return r.easterWords()
}

func (r Rule) dayWords() string { return fmt.Sprintf("%d %s", r.day, r.month) }

// shiftWords is "1 January; 2 January when that is a Sunday".
func (r Rule) shiftWords() string {
	var moved []string
	for _, w := range []time.Weekday{time.Saturday, time.Sunday} {
		if by := shifts[r.shift][w]; by != 0 {
			moved = append(moved, fmt.Sprintf("%s when that is a %s", r.movedWords(by), w))
		}
	}
	return r.dayWords() + "; " + strings.Join(moved, ", ")
}

// movedWords is the day so many days on, by its date where every year has the
// same.
func (r Rule) movedWords(by int) string {
	common, leap := r.on(2027).AddDays(by), r.on(2028).AddDays(by)
	if common.Month == leap.Month && common.Day == leap.Day && common.Year == 2027 {
		return fmt.Sprintf("%d %s", common.Day, common.Month)
	}
	return daysFrom(by, "it")
}

func (r Rule) on(year int) milestones.Date {
	return milestones.Date{Year: year, Month: r.month, Day: r.day}
}

// daysFrom is "the day after Easter", "2 days before it".
func daysFrom(n int, what string) string {
	side := "after"
	if n < 0 {
		n, side = -n, "before"
	}
	if n == 1 {
		return fmt.Sprintf("the day %s %s", side, what)
	}
	return fmt.Sprintf("%d days %s %s", n, side, what)
}

// easterWords is "50 days after Easter (Whit Monday)".
func (r Rule) easterWords() string {
	easter := "Easter"
	if r.kind == orthodoxDay {
		easter = "Orthodox Easter"
	}
	name := feastName(r)
	switch {
	case r.offset == 0:
		return easter + " Sunday"
	case name == "":
		w := time.Weekday((r.offset%7 + 7) % 7)
		return fmt.Sprintf("%s (a %s)", daysFrom(r.offset, easter), w)
	}
	return fmt.Sprintf("%s (%s)", daysFrom(r.offset, easter), name)
}

// Words is the rule with the days beside it that an edition takes up.
func (s Spanned) String() string {
	rule := s.Rule.String()
	if s.weekend() {
		return strings.Replace(rule, s.weekday.String(), "weekend", 1)
	}
	before, after := beside(s.Before, "before"), beside(s.After, "after")
	switch {
	case before != "" && after != "":
		return fmt.Sprintf("%s, with %s and %s", rule, before, after)
	case before+after != "":
		return fmt.Sprintf("%s, with %s", rule, before+after)
	}
	return rule
}

// weekend reports whether the edition is the whole weekend before or after a
// holiday; of other rules "the third weekend" would leave open which it means.
func (s Spanned) weekend() bool {
	saturday := s.weekday == time.Saturday && s.Before == 0 && s.After == 1
	sunday := s.weekday == time.Sunday && s.Before == 1 && s.After == 0
	return s.kind == holidayDay && (saturday || sunday)
}

func beside(n int, side string) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "the day " + side
	}
	return fmt.Sprintf("the %d days %s", n, side)
}
