package milestones

import (
	"sync"
	"time"
)

// Location is the wedding's zone, or UTC where it names none that is known.
func (w *Wedding) Location() *time.Location {
	if zone, ok := zones.Load(w.Zone); ok {
		return zone.(*time.Location)
	}
	zone, err := time.LoadLocation(w.Zone)
	if err != nil {
		return time.UTC
	}
	zones.Store(w.Zone, zone)
	return zone
}

// zones are those met so far, by name: time.LoadLocation parses anew each
// time, and takes longer than a small plan's whole schedule.
var zones sync.Map
