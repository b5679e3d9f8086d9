package conflicts

import (
	"slices"
	"time"

	"banns/milestones"
)

// The Western Easter's days: public holidays in some country or other, and
// for that alone no reason against a wedding.
var easterDays = []feast{
	{what: "Palm Sunday", from: -7},
	{what: "Good Friday", from: -2},
	{what: "Easter Sunday"},
	{what: "Easter Monday", from: 1},
	{what: "Ascension Day", from: 39},
	{what: "Pentecost (Whit Sunday)", from: 49},
	{what: "Whit Monday", from: 50},
	{what: "Corpus Christi", from: 60, note: "kept on the Sunday after in some countries, the United States among them"},
}

func easterYear(year int) []Event { return counted(easterDays, Easter(year)) }

// Catholic parishes. The Order of Celebrating Matrimony, 32, rules out Good
// Friday and Holy Saturday, and asks for regard to the season in Lent (from
// memory); that parishes hold none from Palm Sunday to Easter is common
// practice.
var catholicDays = []feast{
	{what: "Ash Wednesday", from: -46, custom: Discouraged},
	{what: "Lent", from: -46, days: 39, season: true, custom: Discouraged},
	{what: "Palm Sunday to Easter Sunday", from: -7, days: 8, custom: NotHeld},
}

func catholicYear(year int) []Event { return counted(catholicDays, Easter(year)) }

// Greek Orthodox parishes: the days on which an archdiocese's handbook allows
// no marriage are those with the custom NotHeld. The rest is what others add.
var paschalDays = []feast{
	{what: "Great Lent and Holy Week (Orthodox)", from: -48, days: 48, season: true, custom: NotHeld},
	{what: "Clean Monday (Orthodox)", from: -48, custom: NotHeld},
	{what: "Holy Friday (Orthodox)", from: -2, custom: NotHeld},
	{what: "Pascha (Orthodox Easter)", custom: NotHeld},
	{what: "Easter Monday (Orthodox)", from: 1},
	{what: "Ascension Day (Orthodox)", from: 39},
	{what: "Pentecost (Orthodox)", from: 49, custom: Discouraged},
	{what: "Monday of the Holy Spirit (Orthodox)", from: 50},
}

// orthodoxYear has the fixed days of the new calendar, whose days are those of
// the Gregorian one until 2800.
func orthodoxYear(year int) []Event {
	on := func(m time.Month, day int, f feast) Event {
		return f.on(milestones.Date{Year: year, Month: m, Day: day})
	}
	return slices.Concat([]Event{
		on(time.January, 5, feast{what: "Eve of Theophany (Orthodox)", custom: NotHeld}),
		on(time.January, 6, feast{what: "Theophany (Orthodox)", custom: Discouraged}),
		on(time.August, 1, feast{what: "Dormition Fast (Orthodox)", days: 15, season: true, custom: NotHeld}),
		on(time.August, 29, feast{what: "Beheading of St John the Baptist (Orthodox)", custom: NotHeld}),
		on(time.September, 14, feast{what: "Exaltation of the Holy Cross (Orthodox)", custom: NotHeld}),
		on(time.December, 13, feast{what: "Last days before Christmas (Orthodox)", days: 13, season: true, custom: NotHeld}),
	}, counted(paschalDays, Pascha(year)))
}
