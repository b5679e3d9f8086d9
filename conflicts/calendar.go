package conflicts

import (
	"errors"
	"slices"
	"strings"
)

// maxDepth is how deep components may stand in each other. An alarm in an
// event in a calendar is three.
const maxDepth = 16

// component is a part of a calendar that matters here: an event, or a zone
// with its observances.
type component struct {
	name     string
	line     int // of its BEGIN
	calendar int // which one of the file it stands in, from 1
	props    []*property
	inner    []*component
}

// wanted are the properties that are read, by component.
var wanted = map[string][]string{
	"VEVENT": {"UID", "SEQUENCE", "SUMMARY", "DTSTART", "DTEND", "DURATION", "RRULE", "RDATE", "EXDATE", "EXRULE",
		"RECURRENCE-ID", "STATUS", "LOCATION", "GEO", "CATEGORIES", "DESCRIPTION"},
	"VTIMEZONE": {"TZID", "X-LIC-LOCATION"},
	"STANDARD":  {"DTSTART", "RRULE", "RDATE", "TZOFFSETFROM", "TZOFFSETTO"},
	"DAYLIGHT":  {"DTSTART", "RRULE", "RDATE", "TZOFFSETFROM", "TZOFFSETTO"},
}

// notEvents are components that are passed over, and what they are.
var notEvents = map[string]string{"VTODO": "a task", "VJOURNAL": "a journal entry", "VFREEBUSY": "busy time"}

// get is the first property of a name, or nil.
func (c *component) get(name string) *property {
	for _, p := range c.props {
		if p.name == name {
			return p
		}
	}
	return nil
}

// value is the first value of a name, trimmed, or empty.
func (c *component) value(name string) string {
	if p := c.get(name); p != nil {
		return strings.TrimSpace(p.value)
	}
	return ""
}

// calendarReader takes a text apart into components.
type calendarReader struct {
	*lister
	open      []*component // outermost first
	calendars int
	events    []*component
	zones     zoneBook
	repeats   repeater
}

// calendar reads every calendar in body.
func (l *lister) calendar(body []byte) error {
	c := &calendarReader{lister: l}
	c.zones.defined = map[zoneName]*component{}
	c.unfold(string(body), c.line)
	if c.calendars == 0 && len(c.events) == 0 {
		return errors.New("there is no calendar in it: no line says BEGIN:VCALENDAR")
	}
	for _, part := range c.open {
		c.listing.Cut = c.listing.Cut || !c.short && (part.name == "VEVENT" || part.name == "VCALENDAR")
		switch part.name {
		case "VEVENT":
			c.leaveOut(part.line, part.value("SUMMARY"), "the text ends inside this event, so the rest of it is missing")
		case "VCALENDAR":
			c.leaveOut(part.line, "", "the calendar has no end: it may have been cut off")
		}
	}
	c.list()
	return nil
}

// line takes one content line.
func (c *calendarReader) line(l contentLine) {
	name := l.name()
	switch {
	case name == "":
		c.leaveOut(l.no, l.text[:min(len(l.text), 4*maxName)], "this line is no property: it has no name and colon")
	case name == "BEGIN":
		c.begin(l.no, l.keyword(name))
	case name == "END":
		c.end(l.no, l.keyword(name))
	default:
		c.property(name, l)
	}
}

// keyword is the value of BEGIN and END.
func (c contentLine) keyword(name string) string {
	return strings.ToUpper(strings.TrimSpace(strings.TrimPrefix(c.text[len(name):], ":")))
}

func (c *calendarReader) begin(line int, name string) {
	if name == "VEVENT" || name == "VCALENDAR" {
		// Neither stands in another of its kind: that one's END is missing.
		if i := c.openAt(name); i >= 0 {
			c.leaveOut(c.open[i].line, c.open[i].value("SUMMARY"), "the END:%s of this one is missing; it is read up to line %d", name, line)
			c.close(i)
		}
	}
	if len(c.open) == maxDepth {
		c.leaveOut(line, "BEGIN:"+name, "components stand too deep in each other")
		return
	}
	if name == "VCALENDAR" {
		c.calendars++
	}
	if what, ok := notEvents[name]; ok {
		c.leaveOut(line, "BEGIN:"+name, "this is %s, no event", what)
	}
	c.open = append(c.open, &component{name: name, line: line, calendar: c.calendars})
}

// openAt is the place of the innermost open component of a name, or -1.
func (c *calendarReader) openAt(name string) int {
	for i := len(c.open) - 1; i >= 0; i-- {
		if c.open[i].name == name {
			return i
		}
	}
	return -1
}

func (c *calendarReader) end(line int, name string) {
	i := c.openAt(name)
	if i < 0 {
		c.leaveOut(line, "END:"+name, "nothing of this name is open here")
		return
	}
	c.close(i)
}

// close ends the component at place i and all that are still open in it.
func (c *calendarReader) close(i int) {
	for len(c.open) > i {
		last := len(c.open) - 1
		part := c.open[last]
		c.open = c.open[:last]
		switch part.name {
		case "VEVENT":
			if last > i {
				c.leaveOut(part.line, part.value("SUMMARY"), "the END:VEVENT of this one is missing; some of it may be too")
			}
			c.events = append(c.events, part)
		case "STANDARD", "DAYLIGHT":
			if last > 0 {
				c.open[last-1].inner = append(c.open[last-1].inner, part)
			}
		case "VTIMEZONE":
			c.zones.defined[zoneName{part.calendar, part.value("TZID")}] = part
		}
	}
}

func (c *calendarReader) property(name string, l contentLine) {
	if len(c.open) == 0 {
		return
	}
	part := c.open[len(c.open)-1]
	if !slices.Contains(wanted[part.name], name) {
		return
	}
	p, err := l.parse(name)
	if err != nil {
		c.leaveOut(l.no, l.text[:min(len(l.text), 4*maxName)], "this line cannot be read: %v", err)
		return
	}
	part.props = append(part.props, p)
}
