package conflicts

import (
	"math"
	"strings"
	"time"

	"banns/milestones"
)

// Clash is one thing that speaks against a day.
type Clash struct {
	Event
	Effects  []Effect // the worst first: it decides the severity
	Severity Severity
	Says     string // in a sentence, why it matters
	// About is what of the plan itself it is first about, by its place there, as
	// agreements/cake or appointments/fitting; countdown or away for those as a
	// whole. Empty for what is none of the plan's, and to an outsider.
	About string
}

// clash is how e matters to a wedding on a day: its severity is 0 where it
// does not.
func (s *Scales) clash(e *Event, day milestones.Date) Clash {
	c := Clash{Event: *e}
	b := s.bear(e)
	first, last := s.days(e)
	switch {
	case !day.Before(first) && !day.After(last):
		c.Severity = b.onDay(s.over(e, day))
	case day == first.AddDays(-1) || day == last.AddDays(1):
		c.Severity = b.beside
	case sameWeekend(first, last, day):
		c.Severity = b.weekend
	}
	if c.Severity > 0 {
		if day.Before(first) || day.After(last) || s.over(e, day) {
			b.effects = b.effects[:1]
		}
		c.Effects, c.Says = b.effects, s.says(e, b, day)
	}
	return c
}

// weekendGap is how far apart a weekend's first and last day are. It begins on
// Friday: guests who come from afar book from there to Sunday.
const weekendGap = 2

// sameWeekend reports whether a day is on the other end of a weekend: a Friday,
// of what begins on the Sunday, or a Sunday, of what ends on the Friday.
func sameWeekend(first, last, day milestones.Date) bool {
	return day.Weekday() == time.Friday && first == day.AddDays(weekendGap) ||
		day.Weekday() == time.Sunday && last == day.AddDays(-weekendGap)
}

// bearing is what an event is to this wedding, on its own days, on those
// beside them, and at the other end of the weekend.
type bearing struct {
	effects    []Effect // the worst first
	on, beside Severity
	weekend    Severity
	over       Severity // on a day of its own on which, by the hour, it does not meet the wedding
	near       nearness
	km         float64 // from the wedding's place, or below 0: not known
}

func (b *bearing) onDay(over bool) Severity {
	if over {
		return b.over
	}
	return b.on
}

func (s *Scales) bear(e *Event) bearing {
	w := weightOf(e.Kind)
	var b bearing
	if b.near, b.km = s.near(e); b.near == beyond {
		return b
	}
	b.effects, b.on = w.effects[b.near], w.on[b.near]
	if e.Kind == Holiday && e.To.After(e.From) {
		b.effects = longWeekend
	}
	if s.kind == milestones.KindAppointment {
		b.effects = visited(b.effects)
	}
	b.over = b.on
	if b.near <= inTown && s.kind != milestones.KindAppointment { // the night before does not matter to a fitting
		b.beside = w.beside
		if b.effects[0] == Rooms {
			b.weekend = w.beside.lighter()
		}
	}
	switch {
	case e.Rival:
		b.on, b.beside, b.weekend = min(b.on, Slight), 0, 0
		b.over = b.on
	case e.Custom == NotHeld:
		b.effects, b.on, b.over = []Effect{Clergy}, Serious, Serious
	case s.atPlace(e): // for however long: without the place there is no wedding
		b.effects, b.on, b.over = []Effect{Closed}, Blocking, Serious
		if e.season() {
			b.beside, b.weekend = 0, 0
		}
	case e.season():
		b.on, b.beside, b.weekend = min(b.on, Slight), 0, 0
		b.over = b.on
	case w.hourly || s.kind == milestones.KindAppointment:
		b.over = b.on.lighter()
	}
	return b
}

// visited is what of some effects is felt by somebody who comes for an hour or
// two: the worst that is not merely heard.
func visited(all []Effect) []Effect {
	if all[0] == Noise && len(all) > 1 {
		return all[1:2]
	}
	return all[:1]
}

// near is how far e is from the wedding. Whatever everybody keeps is near.
func (s *Scales) near(e *Event) (nearness, float64) {
	switch {
	case e.everywhere():
		return inTown, -1
	case s.atPlace(e):
		return atDoor, 0
	case e.Place.At != nil && s.place.At != nil:
		km := distance(*e.Place.At, *s.place.At)
		for n, reach := range [...]float64{atDoor: doorKm, inTown: townKm, inRegion: regionKm} {
			if km <= reach {
				return nearness(n), km
			}
		}
		return beyond, km
	case e.Place.City != "" && s.place.City != "" && !strings.EqualFold(e.Place.City, s.place.City):
		return inRegion, -1
	}
	return inTown, -1
}

// everywhere reports whether e is kept by all, wherever they are.
func (e *Event) everywhere() bool {
	return e.Kind == Holiday || e.Kind == Observance || e.Kind == Family || e.Kind == Clocks
}

// earthKm is the mean radius of the earth (IUGG).
const earthKm = 6371.0088

// distance is the great-circle distance of two points in kilometres, by the
// haversine formula.
func distance(a, b [2]float64) float64 {
	rad := func(deg float64) float64 { return deg * math.Pi / 180 }
	hav := func(x float64) float64 { return math.Pow(math.Sin(x/2), 2) }
	h := hav(rad(b[0]-a[0])) + math.Cos(rad(a[0]))*math.Cos(rad(b[0]))*hav(rad(b[1]-a[1]))
	return 2 * earthKm * math.Asin(math.Sqrt(min(h, 1)))
}

// A wedding day's streets and quiet are needed from setupHours before the
// start, and for partyHours after it; of anything else the way there and back
// is, and meetingHours where no end is known: common practice.
const (
	setupHours   = 3
	partyHours   = 9
	meetingHours = 2
	wayHours     = 1
)

// busy is the hours of the day in which a wedding that begins at start feels
// what is on; nil: not known.
func busy(start *milestones.Clock) *[2]int {
	if start == nil {
		return nil
	}
	return &[2]int{start.Hour - setupHours, start.Hour + partyHours}
}

// smallHours is the hour before which a night belongs to the day before:
// common practice.
const smallHours = 6

// days are the first and the last day that e takes up. What ends in the small
// hours was on the evening before, and is over before anybody is up for a
// wedding; so was what is wholly within them.
func (s *Scales) days(e *Event) (first, last milestones.Date) {
	switch {
	case s.nightly(e):
		return e.From.AddDays(-1), e.To.AddDays(-1)
	case e.To.After(e.From) && !e.Daily && s.small(e.End):
		return e.From, e.To.AddDays(-1)
	}
	return e.From, e.To
}

// nightly reports whether e is wholly in the small hours.
func (s *Scales) nightly(e *Event) bool {
	return (e.Daily || e.From == e.To) && e.Start != nil && e.Start.Hour < smallHours && s.small(e.End)
}

// small reports whether an hour is known to be small, and before those that
// matter.
func (s *Scales) small(c *milestones.Clock) bool {
	return c != nil && c.Hour < smallHours && (s.hours == nil || c.Hour < s.hours[0])
}

// over reports whether e, by its hours on a day of its own, is over before
// those that matter begin, or begins after them.
func (s *Scales) over(e *Event, day milestones.Date) bool {
	ends, begins := e.Daily || day == e.To, e.Daily || day == e.From
	switch {
	case s.nightly(e):
		return s.hours == nil || e.Start.Hour+24 >= s.hours[1]
	case s.hours == nil:
		return ends && e.End != nil && e.End.Hour < smallHours
	}
	return ends && e.End != nil && e.End.Hour < s.hours[0] || begins && e.Start != nil && e.Start.Hour >= s.hours[1]
}
