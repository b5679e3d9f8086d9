package feed

import (
	"fmt"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"

	"banns/milestones"
)

// productID names the program in every calendar (RFC 5545 3.7.3).
const productID = "-//banns//wedding dates//EN"

// refresh is how often a client is asked to look again: a DURATION (RFC 7986
// 5.7).
const refresh = "PT6H"

// The forms of a DATE-TIME, local and in UTC (RFC 5545 3.3.5).
const (
	localForm = "20060102T150405"
	utcForm   = "20060102T150405Z"
)

// Reminders is what somebody chose to be reminded by.
type Reminders string

// The choices.
const (
	ByAlarm  Reminders = "alarm"  // an alarm in each entry
	ByNotice Reminders = "notice" // an entry of its own a week before
	ByBoth   Reminders = "both"
	ByNone   Reminders = "none"
)

// AllReminders are the choices, in the order in which they are offered.
var AllReminders = []Reminders{ByAlarm, ByNotice, ByBoth, ByNone}

// Alarms reports whether entries carry an alarm.
func (r Reminders) Alarms() bool { return r == ByAlarm || r == ByBoth }

// Notices reports whether there are early notices.
func (r Reminders) Notices() bool { return r == ByNotice || r == ByBoth }

// Calendar is all that one feed carries.
type Calendar struct {
	Name      string
	Published []Published
}

// Published is an entry as it stands in a feed: with the revision that
// clients compare (RFC 5545 3.8.7).
type Published struct {
	Entry
	Link      string // the feed's page, or empty
	Alarm     bool
	Brief     bool `json:",omitempty"` // much of its text is left for the page: the feed was too long
	Sequence  int
	Changed   time.Time // when it last changed: DTSTAMP and LAST-MODIFIED
	Withdrawn bool      // it is off; its last summary and day are shown, and nothing else
}

// Encode writes the calendar as RFC 5545 has it. Entries without a day are
// left out. It has no clock: the same calendar gives the same bytes.
func Encode(c Calendar) []byte {
	cal, name := &ics.Calendar{}, oneLine(c.Name)
	for _, p := range [][2]string{
		{"VERSION", "2.0"}, {"PRODID", productID}, {"CALSCALE", "GREGORIAN"},
		{"NAME", name}, {"X-WR-CALNAME", name}, // RFC 7986 5.1; older clients read the second
	} {
		cal.CalendarProperties = append(cal.CalendarProperties, ics.CalendarProperty{
			BaseProperty: ics.BaseProperty{IANAToken: p[0], Value: p[1]}})
	}
	cal.CalendarProperties = append(cal.CalendarProperties, // RFC 7986 5.7; older clients read the second
		ics.CalendarProperty{BaseProperty: ics.BaseProperty{IANAToken: "REFRESH-INTERVAL",
			ICalParameters: map[string][]string{"VALUE": {"DURATION"}}, Value: refresh}},
		ics.CalendarProperty{BaseProperty: ics.BaseProperty{IANAToken: "X-PUBLISHED-TTL", Value: refresh}})

	zones := zoneSpans{}
	var events []ics.Component
	for i := range c.Published {
		if p := &c.Published[i]; !p.Date.IsZero() {
			events = append(events, p.event(zones))
		}
	}
	if len(events) == 0 {
		// A calendar has at least one component (RFC 5545 3.6), and an empty
		// answer must stay a calendar: its zone stands alone.
		cal.Components = append(cal.Components, timezone(time.UTC, time.Time{}, time.Time{}))
	}
	for _, tz := range zones.timezones() {
		cal.Components = append(cal.Components, tz)
	}
	cal.Components = append(cal.Components, events...)
	return []byte(cal.Serialize(ics.WithNewLineWindows))
}

// event writes one entry, and notes the zone it needs.
func (p *Published) event(zones zoneSpans) *ics.VEvent {
	e := &ics.VEvent{}
	set := func(name ics.ComponentProperty, value string, params ...ics.PropertyParameter) {
		e.Properties = append(e.Properties, property(name, value, params...))
	}
	stamp := p.Changed.UTC().Format(utcForm)
	set("UID", p.UID)
	set("DTSTAMP", stamp)
	set("LAST-MODIFIED", stamp)
	set("SEQUENCE", fmt.Sprint(p.Sequence))
	p.when(set, zones)
	if p.Withdrawn {
		set("SUMMARY", oneLine(p.off()))
		set("STATUS", "CANCELLED")
		set("TRANSP", "TRANSPARENT")
		return e
	}
	set("SUMMARY", oneLine(p.Summary()))
	if p.Link != "" && !p.Brief {
		set("URL", link(p.Link))
	}
	if text := p.text(); text != "" {
		set("DESCRIPTION", clean(text))
	}
	if place := p.Place.String(); place != "" && !p.Deadline() {
		set("LOCATION", oneLine(place))
		if at := p.Place.At; at != nil {
			set("GEO", fmt.Sprintf("%.6f;%.6f", at[0], at[1]))
		}
	}
	set("STATUS", p.status())
	set("TRANSP", p.transparency())
	if p.Alarm && p.alarmed() {
		says := p.Summary()
		if p.Brief { // it rings on an entry that says the rest
			says = p.Title
		}
		e.Components = append(e.Components, alarm(oneLine(says), p.span().allDay))
	}
	return e
}

