package feed_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/feed/check"
	"banns/milestones"
)

// outside are the readers of others, which give back what they read.
var outside = []struct {
	name string
	read func([]byte) ([]check.Event, error)
}{{"ical.js", check.ICalJS}, {"python3-icalendar", check.PythonICalendar}}

// sound holds a calendar to the check of bytes and to every outside reader,
// and demands that they read what was published. Missing ones are skipped.
func sound(t *testing.T, c feed.Calendar) {
	t.Helper()
	body := feed.Encode(c)
	for _, fault := range check.Calendar(body) {
		t.Error(fault)
	}
	if t.Failed() {
		t.Logf("%s", body)
	}
	t.Run("libical", func(t *testing.T) { check.Need(t, check.Libical(body)) })
	for _, reader := range outside {
		t.Run(reader.name, func(t *testing.T) {
			got, err := reader.read(body)
			check.Need(t, err)
			if diff := cmp.Diff(eventsOf(c), got); diff != "" {
				t.Errorf("published (-) and read (+):\n%s", diff)
			}
		})
	}
}

// eventsOf is what a reader should make of what was published.
func eventsOf(c feed.Calendar) []check.Event {
	events := []check.Event{}
	for i := range c.Published {
		p := &c.Published[i]
		if p.Date.IsZero() {
			continue
		}
		e := check.Event{UID: p.UID, Summary: line(p.Summary()), Status: "CONFIRMED"}
		e.Start, e.End = bounds(p)
		e.AllDay = !strings.Contains(e.Start, "T")
		switch {
		case p.Withdrawn:
			e.Status = "CANCELLED"
			bare := p.Entry
			bare.Currency = "" // of what is off, no sum is shown
			e.Summary = "Withdrawn: " + line(bare.Summary())
			events = append(events, e)
			continue
		case p.Standing == milestones.Quoted:
			e.Status = "TENTATIVE"
		}
		e.Description = lines(p.Text())
		if p.Link != "" {
			e.Description += "\nAll your dates: " + p.Link
		}
		if !p.Deadline() {
			e.Location = line(p.Place.String())
		}
		events = append(events, e)
	}
	return events
}

// bounds are DTSTART and DTEND of an entry in the form of [check.Event],
// worked out here from the calendar's rules alone.
func bounds(p *feed.Published) (start, end string) {
	day := p.Day()
	if p.Clock == nil || p.Of == feed.Notice || p.Deadline() && !p.Done.IsZero() {
		return day.String(), day.AddDays(1).String()
	}
	loc, err := time.LoadLocation(p.Zone)
	if err != nil {
		panic(err)
	}
	at := func(d milestones.Date, c milestones.Clock, again bool) time.Time {
		c.Again = again
		return c.On(d, loc)
	}
	var from, to time.Time
	switch {
	case p.Deadline() && p.Clock.String() == "00:00":
		to = at(day.AddDays(1), *p.Clock, p.Again)
		from = to.Add(-30 * time.Minute)
	case p.Deadline():
		to = at(day, *p.Clock, p.Again)
		from = to.Add(-30 * time.Minute)
	default:
		from = at(day, *p.Clock, p.Again)
		to = from.Add(time.Hour)
		if p.Until != nil {
			to = at(day, *p.Until, false)
			if !to.After(from) {
				to = at(day.AddDays(1), *p.Until, false)
			}
		}
	}
	form := "2006-01-02T15:04:05[" + p.Zone + "]"
	if p.Zone == "UTC" || milestones.ClockOf(from).Again || milestones.ClockOf(to).Again {
		from, to, form = from.UTC(), to.UTC(), "2006-01-02T15:04:05Z"
	}
	return from.Format(form), to.Format(form)
}

// lines is a text as a calendar can carry it: lines end in LF, and there are
// no other control characters.
func lines(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	for _, end := range []string{"\r\n", "\r", "\u0085", "\u2028", "\u2029"} {
		s = strings.ReplaceAll(s, end, "\n")
	}
	s = strings.ReplaceAll(s, "\t", " ")
	return strings.Map(func(r rune) rune {
		if r != '\n' && (r < ' ' || r >= 0x7f && r <= 0x9f) {
			return -1
		}
		return r
	}, s)
}

// line is a text on one line.
func line(s string) string { return strings.ReplaceAll(lines(s), "\n", " ") }

// TestDemoReadsBack gives everybody's feed, with every choice of reminders,
// to every reader.
func TestDemoReadsBack(t *testing.T) {
	p, items := demo(t)
	var everyone feed.Calendar
	for _, who := range p.People {
		for _, r := range feed.AllReminders {
			c := calendarOf(p, items, who.Key, r)
			for _, fault := range check.Calendar(feed.Encode(c)) {
				t.Errorf("%s, %s: %s", who.Key, r, fault)
			}
		}
		c := calendarOf(p, items, who.Key, feed.ByBoth)
		everyone.Published = append(everyone.Published, c.Published...)
	}
	everyone.Name = "Everybody" // one stream for all: a reader takes long to start
	sound(t, everyone)
}
