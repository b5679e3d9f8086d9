package milestones

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

var (
	unitWords = []string{"business days", "working days", "days", "weeks", "months", "years", "hours"}
	before    = []string{"before", "prior to", "ahead of"}
	after     = []string{"after", "from", "following"}
	atLeast   = []string{"at least", "no fewer than", "no less than", "not less than", "not fewer than"}
	onDay     = []string{"on or before", "on or prior to", "no later than", "not later than", "due on", "due by", "due", "by", "on", "upon", "at"}
)

// unitMost keeps every count within half a century.
var unitMost = map[Unit]int{Day: 20_000, BusinessDay: 5_000, Week: 2_600, Month: 600, Year: 50, Hour: 10_000}

// grammar is what holds for a timing in one place of the plan.
type grammar struct {
	bare  bool    // "on" may be left out, as after "until"
	names []scope // what "on" and "with" may name; nil: anything, which link then looks for
}

func (g grammar) knows(anchor string) bool {
	return g.names == nil || slices.ContainsFunc(g.names, func(s scope) bool { return s[name(anchor)] != nil })
}

// timing reads all of the cursor as one Timing.
func (c *cursor) timing(says string, g grammar) (Timing, bool) {
	t := Timing{}
	if !c.leadingHour(&t) || !c.trailingHour(&t) {
		return t, false
	}
	start := c.at
	if !c.day(says, &t, g) || !c.end() {
		return t, false
	}
	if t.Clock != nil && t.Unit == Hour {
		c.at = start
		return t, c.refuse("a count of hours ends at an hour of its own; leave out the other")
	}
	return t, true
}

// day reads the timing without its hour.
func (c *cursor) day(says string, t *Timing, g grammar) bool {
	switch c.take("within", "more than", "fewer than", "less than", "with") {
	case "with":
		t.With = true
		from := c.at
		if ok := c.named(says, t, g); t.Anchor.Date.IsZero() {
			return ok
		}
		c.at = from
		return c.refuse(`only something that has a name stands after "with"; write "on" before a date`)
	case "within":
		return c.count(t) && c.within(t) && c.anchor(says, t)
	case "more than":
		t.Bound = MoreThan
		return c.count(t) && c.need(before...) != "" && c.anchor(says, t)
	case "fewer than", "less than":
		t.Bound = FewerThan
		return c.count(t) && c.need(before...) != "" && c.anchor(says, t)
	}
	if c.take(atLeast...) != "" {
		return c.count(t) && c.side(t) && c.anchor(says, t)
	}
	if c.take("more", "fewer", "less") != "" {
		return c.fail("than")
	}
	return c.plain(says, t, g)
}

// plain reads a day that no word such as "within" begins.
func (c *cursor) plain(says string, t *Timing, g grammar) bool {
	on := c.take(onDay...) != ""
	article := c.take("the", "a", "an")
	from := c.at
	if c.calendarDay(&t.Anchor.Date) {
		if !on && !g.bare {
			c.at = from
			return c.refuse(`a date needs "on" or "by" before it`)
		}
		return true
	}
	day, named := weekday(c.peek())
	switch {
	case c.refused():
		return false
	case named:
		c.at++
		t.Weekday = &day
		return c.side(t) && c.anchor(says, t)
	case number(c.peek()) >= 0, c.peek() == "hundred":
		return c.count(t) && c.side(t) && c.anchor(says, t)
	case article != "" && c.single(t, article):
		return c.anchor(says, t)
	case figures.MatchString(c.peek()):
		return c.refuse("a count is a whole number up to %d, and a date is written 2027-05-03", countMost)
	case !on && (!g.bare || c.done()):
		return c.fail("on signing", "by 2027-05-03", "14 days before the wedding", "with the balance",
			"within 30 days of the wedding", "more than 30 days before the wedding", "at least")
	}
	return c.named(says, t, g)
}

var figures = regexp.MustCompile(`^[-+]?\d[\d.,]*$`)

// single reads "a week before" and "the day before", but not the week.
func (c *cursor) single(t *Timing, article string) bool {
	mark, trial := c.at, Timing{N: 1}
	if c.unit(&trial) && (article != "the" || trial.Unit == Day) && c.side(&trial) {
		t.N, t.Unit, t.After = 1, trial.Unit, trial.After
		return true
	}
	c.at = mark
	return false
}

