package conflicts

import (
	"time"

	"banns/milestones"
)

// islamicNewYear is the first day of a year of the Hijra by the tabular
// calendar: 11 years of every 30 have a day more than 354, and day 1 is Friday
// 16 July 622 of the Julian calendar (Reingold and Dershowitz, Calendrical
// Calculations, 4th ed., ch. 7).
func islamicNewYear(hijra int) milestones.Date {
	return milestones.Date{Year: 622, Month: time.July, Day: 19}.AddDays(354*(hijra-1) + (11*hijra+3)/30)
}

const untilSighted = "the moon settles it, which may be a day earlier or later; it begins at sundown of the day before"

// Counted from the new year: months have 30 and 29 days in turn.
var muslimDays = []feast{
	{what: "Ramadan", from: 236, days: 30, season: true, custom: Discouraged,
		note: "avoided rather than forbidden: the fast lasts until sundown; " + untilSighted},
	{what: "Eid al-Fitr", from: 266, note: untilSighted},
	{what: "Eid al-Adha", from: 334, note: untilSighted},
}

// muslimYear is what begins in a Gregorian year. A year of the Hijra has 11
// days fewer, so a feast may come twice, or not at all.
func muslimYear(year int) (all []Event) {
	last := year - 622 + (year-622)/32 + 1
	for hijra := last - 2; hijra <= last; hijra++ {
		for _, e := range counted(muslimDays, islamicNewYear(hijra)) {
			if e.From.Year == year {
				e.Status = Expected
				all = append(all, e)
			}
		}
	}
	return all
}
