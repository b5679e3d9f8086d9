package conflicts

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"banns/milestones"
)

// about is the daylight of three days, the middle one being on, by Universal Time: a table lists what
// happens on a day of its own zone, wherever the place is.
func about(t *testing.T, on milestones.Date, lat, lon float64) (all [3]Daylight) {
	t.Helper()
	for i := range all {
		var err error
		if all[i], err = Sun(on.AddDays(i-1), lat, lon, time.UTC); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

// near reports whether one of three moments is within so many minutes of want.
func byMinutes(want time.Time, minutes float64, have ...time.Time) bool {
	for _, t := range have {
		if !t.IsZero() && math.Abs(t.Sub(want).Minutes()) <= minutes {
			return true
		}
	}
	return false
}

// place reads "N36 57, W112 31, 2023, -7" of a yearly table.
func place(t *testing.T, header string) (lat, lon float64, year, hours int) {
	t.Helper()
	f := strings.Split(header, ", ")
	angle := func(s string) float64 {
		degrees, minutes, _ := strings.Cut(s[1:], " ")
		a, err := strconv.Atoi(degrees)
		b, err2 := strconv.Atoi(minutes)
		if err != nil || err2 != nil {
			t.Fatal(header)
		}
		angle := float64(a) + float64(b)/60
		if s[0] == 'S' || s[0] == 'W' {
			return -angle
		}
		return angle
	}
	year, _ = strconv.Atoi(f[2])
	hours, _ = strconv.Atoi(f[3])
	return angle(f[0]), angle(f[1]), year, hours
}

// printed is one moment of a yearly table: what stands there for the rise or
// the set of a day, and the minutes that the equations may be off.
type printed struct {
	lat, lon, allowed float64
	on                milestones.Date
	text              string
	hours             int // that the table's zone is from Universal Time
	moment            func(Daylight) time.Time
}

func yearlyTables(t *testing.T) (all []printed) {
	t.Helper()
	var p printed
	var year int
	for _, row := range lines(t, "usno_sun.txt") {
		if row[0] == 'N' || row[0] == 'S' {
			p.lat, p.lon, year, p.hours = place(t, row)
			p.allowed = 1
			if math.Abs(p.lat) > 72 {
				p.allowed = 10
			}
			continue
		}
		n, _ := strconv.Atoi(row[:2])
		for m := time.January; m <= time.December; m++ {
			p.on = d(year, m, n)
			at := 4 + 11*(int(m)-1)
			p.text, p.moment = row[at:at+4], func(l Daylight) time.Time { return l.Sunrise }
			all = append(all, p)
			p.text, p.moment = row[at+5:at+9], func(l Daylight) time.Time { return l.Sunset }
			all = append(all, p)
		}
	}
	return all
}

// Sunrise and sunset at seven latitudes, to the minute at the six up to 72
// degrees and to ten minutes beyond, as the equations promise.
func TestSunAgainstTheNavalObservatory(t *testing.T) {
	compared, without, exact := 0, 0, 0
	for _, p := range yearlyTables(t) {
		days := about(t, p.on, p.lat, p.lon)
		have := []time.Time{p.moment(days[0]), p.moment(days[1]), p.moment(days[2])}
		switch p.text {
		case "    ": // it is on the day before or after, or the month is not stored
		case "****", "----":
			without++
			if !have[1].IsZero() || days[1].Up != (p.text == "****") {
				t.Errorf("%v, %v on %s: %+v, the table has %s", p.lat, p.lon, p.on, days[1], p.text)
			}
		default:
			clock, err := time.Parse("1504", p.text)
			if err != nil {
				t.Fatal(err)
			}
			compared++
			want := time.Date(p.on.Year, p.on.Month, p.on.Day, clock.Hour()-p.hours, clock.Minute(), 0, 0, time.UTC)
			if byMinutes(want, 0, have...) {
				exact++
			}
			if !byMinutes(want, p.allowed, have...) {
				t.Errorf("%v, %v: %s, the table has %s", p.lat, p.lon, have, want)
			}
		}
	}
	t.Logf("%d of %d in the same minute", exact, compared)
	if compared < 390 || without < 30 || exact < compared*3/4 {
		t.Errorf("of %d moments %d were in the same minute, and %d were missing", compared, exact, without)
	}
}

func TestTwilightAgainstTheNavalObservatory(t *testing.T) {
	for _, row := range lines(t, "usno_twilight.txt") {
		f := strings.Fields(row)
		lat, _ := strconv.ParseFloat(f[0], 64)
		lon, _ := strconv.ParseFloat(f[1], 64)
		on := day(t, f[2])
		days := about(t, on, lat, lon)
		for i, printed := range f[3:] {
			moment := func(d Daylight) time.Time { return []time.Time{d.Dawn, d.Dusk}[i] }
			if printed == "-" {
				if !moment(days[1]).IsZero() {
					t.Errorf("%s: %s, the service has none", row, moment(days[1]))
				}
				continue
			}
			clock, err := milestones.ParseClock(printed)
			if err != nil {
				t.Fatal(err)
			}
			allowed := 1.0
			if math.Abs(lat) > 72 {
				allowed = 10
			}
			if !byMinutes(clock.On(on, time.UTC), allowed, moment(days[0]), moment(days[1]), moment(days[2])) {
				t.Errorf("%s: %s, the service has %s", row, moment(days[1]), printed)
			}
		}
	}
}

// By the clocks of the place, and on the day that was asked about. All but
// the last two: the U.S. Naval Observatory, as stored in public copies; four
// of the places keep clocks far from their sun.
func TestSunByTheClocksOfThePlace(t *testing.T) {
	rows := []struct {
		zone                        string
		day                         milestones.Date
		lat, lon                    float64
		dawn, sunrise, sunset, dusk string
	}{
		{"Pacific/Kiritimati", d(2026, 8, 14), 1.87, -157.43, "", "06:29", "18:40", ""},
		{"Pacific/Apia", d(2026, 8, 14), -13.83, -171.77, "", "06:43", "18:21", ""},
		{"Pacific/Chatham", d(2026, 8, 14), -43.95, -176.55, "", "07:29", "17:44", ""},
		{"Pacific/Tongatapu", d(2026, 8, 14), -21.13, -175.20, "", "07:05", "18:27", ""},
		{"Pacific/Auckland", d(2026, 1, 15), -36.85, 174.76, "", "06:18", "20:42", ""},
		{"America/New_York", d(2009, 9, 6), 33.8, -84.4, "06:50", "07:15", "19:56", "20:21"},
		{"America/New_York", d(2024, 6, 21), 42.32, -71.09, "04:33", "", "", "20:59"},
		{"America/Chicago", d(2026, 10, 1), 32.717264, -97.441626, "", "07:24", "19:14", ""},
		// Sunset after midnight, and no dark: from memory of the almanac.
		{"Atlantic/Reykjavik", d(2027, 6, 19), 64.15, -21.94, "", "02:55", "00:03 on Sun 20 Jun 2027", ""},
	}
	for _, r := range rows {
		light, err := Sun(r.day, r.lat, r.lon, zone(t, r.zone))
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range []string{r.dawn, r.sunrise, r.sunset, r.dusk} {
			moment := []time.Time{light.Dawn, light.Sunrise, light.Sunset, light.Dusk}[i]
			hour, err := milestones.ParseClock(want)
			switch {
			case want == "":
			case err != nil && light.clock(moment) != want, err == nil && !byMinutes(hour.On(r.day, zone(t, r.zone)), 1, moment):
				t.Errorf("%s %s: %s, want %s", r.zone, r.day, light.clock(moment), want)
			}
		}
	}
}

// Through 300 years and from pole to pole, a day's moments come in their
// order, and its noon is on that day.
func TestDaylightHoldsTogether(t *testing.T) {
	detroit := zone(t, "America/Detroit")
	for year := 1900; year <= 2200; year += 7 {
		for lat := -90.0; lat <= 90; lat += 7.5 {
			for on := d(year, 1, 3); on.Year == year; on = on.AddDays(29) {
				l, err := Sun(on, lat, -85.6, detroit)
				if err != nil {
					t.Fatal(err)
				}
				moments := []time.Time{l.Dawn, l.Sunrise, l.Sunset, l.Dusk}
				var before time.Time
				for _, m := range moments {
					if !m.IsZero() && m.Before(before) {
						t.Fatalf("%v on %s: %s", lat, on, moments)
					}
					before = m
				}
				noon := milestones.Clock{Hour: 12}.On(on, detroit)
				if !l.Sunset.IsZero() && (l.Sunset.Sub(noon) < -time.Hour || l.Sunset.Sub(noon) > 15*time.Hour) {
					t.Fatalf("%v on %s: the sunset of another day, %s", lat, on, l.Sunset)
				}
			}
		}
	}
}

func TestNoSuchPlace(t *testing.T) {
	for _, at := range [][2]float64{{90.1, 0}, {-91, 0}, {0, 180.5}, {0, -181}, {math.NaN(), 0}, {0, math.NaN()}, {math.Inf(1), 0}} {
		if _, err := Sun(d(2027, 9, 18), at[0], at[1], time.UTC); err == nil {
			t.Errorf("%v is no place", at)
		}
	}
}

func TestDaylightInWords(t *testing.T) {
	clock := func(s string) *milestones.Clock {
		c, err := milestones.ParseClock(s)
		if err != nil {
			t.Fatal(err)
		}
		return &c
	}
	type evening struct {
		zone     string
		day      milestones.Date
		lat, lon float64
	}
	var (
		michigan  = evening{"America/Detroit", d(2027, 9, 18), 44.76, -85.62}
		tromso    = evening{"Europe/Oslo", d(2027, 12, 19), 69.65, 18.96}
		midsummer = evening{"Europe/Oslo", d(2027, 6, 19), 69.65, 18.96}
		svalbard  = evening{"Europe/Oslo", d(2027, 12, 19), 78.2, 15.6}
		reykjavik = evening{"Atlantic/Reykjavik", d(2027, 6, 19), 64.15, -21.94}
	)

	rows := []struct {
		at                         evening
		start, end, alone, against string
	}{
		{michigan, "16:30", "17:15", "sunset 19:48, dark from 20:17", "sunset 19:48, dark from 20:17; the ceremony at 16:30 ends in daylight"},
		{michigan, "16:30", "", "", "sunset 19:48, dark from 20:17; the ceremony at 16:30 starts 3 hours 18 minutes before sunset"},
		{michigan, "18:47", "", "", "sunset 19:48, dark from 20:17; the ceremony at 18:47 starts 1 hour 1 minute before sunset"},
		{michigan, "19:48", "", "", "sunset 19:48, dark from 20:17; the ceremony at 19:48 starts less than a minute before sunset"},
		{michigan, "19:20", "19:48", "", "sunset 19:48, dark from 20:17; the ceremony at 19:20 ends in daylight"},
		{michigan, "19:20", "19:49", "", "sunset 19:48, dark from 20:17; the ceremony at 19:20 starts in daylight and ends in twilight"},
		{michigan, "19:20", "20:18", "", "sunset 19:48, dark from 20:17; the ceremony at 19:20 starts in daylight and ends in the dark"},
		{michigan, "20:00", "20:10", "", "sunset 19:48, dark from 20:17; the ceremony at 20:00 is in twilight"},
		{michigan, "20:00", "", "", "sunset 19:48, dark from 20:17; the ceremony at 20:00 starts in twilight"},
		{michigan, "21:00", "", "", "sunset 19:48, dark from 20:17; the ceremony at 21:00 starts in the dark"},
		{michigan, "21:00", "00:30", "", "sunset 19:48, dark from 20:17; the ceremony at 21:00 is in the dark"},
		{michigan, "07:10", "07:40", "", "sunset 19:48, dark from 20:17; the ceremony at 07:10 starts in twilight and ends in daylight"},
		{svalbard, "15:00", "15:30", "the sun does not rise on Sun 19 Dec 2027", "the sun does not rise on Sun 19 Dec 2027; the ceremony at 15:00 is in the dark"},
		{tromso, "11:00", "11:30", "the sun does not rise on Sun 19 Dec 2027, and the twilight ends at 13:53",
			"the sun does not rise on Sun 19 Dec 2027, and the twilight ends at 13:53; the ceremony at 11:00 is in twilight"},
		{midsummer, "22:00", "22:30", "the sun does not set on Sat 19 Jun 2027", "the sun does not set on Sat 19 Jun 2027; the ceremony at 22:00 ends in daylight"},
		{midsummer, "22:00", "", "", "the sun does not set on Sat 19 Jun 2027; the ceremony at 22:00 starts in daylight"},
		{reykjavik, "23:00", "00:30", "sunset 00:03 on Sun 20 Jun 2027, and it does not get dark",
			"sunset 00:03 on Sun 20 Jun 2027, and it does not get dark; the ceremony at 23:00 starts in daylight and ends in twilight"},
	}
	for _, r := range rows {
		light, err := Sun(r.at.day, r.at.lat, r.at.lon, zone(t, r.at.zone))
		if err != nil {
			t.Fatal(err)
		}
		if got := light.String(); r.alone != "" && got != r.alone {
			t.Errorf("%s\nwant %s", got, r.alone)
		}
		var end *milestones.Clock
		if r.end != "" {
			end = clock(r.end)
		}
		if got := light.Against(*clock(r.start), end); got != r.against {
			t.Errorf("%s\nwant %s", got, r.against)
		}
	}
}

func BenchmarkSun(b *testing.B) {
	for b.Loop() {
		if _, err := Sun(d(2027, 9, 18), 44.76, -85.62, time.UTC); err != nil {
			b.Fatal(err)
		}
	}
}
