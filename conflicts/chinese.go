package conflicts

import (
	"math"
	"time"

	"banns/milestones"
)

// chineseYear is Ghost Month, the seventh of the lunar calendar. Months begin
// on the day of the new moon in China, and the seventh is the one that has the
// day on which the sun reaches 150 degrees of longitude (the solar term chǔ
// shǔ, about 23 August): the rule for months without a leap month, and the
// seventh itself where one follows it.
func chineseYear(year int) []Event {
	heat := sunReaches(150, time.Date(year, time.August, 23, 0, 0, 0, 0, time.UTC))
	moon := math.Round(moonsBefore(heat)) + 1
	for inChina(newMoon(moon)).After(inChina(heat)) {
		moon--
	}
	first, last := inChina(newMoon(moon)), inChina(newMoon(moon+1)).AddDays(-1)
	return []Event{{
		What: "Ghost Month", From: first, To: last,
		Kind: Observance, Season: true, Custom: Discouraged, Status: Computed,
		Note: "weddings are discouraged in the seventh lunar month; customs vary: ask the families",
	}}
}

// inChina is the day of t by Chinese standard time (8 hours from Greenwich),
// which the calendar has gone by since 1929.
func inChina(t time.Time) milestones.Date {
	return milestones.DateOf(t.UTC().Add(8 * time.Hour))
}

// sunReaches is when the sun comes to a longitude, in degrees, about a day.
func sunReaches(longitude float64, about time.Time) time.Time {
	for range 4 {
		short := math.Remainder(longitude-sunAt(about).longitude, 360)
		about = about.Add(time.Duration(short / 360 * 365.2422 * 24 * float64(time.Hour)))
	}
	return about
}

const synodicMonth = 29.530588861 // days, from one new moon to the next

// firstMoon is the mean new moon of 6 January 2000, number 0.
var firstMoon = time.Date(2000, time.January, 6, 14, 20, 37, 0, time.UTC)

// moonsBefore is the number of mean months from new moon 0 to t.
func moonsBefore(t time.Time) float64 {
	return float64(t.Unix()-firstMoon.Unix()) / (24 * 60 * 60 * synodicMonth)
}

// newMoon is new moon number k, to a few minutes from 1900 to 2200: Meeus,
// Astronomical Algorithms, ch. 49, without its smallest terms.
func newMoon(k float64) time.Time {
	t := k / 1236.85
	e := 1 - t*(0.002516+t*0.0000074)
	sun := 2.5534 + 29.10535670*k - t*t*0.0000014
	moon := 201.5643 + 385.81693528*k + t*t*0.0107582
	latitude := 160.7108 + 390.67050284*k - t*t*0.0016118
	node := 124.7746 - 1.56375588*k + t*t*0.0020672
	days := synodicMonth*k + t*t*0.00015437 +
		-0.40720*sin(moon) +
		0.17241*e*sin(sun) +
		0.01608*sin(2*moon) +
		0.01039*sin(2*latitude) +
		0.00739*e*sin(moon-sun) -
		0.00514*e*sin(moon+sun) +
		0.00208*e*e*sin(2*sun) -
		0.00111*sin(moon-2*latitude) -
		0.00057*sin(moon+2*latitude) +
		0.00056*e*sin(2*moon+sun) -
		0.00042*sin(3*moon) +
		0.00042*e*sin(sun+2*latitude) +
		0.00038*e*sin(sun-2*latitude) -
		0.00024*e*sin(2*moon-sun) -
		0.00017*sin(node) +
		0.000325*sin(299.77+0.107408*k-t*t*0.009173)
	return time.Unix(firstMoon.Unix()+int64(days*24*60*60-clockAhead(t)), 0).UTC()
}

// clockAhead is by how many seconds the uniform time of the moon's motion is
// ahead of clocks, so many centuries after 2000: the parabola of Morrison and
// Stephenson (2004), near enough for a day.
func clockAhead(t float64) float64 { return -20 + 32*(t+1.8)*(t+1.8) }
