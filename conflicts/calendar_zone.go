package conflicts

import (
	"banns/milestones"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"
)

// maxZones is how many names of zones one source may use.
const maxZones = 200

// zoneName is a TZID in one of the calendars of a source.
type zoneName struct {
	calendar int
	id       string
}

// zoneBook knows the zones of a source.
type zoneBook struct {
	defined map[zoneName]*component // by a VTIMEZONE
	known   map[zoneName]*time.Location
	named   map[string]*time.Location // by IANA or Windows name; nil where it is neither
}

// zone is the zone that a TZID means: an IANA name, a name that Windows uses,
// or else whatever the calendar's own VTIMEZONE says. Where it means nothing,
// that is noted once, and it is taken to be the wedding's.
func (c *calendarReader) zone(calendar int, id string, line int) *time.Location {
	name := zoneName{calendar, strings.TrimSpace(id)}
	if loc, ok := c.zones.known[name]; ok {
		return loc
	}
	if c.zones.known == nil {
		c.zones.known = map[zoneName]*time.Location{}
		c.zones.named = map[string]*time.Location{}
	}
	if len(c.zones.known) == maxZones {
		c.leaveOut(line, id, "there are more than %d zones; hours in this one are taken as %s", maxZones, c.scope.Zone)
		return c.scope.Zone
	}
	loc := c.named(name.id)
	if loc == nil {
		loc = c.definedZone(name)
	}
	if loc == nil {
		loc = c.scope.Zone
		c.leaveOut(line, id, "this time zone is not known and not described; its hours are taken as %s", loc)
	}
	c.zones.known[name] = loc
	return loc
}

// definedZone is the zone that a VTIMEZONE describes, or nil.
func (c *calendarReader) definedZone(name zoneName) *time.Location {
	part := c.zones.defined[name]
	if part == nil {
		return nil
	}
	if loc := c.named(part.value("X-LIC-LOCATION")); loc != nil {
		return loc
	}
	return c.describedZone(part)
}

// named is the zone of an IANA or a Windows name, or nil.
func (c *calendarReader) named(id string) *time.Location {
	if id == "" {
		return nil
	}
	loc, ok := c.zones.named[id]
	if !ok {
		loc = namedZone(id)
		c.zones.named[id] = loc
	}
	return loc
}

func namedZone(id string) *time.Location {
	for _, try := range []string{id, titled(id)} {
		if loc := ianaZone(try); loc != nil {
			return loc
		}
		// From CLDR's windowsZones.
		if loc := ics.WindowsTimezoneToIANA(try); loc != nil {
			return loc
		}
	}
	// Some programs put their own name before it, as RFC 5545 3.8.3.1 lets
	// them: /example.org/20270101/America/Detroit.
	if parts := strings.Split(id, "/"); len(parts) > 2 {
		for _, n := range []int{3, 2} {
			if n < len(parts) {
				if loc := ianaZone(strings.Join(parts[len(parts)-n:], "/")); loc != nil {
					return loc
				}
			}
		}
	}
	return nil
}

// ianaZone is the zone of an IANA name, or nil.
func ianaZone(id string) *time.Location {
	loc, _ := milestones.Zone(id)
	return loc
}

// small are the words in capitals in names of zones, and the small ones.
var small = map[string]string{"utc": "UTC", "gmt": "GMT", "aus": "AUS", "us": "US", "sa": "SA", "fle": "FLE", "gtb": "GTB", "au": "au", "of": "of", "es": "es"}

// titled is a name of a zone that came in another case, with capitals where
// names of zones have them.
func titled(id string) string {
	var b strings.Builder
	rest := strings.ToLower(id)
	for rest != "" {
		i := strings.IndexAny(rest, " /_-(")
		word, between := rest, ""
		if i >= 0 {
			word, between, rest = rest[:i], rest[i:i+1], rest[i+1:]
		} else {
			rest = ""
		}
		if s, ok := small[word]; ok {
			word = s
		} else if word != "" {
			word = strings.ToUpper(word[:1]) + word[1:]
		}
		b.WriteString(word + between)
	}
	return b.String()
}
