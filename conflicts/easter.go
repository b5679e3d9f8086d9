package conflicts

import (
	"time"

	"banns/milestones"
)

// Easter is Easter Sunday of the Western churches, in any year of the
// Gregorian calendar (Meeus, Astronomical Algorithms, ch. 8; the method is of
// 1876, by a correspondent of Nature whose name is not known).
func Easter(year int) milestones.Date {
	a, b, c := year%19, year/100, year%100
	g := (8*b + 13) / 25
	h := (19*a + b - b/4 - g + 15) % 30 // days from 21 March to the full moon
	l := (32 + 2*(b%4) + 2*(c/4) - h - c%4) % 7
	m := (a + 11*h + 19*l) / 433
	month := (h + l - 7*m + 90) / 25
	day := (h + l - 7*m + 33*month + 19) % 32
	return milestones.Date{Year: year, Month: time.Month(month), Day: day}
}

// Pascha is Easter Sunday of the Orthodox churches: that of the Julian
// calendar (Meeus, Astronomical Algorithms, ch. 8), as a Gregorian day. The
// two calendars are 13 days apart up to February 2100, and 14 after it.
func Pascha(year int) milestones.Date {
	d := (19*(year%19) + 15) % 30
	e := (2*(year%4) + 4*(year%7) - d + 34) % 7
	apart := year/100 - year/400 - 2
	// 22 March is the earliest Easter.
	return milestones.Date{Year: year, Month: time.March, Day: 22}.AddDays(d + e + apart)
}
