package conflicts

import (
	"slices"
	"strings"
	"time"

	"banns/milestones"
)

// familyDays are the Sundays on which families sit down together, by country.
// They are no public holidays: nothing is closed, and no weekend is longer.
var familyDays = map[string][]familyDay{
	"US": {mothersDay, fathersDay},
	"CA": {mothersDay, fathersDay}, // common practice
	// The fourth Sunday in Lent, three weeks before Easter: common practice.
	"GB": {{"Mothering Sunday", func(year int) milestones.Date { return Easter(year).AddDays(-21) }}},
}

var (
	mothersDay = familyDay{"Mother's Day", func(year int) milestones.Date { return nthOf(year, time.May, time.Sunday, 2) }}  // 36 USC 117
	fathersDay = familyDay{"Father's Day", func(year int) milestones.Date { return nthOf(year, time.June, time.Sunday, 3) }} // 36 USC 109
)

type familyDay struct {
	what string
	in   func(year int) milestones.Date
}

// FamilyDays are those of a region's country from first to last, in order. A
// region is what it is to ClosuresFor.
func FamilyDays(region string, first, last milestones.Date) []Event {
	country, _, _ := strings.Cut(canonical(region), "-")
	var all []Event
	for year := first.Year; year <= last.Year; year++ {
		for _, f := range familyDays[country] {
			day := f.in(year)
			all = append(all, Event{What: f.what, From: day, To: day, Kind: Family, Status: Computed})
		}
	}
	return within(all, first, last)
}

// listed reports whether an event is among others by its day and its name.
func (e *Event) listed(among []Event) bool {
	return slices.ContainsFunc(among, func(o Event) bool { return o.From == e.From && wordsOf(o.What) == wordsOf(e.What) })
}