// named reads the rest as an anchor that g knows.
func (c *cursor) named(says string, t *Timing, g grammar) bool {
	c.noise()
	from := c.at
	if !c.anchor(says, t) {
		return false
	}
	if t.Anchor.Date.IsZero() && !g.knows(t.Anchor.Says) {
		c.at = from
		c.refuse("nothing here is called %q", t.Anchor.Says)
		c.far.name, c.far.in = t.Anchor.Says, g.names
		return false
	}
	return true
}

// count reads 30 days, thirty days, or a week.
func (c *cursor) count(t *Timing) (ok bool) {
	article := c.take("the", "a", "an")
	mark := c.at
	t.N, ok = c.number()
	switch one := article == "a" || article == "an"; {
	case !ok && one:
		t.N = 1
	case !ok:
		return c.fail("30")
	}
	if !c.unit(t) {
		return false
	}
	if most := unitMost[t.Unit]; t.N < 1 || t.N > most {
		c.at = mark
		return c.refuse("a count goes from 1 to %d %ss", most, t.Unit)
	}
	return true
}

func (c *cursor) unit(t *Timing) bool {
	switch owner(c.peek()) {
	case "business", "working", "banking":
		return c.days(t, BusinessDay)
	case "calendar":
		return c.days(t, Day)
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

// days reads what stands after "business".
func (c *cursor) days(t *Timing, u Unit) bool {
	t.Unit = u
	c.at++
	if day := owner(c.peek()); day != "day" && day != "days" {
		return c.fail("days", "day")
	}
	c.at++
	return true
}

// owner is whose a thing is: days' or day's notice.
func owner(s string) string { return strings.TrimSuffix(strings.TrimSuffix(s, "'"), "'s") }

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
	of := c.need(append([]string{"of"}, before...)...)
	t.Sided = of != "of"
	return of != ""
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
	switch text := c.peek(); {
	case slashed.MatchString(text):
		return Date{}, c.refuse("the order of day and month differs by country; write the date as 2027-05-03")
	case len(text) == len(time.DateOnly) && strings.Count(text, "-") == 2:
		d, err := ParseDate(text)
		if err != nil {
			return Date{}, c.refuse("%s is no day of the calendar", text)
		}
		c.at++
		return d, true
	}
	return c.spoken()
}

// slashed is a date that could be read in more than one order.
var slashed = regexp.MustCompile(`^\d{1,4}([/.])\d{1,2}[/.]\d{1,4}$`)

// spoken reads 3 May 2027, the 3rd of May 2027 or May 3, 2027.
func (c *cursor) spoken() (Date, bool) {
	mark := c.at
	first := c.peek()
	c.at++
	c.take("of")
	second := c.peek()
	c.at++
	year, err := strconv.Atoi(c.peek())
	end := c.at + 1
	c.at = mark
	if month(first) != 0 {
		first, second = second, first
	}
	m, n := month(second), max(number(first), ordinal(first))
	switch {
	case m == 0 || n < 0:
		return Date{}, false
	case n >= 1900 && n <= 2200 && err != nil:
		return Date{}, c.refuse("a month is no day; write the date as %d-%02d-01, or whichever day is meant", n, m)
	case err != nil || year < 1900 || year > 2200:
		return Date{}, c.refuse("a date needs its year; write it as 3 May 2027 or 2027-05-03")
	}
	d := Date{year, m, n}
	if !d.Exists() {
		return Date{}, c.refuse("%s has no day %d in %d", m, n, year)
	}
	c.at = end
	return d, true
}

var weekdays, months = folded(time.Sunday, time.Saturday), folded(time.January, time.December)

// folded are first to last by their names and by the first three letters, all small.
func folded[T interface {
	~int
	String() string
}](first, last T) map[string]T {
	all := map[string]T{}
	for v := first; v <= last; v++ {
		full := strings.ToLower(v.String())
		all[full], all[full[:3]] = v, v
	}
	return all
}

func weekday(s string) (d time.Weekday, ok bool) {
	d, ok = weekdays[s]
	return d, ok
}

func month(s string) time.Month {
	if s == "sept" {
		return time.September
	}
	return months[s]
}
