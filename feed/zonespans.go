package feed

import (
	"maps"
	"slices"
	"time"

	ics "github.com/arran4/golang-ical"
)

// zoneSpans gathers, by zone, the time over which a calendar needs it.
type zoneSpans map[string]*zoneSpan

type zoneSpan struct {
	loc      *time.Location
	from, to time.Time
}

func (z zoneSpans) cover(s span) {
	id := s.start.Location().String()
	known, ok := z[id]
	if !ok {
		z[id] = &zoneSpan{s.start.Location(), s.start, s.end}
		return
	}
	if s.start.Before(known.from) {
		known.from = s.start
	}
	if s.end.After(known.to) {
		known.to = s.end
	}
}

// timezones are the zones by name, each over whole years, so that an entry
// that moves within them leaves the description as it is.
func (z zoneSpans) timezones() []*ics.VTimezone {
	var all []*ics.VTimezone
	for _, id := range slices.Sorted(maps.Keys(z)) {
		s := z[id]
		from := time.Date(s.from.Year(), 1, 1, 0, 0, 0, 0, s.loc)
		to := time.Date(s.to.Year()+1, 1, 1, 0, 0, 0, 0, s.loc)
		all = append(all, timezone(s.loc, from, to))
	}
	return all
}
