package check

import "strings"

// place is a set of components that a property may stand in.
type place uint8

const (
	calendar place = 1 << iota
	event
	alarm
	zone
	observance
)

var places = map[string]place{
	"VCALENDAR": calendar,
	"VEVENT":    event,
	"VALARM":    alarm,
	"VTIMEZONE": zone,
	"STANDARD":  observance,
	"DAYLIGHT":  observance,
}

// inside tells which components may stand directly in which. No VTODO, VJOURNAL
// or VFREEBUSY: most clients that subscribe do not show them.
var inside = map[place]place{
	calendar: event | zone,
	event:    alarm,
	zone:     observance,
}

// rule says where a property stands and what its value is. In the places of
// must it stands exactly once, of once at most once, of many as often as it
// likes, and anywhere else not at all.
type rule struct {
	name             string
	cite             string
	must, once, many place
	value            kind
}

// rules are the properties of RFC 5545 3.7 and 3.8 and RFC 7986 5 that have a
// place in a feed, narrowed to what banns promises: the calendar's name and how
// often to read it are said for newer and for older clients, an entry has a
// SUMMARY, and an alarm is one that every client knows.
var rules = []rule{
	{"VERSION", "RFC 5545 3.7.4", calendar, 0, 0, oneOf("2.0")},
	{"PRODID", "RFC 5545 3.7.3", calendar, 0, 0, words},
	{"CALSCALE", "RFC 5545 3.7.1", 0, calendar, 0, oneOf("GREGORIAN")},
	{"NAME", "RFC 7986 5.1", calendar, 0, 0, words},
	{"X-WR-CALNAME", "the NAME of older clients", calendar, 0, 0, words},
	{"X-WR-CALDESC", "the DESCRIPTION of older clients", 0, calendar, 0, text},
	{"REFRESH-INTERVAL", "RFC 7986 5.7", calendar, 0, 0, interval},
	{"X-PUBLISHED-TTL", "the REFRESH-INTERVAL of older clients", calendar, 0, 0, duration},
	{"SOURCE", "RFC 7986 5.8", 0, calendar, 0, uri},

	{"UID", "RFC 5545 3.8.4.7", event, calendar | alarm, 0, words},
	{"DTSTAMP", "RFC 5545 3.8.7.2", event, 0, 0, utc},
	{"DTSTART", "RFC 5545 3.8.2.4", event | observance, 0, 0, when},
	{"DTEND", "RFC 5545 3.8.2.2", 0, event, 0, when},
	{"DURATION", "RFC 5545 3.8.2.5", 0, event, 0, duration},
	{"SUMMARY", "RFC 5545 3.8.1.12", event, 0, 0, words},
	{"DESCRIPTION", "RFC 5545 3.8.1.5", alarm, event, calendar, text},
	{"LOCATION", "RFC 5545 3.8.1.7", 0, event, 0, text},
	{"SEQUENCE", "RFC 5545 3.8.7.4", 0, event, 0, count},
	{"STATUS", "RFC 5545 3.8.1.11", 0, event, 0, oneOf("TENTATIVE", "CONFIRMED", "CANCELLED")},
	{"TRANSP", "RFC 5545 3.8.2.7", 0, event, 0, oneOf("OPAQUE", "TRANSPARENT")},
	{"CLASS", "RFC 5545 3.8.1.3", 0, event, 0, words},
	{"CREATED", "RFC 5545 3.8.7.1", 0, event, 0, utc},
	{"LAST-MODIFIED", "RFC 5545 3.8.7.3", 0, calendar | event | zone, 0, utc},
	{"GEO", "RFC 5545 3.8.1.6", 0, event, 0, geo},
	{"URL", "RFC 5545 3.8.4.6", 0, calendar | event, 0, uri},
	{"PRIORITY", "RFC 5545 3.8.1.9", 0, event, 0, count},
	{"ORGANIZER", "RFC 5545 3.8.4.3", 0, event, 0, address},
	{"COLOR", "RFC 7986 5.9", 0, calendar | event, 0, text},
	{"CATEGORIES", "RFC 5545 3.8.1.2", 0, 0, calendar | event, texts},
	{"RESOURCES", "RFC 5545 3.8.1.10", 0, 0, event, texts},
	{"COMMENT", "RFC 5545 3.8.1.4", 0, 0, event | observance, text},
	{"CONTACT", "RFC 5545 3.8.4.2", 0, 0, event, text},
	{"RELATED-TO", "RFC 5545 3.8.4.5", 0, 0, event | alarm, text},
	{"ATTENDEE", "RFC 5545 3.8.4.1", 0, 0, event, address},
	{"ATTACH", "RFC 5545 3.8.1.1", 0, 0, event, anything},
	{"IMAGE", "RFC 7986 5.10", 0, 0, calendar | event, anything},
	{"CONFERENCE", "RFC 7986 5.11", 0, 0, event, uri},

	{"ACTION", "RFC 5545 3.8.6.1", alarm, 0, 0, oneOf("DISPLAY")},
	{"TRIGGER", "RFC 5545 3.8.6.3", alarm, 0, 0, before},

	{"TZID", "RFC 5545 3.8.3.1", zone, 0, 0, words},
	{"TZURL", "RFC 5545 3.8.3.5", 0, zone, 0, uri},
	{"TZOFFSETFROM", "RFC 5545 3.8.3.3", observance, 0, 0, offset},
	{"TZOFFSETTO", "RFC 5545 3.8.3.4", observance, 0, 0, offset},
	{"TZNAME", "RFC 5545 3.8.3.2", 0, 0, observance, text},
}

