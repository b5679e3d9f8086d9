package conflicts

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"banns/milestones"
)

// moment is a DATE or a DATE-TIME (RFC 5545 3.3.4, 3.3.5).
type moment struct {
	wall time.Time      // what calendar and clock show, as if in UTC
	zone *time.Location // nil for a whole day
}

// allDay reports whether m is a day without an hour.
func (m moment) allDay() bool { return m.zone == nil }

// at is the same hour and zone with another reading of calendar and clock.
func (m moment) at(wall time.Time) moment { return moment{wall, m.zone} }

// day is the day that the calendar shows.
func (m moment) day() milestones.Date { return milestones.DateOf(m.wall) }

// instant is when that is; of an hour that is skipped or repeated, as RFC
// 5545 3.3.5 has it. A whole day begins at midnight UTC, for comparing.
func (m moment) instant() time.Time {
	if m.allDay() {
		return m.wall
	}
	clock := milestones.Clock{Hour: m.wall.Hour(), Minute: m.wall.Minute()}
	return clock.On(m.day(), m.zone)
}

// parseWall reads 20270503, 20270503T193000 or 20270503T193000Z, with ISO
// 8601's hyphens and colons or without. Seconds are dropped.
func parseWall(s string) (wall time.Time, allDay, utc bool, err error) {
	text := strings.ToUpper(strings.TrimSpace(s))
	text, utc = strings.CutSuffix(text, "Z")
	day, clock, timed := strings.Cut(text, "T")
	day, clock = strings.ReplaceAll(day, "-", ""), strings.ReplaceAll(clock, ":", "")
	wall, err = time.Parse("20060102", day)
	if err != nil || wall.Year() == 0 {
		return wall, false, false, fmt.Errorf("%q is no day of the calendar", clean(s, 40))
	}
	if !timed {
		return wall, true, false, nil
	}
	n, err := strconv.Atoi(clock)
	if err != nil || n < 0 || len(clock) != 4 && len(clock) != 6 {
		return wall, false, false, fmt.Errorf("%q has no hour that can be read", clean(s, 40))
	}
	if len(clock) == 4 {
		n *= 100
	}
	hour, minute, second := n/10000, n/100%100, n%100
	if hour > 24 || minute > 59 || second > 60 || hour == 24 && minute+second > 0 {
		return wall, false, false, fmt.Errorf("%q has no hour of the day", clean(s, 40))
	}
	return wall.Add(time.Duration(hour)*time.Hour + time.Duration(minute)*time.Minute), false, utc, nil
}

// moment reads one value of p. One that names no zone is in floating.
func (c *calendarReader) moment(p *property, value string, calendar int, floating *time.Location) (moment, error) {
	wall, allDay, utc, err := parseWall(value)
	switch {
	case err != nil:
		return moment{}, err
	case allDay:
		return moment{wall: wall}, nil
	case utc:
		return moment{wall, time.UTC}, nil
	}
	if id := p.param("TZID"); id != "" {
		return moment{wall, c.zone(calendar, id, p.line)}, nil
	}
	return moment{wall, floating}, nil
}

// length is how long an event takes: whole days, and on top of them time.
type length struct {
	days  int
	exact time.Duration
}

// maxDays is how many days an event may take.
const maxDays = 3660

var errLong = errors.New("it would take more than ten years")

// parseLength reads a DURATION (RFC 5545 3.3.6), such as P1DT2H30M.
func parseLength(s string) (length, error) {
	bad := fmt.Errorf("%q is no length of time", clean(s, 40))
	text := strings.TrimPrefix(strings.ToUpper(strings.TrimSpace(s)), "+")
	if strings.HasPrefix(text, "-") {
		return length{}, fmt.Errorf("%q is negative", clean(s, 40))
	}
	text, ok := strings.CutPrefix(text, "P")
	if !ok || text == "" {
		return length{}, bad
	}
	var out length
	timed := false
	for text != "" {
		if rest, ok := strings.CutPrefix(text, "T"); ok && !timed {
			text, timed = rest, true
			continue
		}
		end := strings.IndexFunc(text, func(r rune) bool { return r < '0' || r > '9' })
		if end < 1 || end > 7 {
			return length{}, bad
		}
		n, _ := strconv.Atoi(text[:end])
		switch unit := text[end]; {
		case unit == 'W' && !timed:
			out.days += 7 * n
		case unit == 'D' && !timed:
			out.days += n
		case unit == 'H' && timed:
			out.exact += time.Duration(n) * time.Hour
		case unit == 'M' && timed:
			out.exact += time.Duration(n) * time.Minute
		case unit == 'S' && timed:
			out.exact += time.Duration(n) * time.Second
		default:
			return length{}, bad
		}
		text = text[end+1:]
		if out.days > maxDays || out.exact > maxDays*24*time.Hour {
			return length{}, errLong
		}
	}
	return out, nil
}