// text is what an entry says beside its summary, with the way to the page.
// Some phones show no URL.
func (p *Published) text() string {
	text, way := p.Text(), "All your dates: "
	if p.Brief {
		text, way = p.brief(), "In full: "
	}
	if p.Link != "" && text != "" {
		text += "\n" + way + p.Link
	}
	return text
}

// when sets DTSTART and DTEND. An all-day entry ends the day after its last
// day (RFC 5545 3.6.1); the second pass of a repeated hour goes out in UTC.
func (p *Published) when(set func(ics.ComponentProperty, string, ...ics.PropertyParameter), zones zoneSpans) {
	s := p.span()
	if !s.allDay.IsZero() {
		set("DTSTART", compact(s.allDay), ics.WithValue("DATE"))
		set("DTEND", compact(s.allDay.AddDays(1)), ics.WithValue("DATE"))
		return
	}
	if loc := s.start.Location(); loc == time.UTC || again(s.start) || again(s.end) {
		set("DTSTART", s.start.UTC().Format(utcForm))
		set("DTEND", s.end.UTC().Format(utcForm))
		return
	}
	zones.cover(s)
	id := ics.WithTZID(s.start.Location().String())
	set("DTSTART", s.start.Format(localForm), id)
	set("DTEND", s.end.Format(localForm), id)
}

func compact(d milestones.Date) string { return strings.ReplaceAll(d.String(), "-", "") }

func (p *Published) status() string {
	if p.Standing == milestones.Quoted {
		return "TENTATIVE"
	}
	return "CONFIRMED"
}

// transparency keeps a due date, and what only others are asked to, from making
// somebody look busy.
func (p *Published) transparency() string {
	switch p.Kind {
	case milestones.KindAppointment, milestones.KindOccasion, milestones.KindWedding:
		if p.Of == Itself && p.For == "" {
			return "OPAQUE"
		}
	}
	return "TRANSPARENT"
}

// alarmed reports whether there is anything left to be reminded of. Where
// entries are brief, a day that no contract sets does not ring; nor, ever, does
// what only others are asked to.
func (p *Published) alarmed() bool {
	return !(p.Brief && p.Kind == milestones.KindMilestone) && p.Done.IsZero() && p.Of == Itself && p.For == "" && p.Kind != milestones.KindWedding && p.Standing != milestones.Quoted
}

// alarm rings at nine the morning before a day, and two hours before an
// hour. Its trigger is relative to the start and negative: one large client
// drops the sign of any other.
func alarm(summary string, allDay milestones.Date) *ics.VAlarm {
	trigger := "-PT2H"
	if !allDay.IsZero() {
		trigger = "-PT15H"
	}
	a := &ics.VAlarm{}
	a.Properties = []ics.IANAProperty{
		property("ACTION", "DISPLAY"), property("DESCRIPTION", summary), property("TRIGGER", trigger),
	}
	return a
}

func property(name ics.ComponentProperty, value string, params ...ics.PropertyParameter) ics.IANAProperty {
	p := ics.IANAProperty{BaseProperty: ics.BaseProperty{IANAToken: string(name), Value: value}}
	if len(params) > 0 {
		p.ICalParameters = map[string][]string{}
		for _, param := range params {
			k, v := param.KeyValue()
			p.ICalParameters[k] = v
		}
	}
	return p
}

// clean keeps of a text what a content line can carry: no control
// characters but the newline, which is then escaped, and no broken UTF-8
// (RFC 5545 3.1, 3.3.11).
func clean(s string) string {
	if !strings.ContainsFunc(s, unclean) {
		return s
	}
	s = strings.ToValidUTF8(s, "\uFFFD")
	s = newlines.Replace(s)
	return strings.Map(func(r rune) rune {
		if r != '\n' && unicode.IsControl(r) {
			return -1
		}
		return r
	}, s)
}

// newlines are the ways to end a line, as one.
var newlines = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n", "\t", " ")

// oneLine is a clean text for what clients show on one line.
func oneLine(s string) string { return strings.ReplaceAll(clean(s), "\n", " ") }

func unclean(r rune) bool {
	return r != '\n' && unicode.IsControl(r) || r == unicode.ReplacementChar || r == '\u2028' || r == '\u2029'
}

// link keeps of an address what a URI can carry unescaped in a content line.
func link(s string) string {
	return strings.Map(func(r rune) rune {
		if r <= ' ' || r >= 0x7f || strings.ContainsRune(`"<>\^{|}`+"`", r) {
			return -1
		}
		return r
	}, s)
}