// refused are known properties that a feed has a reason to be without.
var refused = map[string]string{
	"METHOD":        "METHOD makes the feed a scheduling message, which it is not (RFC 5546 3.2.1)",
	"RECURRENCE-ID": "RECURRENCE-ID, but every entry of a feed has its own UID",
	"RRULE":         "RRULE, but a feed writes every entry and every observance out",
	"RDATE":         "RDATE, but a feed writes every entry and every observance out",
	"EXDATE":        "EXDATE, but a feed writes every entry and every observance out",
}

var ruleOf = func() map[string]rule {
	m := map[string]rule{}
	for _, rule := range rules {
		m[rule.name] = rule
	}
	return m
}()

// component holds a component, and all that may stand in it, to the rules.
func (r *report) component(c *component, at place) {
	seen := map[string]int{}
	for _, p := range c.props {
		r.property(c, at, p, seen)
	}
	for _, rule := range rules {
		if rule.must&at != 0 && seen[rule.name] == 0 {
			r.add(c.n, "%s has no %s (%s)", c.name, rule.name, rule.cite)
		}
	}
	for _, kid := range c.kids {
		if within := places[kid.name]; within&inside[at] != 0 {
			r.component(kid, within)
			continue
		}
		r.add(kid.n, "%s has no place in %s", clip(kid.name), c.name)
	}
}

func (r *report) property(c *component, at place, p property, seen map[string]int) {
	rule, known := ruleOf[p.name]
	switch reason := refused[p.name]; {
	case reason != "":
		r.add(p.n, "%s", reason)
	case !known && strings.HasPrefix(p.name, "X-"):
		r.value(p, extension)
	case !known:
		r.add(p.n, "%s is no property that a feed has", clip(p.name))
	case (rule.must|rule.once|rule.many)&at == 0:
		r.add(p.n, "%s has no place in %s (%s)", p.name, c.name, rule.cite)
	case rule.many&at == 0 && seen[p.name] > 0:
		r.add(p.n, "a second %s, the first is on line %d (%s)", p.name, seen[p.name], rule.cite)
	default:
		seen[p.name] = p.n
		r.value(p, rule.value)
	}
}
