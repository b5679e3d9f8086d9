package conflicts

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"

	"banns/milestones"
)

// writtenDay is a day as a table has it. Where day and month are both told by
// number, it has the two readings; one that is no day of the calendar is zero.
// The zero writtenDay is no day.
type writtenDay struct {
	text               string
	dayMonth, monthDay milestones.Date
	clock, until       *milestones.Clock // hours that stand beside it
	odd                string            // what else does
}

// open reports whether w has two readings that differ.
func (w writtenDay) open() bool {
	return !w.dayMonth.IsZero() && !w.monthDay.IsZero() && w.dayMonth != w.monthDay
}

// order is the only order in which w makes sense, or empty.
func (w writtenDay) order() Order {
	switch {
	case w.dayMonth.IsZero() == w.monthDay.IsZero():
		return ""
	case w.monthDay.IsZero():
		return DayMonth
	}
	return MonthDay
}

// in is the day in an order. What makes sense in one alone is that.
func (w writtenDay) in(o Order) milestones.Date {
	if w.monthDay.IsZero() || o == DayMonth && !w.dayMonth.IsZero() {
		return w.dayMonth
	}
	return w.monthDay
}

// notYet reports whether a cell says that there is no date yet.
func notYet(s string) bool {
	switch strings.Trim(strings.ToLower(s), " .-–?") {
	case "", "tba", "tbd", "tbc", "n/a", "none", "unknown", "open":
		return true
	}
	return false
}

// piece is what one side of a span says of a day: some of it may stand on
// the other side.
type piece struct {
	day, year int
	month     time.Month
	numbers   [3]int // of 03/04/2027, the year last; month is then 0
	weekday   string
	clock     *milestones.Clock
	until     *milestones.Clock
	odd       string // what stands behind the day and is no hour
}

// parseDays reads one day, or the first and last day of a span such as
// "3–5 May 2027" or "2027-05-03 to 2027-05-05".
// A moment with its distance from UTC is one of home.
func parseDays(text string, home *time.Location) (from, to writtenDay, err error) {
	text = clean(text, 100)
	if t, err := time.Parse(time.RFC3339, strings.ToUpper(text)); err == nil {
		t = t.In(home)
		day, clock := milestones.DateOf(t), milestones.ClockOf(t)
		return writtenDay{text: text, dayMonth: day, monthDay: day, clock: &clock}, writtenDay{}, nil
	}
	first, last, span := cutSpan(strings.ToLower(text))
	a, err := parsePiece(first)
	if err != nil {
		return from, to, fmt.Errorf("no date can be read in %q: %w", text, err)
	}
	if !span {
		from, err = a.written(text)
		return from, writtenDay{}, err
	}
	b, err := parsePiece(last)
	if err != nil {
		return from, to, fmt.Errorf("no date can be read in %q: %w", text, err)
	}
	if a.numbers == [3]int{} && b.numbers == [3]int{} {
		turn := a.year == 0 && a.month > b.month && b.month != 0
		a.fill(b)
		b.fill(a)
		if turn { // December 30 to January 2, 2028
			a.year--
		}
	}
	if from, err = a.written(text); err != nil {
		return from, to, err
	}
	to, err = b.written(text)
	return from, to, err
}

// fill takes month and year from the other side of a span.
func (p *piece) fill(other piece) {
	if p.month == 0 {
		p.month = other.month
	}
	if p.year == 0 {
		p.year = other.year
	}
}

// cutSpan cuts "3 May to 5 May 2027" in two.
func cutSpan(s string) (first, last string, span bool) {
	for _, sign := range []string{"–", "—", " - ", " to ", " until ", " through ", " bis "} {
		if first, last, span = strings.Cut(s, sign); span {
			return first, last, true
		}
	}
	// 3-5 May 2027, and May 3-5, 2027.
	fields := strings.Fields(s)
	for i, f := range fields {
		a, b, ok := strings.Cut(strings.TrimSuffix(f, ","), "-")
		if i+1 < len(fields) && (fields[i+1] == "am" || fields[i+1] == "pm") {
			continue
		}
		if ok && len(a) < 3 && len(b) < 3 && number(a) && number(b) {
			at := strings.Index(s, f) + len(a)
			return s[:at], s[at+1:], true
		}
	}
	return s, "", false
}

