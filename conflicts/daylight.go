package conflicts

import (
	"fmt"
	"math"
	"strings"
	"time"

	"banns/milestones"
)

// Daylight is the light of one day at one place. The moments are in the zone
// that was asked for, to the nearest minute, as for a flat horizon at sea
// level: hills bring the sunset forward. One that the day does not have is
// zero.
type Daylight struct {
	Day     milestones.Date
	Dawn    time.Time // civil twilight begins
	Sunrise time.Time
	Sunset  time.Time // after midnight, near the polar circles, it is still this day's
	Dusk    time.Time // end of civil twilight: from here on it is dark enough to need light
	Up      bool      // without a sunset: the sun stays up; otherwise it stays down

	zone *time.Location
	lat  float64
	noon time.Time // mean noon
	high sun       // at noon
}

// Sun works out the daylight of a day at a latitude (-90 to 90 degrees, north
// positive) and a longitude (-180 to 180, east positive), by the equations of
// the NOAA Solar Calculator: to a minute between 72 degrees north and south,
// and to ten beyond. Its error tells what is out of range.
func Sun(day milestones.Date, lat, lon float64, zone *time.Location) (Daylight, error) {
	light, err := byHorizon(day, lat, lon, zone)
	if err == nil {
		light.twilight()
	}
	return light, err
}

func (d *Daylight) twilight() { d.Dawn, d.Dusk = d.crossing(civil, -1), d.crossing(civil, +1) }

// byHorizon is Sun without its twilight.
func byHorizon(day milestones.Date, lat, lon float64, zone *time.Location) (Daylight, error) {
	if !(math.Abs(lat) <= 90) || !(math.Abs(lon) <= 180) {
		return Daylight{}, fmt.Errorf("%v, %v is no place: latitudes run from -90 to 90 degrees, longitudes from -180 to 180", lat, lon)
	}
	noon := meanNoon(day, lon, zone)
	light := Daylight{Day: day, zone: zone, lat: lat, noon: noon, high: sunAt(noon)}
	light.Sunrise, light.Sunset = light.crossing(horizon, -1), light.crossing(horizon, +1)
	light.Up = light.Sunset.IsZero() && math.Abs(lat-light.high.declination) < horizon
	return light, nil
}

// meanNoon is when the mean sun stands on the meridian of lon, on the day
// whose noon by the zone's clocks is nearest. The two may be far apart: clocks
// on Kiritimati show 14 hours more than those of Greenwich, and the sun ten
// and a half hours less.
func meanNoon(day milestones.Date, lon float64, zone *time.Location) time.Time {
	clocks := milestones.Clock{Hour: 12}.On(day, zone)
	noon := clocks.UTC().Truncate(24 * time.Hour).Add(minutes(720 - 4*lon))
	return noon.Add(clocks.Sub(noon).Round(24 * time.Hour))
}

// crossing is when the sun comes to a zenith before (side -1) or after (side
// +1) mean noon, to the minute; zero where it does not. The sun moves on in the
// meantime, so its place is taken anew at each better guess.
func (d *Daylight) crossing(zenith, side float64) time.Time {
	s, at := d.high, d.noon
	for n := range guesses {
		if n > 0 {
			s = sunAt(at)
		}
		angle, ok := s.hourAngle(d.lat, zenith)
		if !ok {
			return time.Time{}
		}
		at = d.noon.Add(minutes(side*4*angle - s.ahead))
	}
	return at.Round(time.Minute).In(d.zone)
}

// guesses are how many it takes to be right to the second.
const guesses = 4

func minutes(n float64) time.Duration { return time.Duration(n * float64(time.Minute)) }

// String is the evening in words: "sunset 19:41, dark from 20:09".
func (d Daylight) String() string {
	switch {
	case d.Sunset.IsZero() && d.Up:
		return fmt.Sprintf("the sun does not set on %s", d.Day.Words())
	case d.Sunset.IsZero() && d.Dusk.IsZero():
		return fmt.Sprintf("the sun does not rise on %s", d.Day.Words())
	case d.Sunset.IsZero():
		return fmt.Sprintf("the sun does not rise on %s, and the twilight ends at %s", d.Day.Words(), d.clock(d.Dusk))
	case d.Dusk.IsZero():
		return fmt.Sprintf("sunset %s, and it does not get dark", d.clock(d.Sunset))
	}
	return fmt.Sprintf("sunset %s, dark from %s", d.clock(d.Sunset), d.clock(d.Dusk))
}

// clock is the hour of t, with its day where that is another one.
func (d Daylight) clock(t time.Time) string {
	if on := milestones.DateOf(t); on != d.Day {
		return t.Format("15:04") + " on " + on.Words()
	}
	return t.Format("15:04")
}

// Against tells in words what light a ceremony has that starts at start on
// this day, and ends at end: before start it is on the next day, and nil where
// it is not known. "sunset 19:41, dark
// from 20:09; the ceremony at 16:30 ends in daylight".
func (d Daylight) Against(start milestones.Clock, end *milestones.Clock) string {
	begins := start.On(d.Day, d.zone)
	said := d.String() + "; the ceremony at " + start.String() + " "
	if end == nil {
		return said + d.startsIn(begins)
	}
	ends := end.On(d.Day, d.zone)
	if ends.Before(begins) {
		ends = end.On(d.Day.AddDays(1), d.zone)
	}
	return said + d.endsIn(begins, ends)
}

// startsIn is the light at the start, for a ceremony without a known end.
func (d Daylight) startsIn(begins time.Time) string {
	if light := d.at(begins); light != byDay || d.Sunset.IsZero() {
		return "starts " + light
	}
	return "starts " + spell(d.Sunset.Sub(begins)) + " before sunset"
}

func (d Daylight) endsIn(begins, ends time.Time) string {
	from, to := d.at(begins), d.at(ends)
	switch {
	case from == to && from == byDay:
		return "ends " + to
	case from == to:
		return "is " + to
	}
	return "starts " + from + " and ends " + to
}

// The light that a moment may have.
const (
	byDay   = "in daylight"
	byDusk  = "in twilight"
	byNight = "in the dark"
)

// sunny reports whether the sun is up at t.
func (d Daylight) sunny(t time.Time) bool {
	return d.Sunset.IsZero() && d.Up || !d.Sunset.IsZero() && between(t, d.Sunrise, d.Sunset)
}

// between reports whether t is from one moment to another; a missing from is
// long ago.
func between(t, from, to time.Time) bool { return !t.Before(from) && !t.After(to) }

// at is the light at t.
func (d Daylight) at(t time.Time) string {
	switch {
	case d.sunny(t):
		return byDay
	case !d.Sunset.IsZero() && d.Dusk.IsZero(), between(t, d.Dawn, d.Dusk):
		return byDusk
	}
	return byNight
}

// spell is a length of time in words, to the minute: "3 hours 11 minutes".
func spell(t time.Duration) string {
	var said []string
	for _, unit := range []struct {
		name string
		n    int
	}{{"hour", int(t / time.Hour)}, {"minute", int(t % time.Hour / time.Minute)}} {
		switch {
		case unit.n == 1:
			said = append(said, "1 "+unit.name)
		case unit.n > 1:
			said = append(said, fmt.Sprintf("%d %ss", unit.n, unit.name))
		}
	}
	if said == nil {
		return "less than a minute"
	}
	return strings.Join(said, " ")
}
