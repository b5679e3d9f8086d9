package milestones

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"time"
)

// Zone is the zone of a name of the IANA time zone database. "Local" and the
// empty name are none: they would be another zone on every machine.
func Zone(name string) (*time.Location, error) {
	if zone, ok := zones.Load(name); ok {
		return zone.(*time.Location), nil
	}
	zone, err := time.LoadLocation(name)
	if err != nil || name == "" || name == "Local" {
		return nil, fmt.Errorf("%q is no time zone; write a place that keeps it, such as America/Detroit or Europe/Dublin", name)
	}
	zones.Store(name, zone)
	return zone, nil
}

// ZoneCalled is the name in the IANA time zone database of the zone that
// somebody calls so: by that name in any spelling (america/new york), by its
// city alone (Chicago), or as clocks are called in the US (Central Time: the
// US/ names of the database's file backward).
func ZoneCalled(name string) (zone string, known bool) {
	name = strings.Join(strings.Fields(name), " ")
	if _, err := Zone(name); err == nil {
		return name, true
	}
	said := strings.ToLower(name)
	for _, clock := range []string{" standard time", " daylight time", " time"} {
		said = strings.TrimSuffix(said, clock)
	}
	if zone, ok := clocksOfUS[said]; ok {
		return zone, true
	}
	title := wordBegins.ReplaceAllStringFunc(said, strings.ToUpper)
	for _, spelt := range []string{name, title, strings.ToUpper(name)} {
		for _, area := range zoneAreas {
			zone := area + strings.ReplaceAll(spelt, " ", "_")
			if _, err := Zone(zone); err == nil {
				return zone, true
			}
		}
	}
	return "", false
}

var clocksOfUS = map[string]string{
	"eastern": "America/New_York", "central": "America/Chicago", "mountain": "America/Denver", "pacific": "America/Los_Angeles",
	"alaska": "America/Anchorage", "hawaii": "Pacific/Honolulu", "arizona": "America/Phoenix",
}

// zoneAreas are those under which the database has cities.
var zoneAreas = []string{"", "America/", "Europe/", "Australia/", "Pacific/", "Asia/", "Africa/", "Atlantic/", "Indian/",
	"America/Indiana/", "America/Kentucky/", "America/North_Dakota/", "America/Argentina/"}

var wordBegins = regexp.MustCompile(`\b[a-z]`)

// ZoneOrUTC is the zone of that name, or UTC where there is none.
func ZoneOrUTC(name string) *time.Location {
	if zone, err := Zone(name); err == nil {
		return zone
	}
	return time.UTC
}

// Location is the wedding's zone, or UTC where it names none that is known.
func (w *Wedding) Location() *time.Location { return ZoneOrUTC(w.Zone) }

// zones are those met so far, by name: time.LoadLocation parses anew each
// time, and takes longer than a small plan's whole schedule.
var zones sync.Map