func number(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// parsePiece reads one side of a span, in lower case.
func parsePiece(s string) (p piece, err error) {
	var words []string
	for f := range strings.FieldsSeq(strings.ReplaceAll(s, ",", " ")) {
		if named := strings.IndexFunc(f, unicode.IsLetter); named >= 0 && (len(f) < 12 || f[10] != 't') {
			words = append(words, strings.Split(f, "-")...) // 3-May-2027
			continue
		}
		words = append(words, f)
	}
	for i, w := range words {
		if p.complete() {
			p.hours(strings.Join(words[i:], " "))
			return p, nil
		}
		if err := p.word(strings.TrimSuffix(w, ".")); err != nil {
			return p, err
		}
	}
	return p, nil
}

// hours takes what stands behind the day.
func (p *piece) hours(s string) {
	var err error
	if p.clock, p.until, err = parseHours(strings.TrimPrefix(s, "at ")); err != nil {
		p.odd = s
	}
}

// complete reports whether all of a day has been said.
func (p piece) complete() bool {
	return p.numbers != [3]int{} || p.day != 0 && p.month != 0 && p.year != 0
}

// word takes one word of a day.
func (p *piece) word(f string) error {
	if m := monthOf(f); m != 0 && p.month == 0 {
		p.month = m
		return nil
	}
	if w := weekdayOf(f); w != "" && p.weekday == "" {
		p.weekday = w
		return nil
	}
	if f == "of" || f == "the" || f == "on" || f == "" {
		return nil
	}
	if n, ok := ordinal(f); ok {
		switch {
		case n > 999 && n < 10000 && p.year == 0:
			p.year = n
			return nil
		case n >= 1 && n <= 31 && p.day == 0:
			p.day = n
			return nil
		case n < 100 && p.year == 0: // 3-May-27
			p.year = 2000 + n
			return nil
		case len(f) == 8 && *p == (piece{weekday: p.weekday}): // 20270503
			p.year, p.month, p.day = n/10000, time.Month(n/100%100), n%100
			return nil
		}
	}
	return p.byNumbers(f)
}

// byNumbers takes 2027-05-03, 03/05/2027 or 3.5.2027, and 2027-05-03T19:30.
func (p *piece) byNumbers(f string) error {
	day, clock, timed := strings.Cut(f, "t")
	sign := strings.IndexAny(day, "/-.")
	if sign < 0 {
		return fmt.Errorf("%q is not understood", f)
	}
	if timed {
		p.hours(clock)
	}
	parts := strings.Split(day, day[sign:sign+1])
	if len(parts) != 3 {
		return fmt.Errorf("%q is not understood", f)
	}
	var n [3]int
	for i, part := range parts {
		v, err := strconv.Atoi(part)
		if err != nil || v < 0 || len(part) > 4 {
			return fmt.Errorf("%q is not understood", f)
		}
		n[i] = v
	}
	switch {
	case len(parts[0]) == 4:
		p.year, p.month, p.day = n[0], time.Month(n[1]), n[2]
		return nil
	case len(parts[2]) == 2:
		n[2] += 2000
	case len(parts[2]) != 4:
		return fmt.Errorf("%q has no year", f)
	}
	if day[sign] == '.' { // 3.5.2027 has the day first wherever it is written
		p.day, p.month, p.year = n[0], time.Month(n[1]), n[2]
		return nil
	}
	p.numbers = n
	return nil
}

// written is the day that a piece says.
func (p piece) written(text string) (writtenDay, error) {
	w := writtenDay{text: text, clock: p.clock, until: p.until, odd: p.odd}
	if p.numbers == [3]int{} {
		switch {
		case p.day == 0 || p.month == 0:
			return w, fmt.Errorf("no date can be read in %q", text)
		case p.year == 0:
			return w, fmt.Errorf("%q has no year", text)
		}
		w.dayMonth = milestones.Date{Year: p.year, Month: p.month, Day: p.day}
		w.monthDay = w.dayMonth
	} else {
		a, b, year := p.numbers[0], p.numbers[1], p.numbers[2]
		w.dayMonth = milestones.Date{Year: year, Month: time.Month(b), Day: a}
		w.monthDay = milestones.Date{Year: year, Month: time.Month(a), Day: b}
	}
	var off string // a reading that the weekday beside it rules out
	for _, d := range []*milestones.Date{&w.dayMonth, &w.monthDay} {
		switch {
		case d.Month < 1 || d.Month > 12 || !d.Exists():
			*d = milestones.Date{}
		case p.weekday != "" && !strings.HasPrefix(strings.ToLower(d.Weekday().String()), p.weekday):
			off = d.Words()
			*d = milestones.Date{}
		}
	}
	switch {
	case !w.dayMonth.IsZero() || !w.monthDay.IsZero():
		return w, nil
	case off != "":
		return w, fmt.Errorf("%q does not agree with the calendar, which has %s", text, off)
	}
	return w, fmt.Errorf("%q is no day of the calendar", text)
}

// monthOf is the month that a word of three letters or more begins, or 0.
func monthOf(s string) time.Month {
	for m := time.January; m <= time.December; m++ {
		if name := strings.ToLower(m.String()); len(s) >= 3 && strings.HasPrefix(name, s) || s == "sept" && m == time.September {
			return m
		}
	}
	return 0
}

// weekdayOf is what a word says of the weekday, or empty.
func weekdayOf(s string) string {
	for w := time.Sunday; w <= time.Saturday; w++ {
		if len(s) >= 2 && strings.HasPrefix(strings.ToLower(w.String()), s) {
			return s
		}
	}
	return ""
}

// ordinal reads 3 and 3rd.
func ordinal(s string) (int, bool) {
	for _, end := range []string{"st", "nd", "rd", "th"} {
		if number, ok := strings.CutSuffix(s, end); ok {
			s = number
			break
		}
	}
	n, err := strconv.Atoi(s)
	return n, err == nil && n >= 0
}

// parseHours reads one hour, or two with a dash between them.
func parseHours(s string) (first, last *milestones.Clock, err error) {
	s = strings.ToLower(strings.TrimSpace(s))
	for _, sign := range []string{"–", "—", "-", " to ", " until "} {
		a, b, ok := strings.Cut(s, sign)
		if !ok {
			continue
		}
		if last, err = parseHour(b); err != nil {
			return nil, nil, err
		}
		half := strings.TrimLeft(strings.ReplaceAll(strings.TrimSpace(b), ".", ""), "0123456789: ")
		if first, err = parseHour(a); err != nil && half != "" { // 7–9 pm
			first, err = parseHour(a + half)
		}
		return first, last, err
	}
	first, err = parseHour(s)
	return first, nil, err
}

// parseHour reads 19:30, 19:30:00, 19.30, 7:30 pm, 7pm, noon and midnight.
func parseHour(s string) (*milestones.Clock, error) {
	bad := fmt.Errorf("%q is no hour of the day", clean(s, 40))
	s = strings.TrimSpace(strings.ReplaceAll(strings.ToLower(s), ".m.", "m"))
	switch s {
	case "":
		return nil, errors.New("no hour is there")
	case "noon":
		return &milestones.Clock{Hour: 12}, nil
	case "midnight":
		return &milestones.Clock{}, nil
	}
	half := ""
	for _, end := range []string{"am", "pm"} {
		if rest, ok := strings.CutSuffix(s, end); ok {
			s, half = strings.TrimSpace(rest), end
		}
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == ':' || r == '.' })
	if len(parts) == 0 || len(parts) > 3 || len(parts) == 1 && half == "" {
		return nil, bad
	}
	n := [3]int{}
	for i, part := range parts {
		v, err := strconv.Atoi(part)
		if err != nil || v < 0 || v > 59 {
			return nil, bad
		}
		n[i] = v
	}
	hour := n[0]
	switch {
	case half != "" && (hour < 1 || hour > 12), hour > 23:
		return nil, bad
	case half == "am" && hour == 12:
		hour = 0
	case half == "pm" && hour < 12:
		hour += 12
	}
	return &milestones.Clock{Hour: hour, Minute: n[1]}, nil
}
