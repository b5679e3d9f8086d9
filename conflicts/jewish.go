package conflicts

import (
	"time"

	"banns/milestones"
)

// RoshHashanah is the first day of the Hebrew year that begins in the autumn
// of this Gregorian year; the evening before belongs to it.
//
// The arithmetic is that of Maimonides, in the form of Reingold and
// Dershowitz, Calendrical Calculations, 4th ed., ch. 8: a mean month of 29 days, 12
// hours and 793 parts of an hour's 1080, 235 of them in 19 years, and four
// reasons to put the year off by a day or two.
func RoshHashanah(year int) milestones.Date {
	y := year + 3761
	last, this, next := molad(y-1), molad(y), molad(y+1)
	day := this
	switch {
	case next-this == 356: // a year has 353-355 days, or 383-385
		day += 2
	case this-last == 382:
		day++
	}
	// Year 1 began on Monday 7 October 3761 BC of the Julian calendar.
	return milestones.Date{Year: -3760, Month: time.September, Day: 7}.AddDays(day)
}

// molad is the day of the new moon of Tishri in a Hebrew year, put off where
// that is at noon or later, or on a Sunday, Wednesday or Friday.
func molad(year int) int {
	months := (235*year - 234) / 19
	const hour = 1080
	parts := 11*hour + 204 + (12*hour+793)*months
	day := 29*months + parts/(24*hour)
	if 3*(day+1)%7 < 3 {
		day++
	}
	return day
}

const toNightfall = "it begins at sundown of the day before and ends at nightfall"

// From Nisan to Tishri every month has the same length in every year, so that
// all the days of spring and summer are counted from Rosh Hashanah too.
var jewishDays = []feast{
	{what: "Passover", from: -163, days: 8, custom: NotHeld, note: toNightfall},
	{what: "The Omer", from: -162, days: 49, season: true, custom: Discouraged,
		note: "from Passover to Shavuot; which part of it is kept differs, and Lag BaOmer is free of it for most"},
	{what: "Lag BaOmer", from: -130, note: "many hold weddings on this day of the Omer alone"},
	{what: "Shavuot", from: -113, days: 2, custom: NotHeld, note: toNightfall},
	{what: "Rosh Hashanah", days: 2, custom: NotHeld, note: toNightfall},
	{what: "The days between Rosh Hashanah and Yom Kippur", from: 2, days: 7, season: true, custom: Discouraged},
	{what: "Yom Kippur", from: 9, custom: NotHeld, note: toNightfall},
	{what: "Sukkot", from: 14, days: 9, custom: NotHeld, note: "to the end of Simchat Torah; " + toNightfall},
}

// jewishYear is what the couple's rabbi has to be asked about in a Gregorian
// year: the festivals, the seasons of mourning, and every Sabbath.
func jewishYear(year int) []Event {
	newYear := RoshHashanah(year)
	all := counted(jewishDays, newYear)

	// The 17th of Tammuz and the 9th of Av fall on the same day of the week; a
	// fast is not kept on a Sabbath, but on the Sunday after.
	late := 0
	if newYear.AddDays(-51).Weekday() == time.Saturday {
		late = 1
	}
	all = append(all,
		feast{what: "The Three Weeks", from: -72 + late, days: 22, season: true, custom: NotHeld,
			note: "from the fast of the 17th of Tammuz to Tisha B'Av; Sephardic custom is often to keep the last nine days alone"}.on(newYear),
		feast{what: "Tisha B'Av", from: -51 + late, custom: NotHeld, note: toNightfall}.on(newYear),
	)
	for _, e := range all {
		if e.Custom == NotHeld && !e.Season {
			all = append(all, eveOf(e))
		}
	}
	return append(all, sabbaths(year)...)
}

// eveOf is the day on whose evening e begins.
func eveOf(e Event) Event {
	eve := feast{what: "Eve of " + e.What, custom: Discouraged}.on(e.From.AddDays(-1))
	eve.Note = e.What + " begins at sundown: a wedding would have to be over by then; " + askTheClergy
	return eve
}

// sabbaths is every Saturday of a year, and its Friday.
func sabbaths(year int) (all []Event) {
	day := milestones.Date{Year: year, Month: time.January, Day: 1}
	day = day.AddDays(int(time.Saturday - day.Weekday()))
	for ; day.Year == year; day = day.AddDays(7) {
		e := feast{what: "Sabbath", custom: NotHeld, note: "it ends at nightfall, and a wedding may be held after it"}.on(day)
		all = append(all, eveOf(e), e)
	}
	return all
}
