package milestones

import (
	"fmt"
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
