package milestones

import (
	"strconv"
	"strings"
	"time"
)

var (
	unitWords = []string{"business days", "working days", "days", "weeks", "months", "years", "hours"}
	before    = []string{"before", "prior to", "ahead of"}
	after     = []string{"after", "from", "following"}
)

// unitMost keeps every count within half a century.
var unitMost = map[Unit]int{Day: 20_000, BusinessDay: 5_000, Week: 2_600, Month: 600, Year: 50, Hour: 10_000}

// timing reads all of the cursor as one Timing. In names stand the things
// that "with" may name; nil allows any.
func (c *cursor) timing(says string, names map[string]bool) (Timing, bool) {
	t := Timing{}
	if !c.leadingHour(&t) || !c.trailingHour(&t) {
		return t, false
	}
	if !c.day(says, &t, names) || !c.end() {
		return t, false
	}
	if t.Clock != nil && t.Unit == Hour {
		return t, c.refuse("a count of hours ends at an hour of its own; leave out the other")
	}
	return t, true
}

// day reads the timing without its hour.
func (c *cursor) day(says string, t *Timing, names map[string]bool) bool {
	switch c.take("within", "more than", "fewer than", "less than", "with") {
	case "with":
		t.With = true
		ok := c.anchor(says, t)
		if ok && names != nil && !names[name(t.Anchor.Says)] {
			return c.refuse("nothing here is called %q", t.Anchor.Says)
		}
		return ok && t.Anchor.Date.IsZero()
	case "within":
		return c.count(t) && c.within(t) && c.anchor(says, t)
	case "more than":
		t.Bound = MoreThan
		return c.count(t) && c.need(before...) != "" && c.anchor(says, t)
	case "fewer than", "less than":
		t.Bound = FewerThan
		return c.count(t) && c.need(before...) != "" && c.anchor(says, t)
	}
	least := c.take("at least", "no fewer than", "no less than", "not less than", "not fewer than") != ""
	on := !least && c.take("on or before", "no later than", "not later than", "due on", "due by", "by", "on", "upon", "at") != ""
	c.take("the", "a", "an")
	if !least && c.weekdayBeside(says, t) {
		return true
	}
	from := c.at
	if !least && c.calendarDay(&t.Anchor.Date) {
		if !on {
			c.at = from
			return c.refuse(`a date needs "on" or "by" before it`)
		}
		return true
	}
	if c.refused() {
		return false
	}
	if number(c.peek()) >= 0 || least {
		return c.count(t) && c.side(t) && c.anchor(says, t)
	}
	if c.at > 0 && (c.words[c.at-1].text == "a" || c.words[c.at-1].text == "an") && c.unit(t) {
		t.N = 1
		return c.side(t) && c.anchor(says, t)
	}
	if !on {
		return c.fail("on", "by", "within", "with", "at least", "more than")
	}
	return c.anchor(says, t)
}

func (c *cursor) count(t *Timing) (ok bool) {
	c.take("the")
	mark := c.at
	if t.N, ok = c.number(); !ok || !c.unit(t) {
		return false
	}
	if most := unitMost[t.Unit]; t.N < 1 || t.N > most {
		c.at = mark
		return c.refuse("a count goes from 1 to %d %ss", most, t.Unit)
	}
	return true
}

func (c *cursor) unit(t *Timing) bool {
	switch strings.TrimRight(c.peek(), "'") {
	case "business", "working", "banking":
		t.Unit = BusinessDay
		c.at++
		return c.need("days", "day", "days'") != ""
	case "calendar":
		t.Unit = Day
		c.at++
		return c.need("days", "day", "days'") != ""
	case "day", "days":
		t.Unit = Day
	case "week", "weeks":
		t.Unit = Week
	case "month", "months":
		t.Unit = Month
	case "year", "years":
		t.Unit = Year
	case "hour", "hours":
		t.Unit = Hour
	default:
		return c.fail(unitWords...)
	}
	c.at++
	return true
}

func (c *cursor) side(t *Timing) bool {
	if c.take(after...) != "" {
		t.After = true
		return true
	}
	return c.need(append(append([]string{}, before...), after...)...) != ""
}

func (c *cursor) within(t *Timing) bool {
	if c.take(after...) != "" {
		t.After = true
		return true
	}
	t.Bound = WithinOf
	return c.need(append([]string{"of"}, before...)...) != ""
}

func (c *cursor) weekdayBeside(says string, t *Timing) bool {
	day, ok := weekday(c.peek())
	mark := c.at
	if !ok {
		return false
	}
	c.at++
	if !c.side(t) {
		c.at = mark
		return false
	}
	t.Weekday = &day
	return c.anchor(says, t)
}

// anchor reads the rest as what is counted from.
func (c *cursor) anchor(says string, t *Timing) bool {
	c.noise()
	if c.calendarDay(&t.Anchor.Date) {
		return true
	}
	if c.refused() {
		return false
	}
	if c.done() {
		return c.fail("the wedding", "signing", "balance", "the first payment", "the deposit")
	}
	t.Anchor.Says = c.text(says, c.at, len(c.words))
	c.at = len(c.words)
	return true
}

// calendarDay reads 2027-05-03, 3 May 2027 or May 3, 2027, perhaps after its
// weekday, which must then be right.
func (c *cursor) calendarDay(d *Date) bool {
	mark := c.at
	day, named := weekday(c.peek())
	if named {
		c.at++
	}
	found, ok := c.plainDay()
	if !ok {
		c.at = mark
		return false
	}
	if named && found.Weekday() != day {
		c.at = mark
		return c.refuse("%s is a %s", found, found.Weekday())
	}
	*d = found
	return true
}

func (c *cursor) plainDay() (Date, bool) {
	if len(c.peek()) == len(time.DateOnly) && strings.Count(c.peek(), "-") == 2 {
		d, err := ParseDate(c.peek())
		if err != nil {
			return Date{}, c.refuse("%s is no day of the calendar", c.peek())
		}
		c.at++
		return d, true
	}
	if c.at+3 > len(c.words) {
		return Date{}, false
	}
	first, second, year := c.words[c.at].text, c.words[c.at+1].text, c.words[c.at+2].text
	if month(first) != 0 {
		first, second = second, first
	}
	y, err := strconv.Atoi(year)
	n := max(number(first), ordinal(first))
	if month(second) == 0 || n < 0 || err != nil || y < 1900 || y > 2200 {
		return Date{}, false
	}
	d := Date{y, month(second), n}
	if !d.Exists() {
		return Date{}, c.refuse("%s has no day %d in %d", month(second), n, y)
	}
	c.at += 3
	return d, true
}

func weekday(s string) (time.Weekday, bool) {
	for d := time.Sunday; d <= time.Saturday; d++ {
		if full := strings.ToLower(d.String()); s == full || s == full[:3] {
			return d, true
		}
	}
	return 0, false
}

func month(s string) time.Month {
	for m := time.January; m <= time.December; m++ {
		if full := strings.ToLower(m.String()); s == full || s == full[:3] || s == "sept" && m == time.September {
			return m
		}
	}
	return 0
}
