package conflicts

import (
	"testing"
	"time"

	"banns/milestones"
)

// nth is the nth such weekday of a month, reckoned here and not by a library.
func nth(n int, w time.Weekday, year int, m time.Month) milestones.Date {
	first := d(year, m, 1)
	return first.AddDays((int(w-first.Weekday())+7)%7 + 7*(n-1))
}

// statute is the days of 5 USC 6103(a), as the statute describes them.
func statute(year int) map[string]milestones.Date {
	lastMonday := d(year, 5, 31)
	for lastMonday.Weekday() != time.Monday {
		lastMonday = lastMonday.AddDays(-1)
	}
	days := map[string]milestones.Date{
		"New Year's Day":             d(year, 1, 1),
		"Martin Luther King Jr. Day": nth(3, time.Monday, year, time.January),
		"Presidents' Day":            nth(3, time.Monday, year, time.February), // Washington's Birthday in the statute
		"Memorial Day":               lastMonday,
		"Independence Day":           d(year, 7, 4),
		"Labor Day":                  nth(1, time.Monday, year, time.September),
		"Columbus Day":               nth(2, time.Monday, year, time.October),
		"Veterans Day":               d(year, 11, 11),
		"Thanksgiving Day":           nth(4, time.Thursday, year, time.November),
		"Christmas Day":              d(year, 12, 25),
	}
	if year >= 2021 { // Public Law 117-17
		days["Juneteenth"] = d(year, 6, 19)
	}
	return days
}

// kept is the days on which offices keep the statute's holidays: the day
// itself, Monday for a Sunday, and for federal offices Friday for a Saturday.
func kept(from, to int, federal bool) map[milestones.Date]string {
	names := map[milestones.Date]string{}
	for year := from; year <= to; year++ {
		for name, day := range statute(year) {
			names[day] = name
			switch w := day.Weekday(); {
			case w == time.Sunday:
				names[day.AddDays(1)] = name + " (observed)"
			case w == time.Saturday && federal:
				names[day.AddDays(-1)] = name + " (observed)"
			}
		}
	}
	return names
}

func TestEveryDayAgainstTheStatute(t *testing.T) {
	c, _ := ClosuresFor("US")
	banks, federal := kept(2019, 2036, false), kept(2019, 2036, true)
	for day := d(2020, 1, 1); day.Year <= 2035; day = day.AddDays(1) {
		if got := c.Holiday(day, milestones.Banks); got != banks[day] {
			t.Errorf("%s: banks keep %q, want %q", day, got, banks[day])
		}
		if got := c.Holiday(day, milestones.Federal); got != federal[day] {
			t.Errorf("%s: federal offices keep %q, want %q", day, got, federal[day])
		}
	}
}

// The law of today as far as it may be asked about, a year here and there: 2100
// is no leap year, and among them every weekday begins one.
func TestLateYearsAgainstTheStatute(t *testing.T) {
	c, _ := ClosuresFor("US")
	begins := map[time.Weekday]bool{}
	for _, year := range []int{2050, 2051, 2052, 2099, 2100, 2150, 2172, 2199, 2200} {
		banks, federal := kept(year-1, year+1, false), kept(year-1, year+1, true)
		begins[d(year, 1, 1).Weekday()] = true
		for day := d(year, 1, 1); day.Year == year; day = day.AddDays(1) {
			if got := c.Holiday(day, milestones.Banks); got != banks[day] {
				t.Errorf("%s: banks keep %q, want %q", day, got, banks[day])
			}
			if got := c.Holiday(day, milestones.Federal); got != federal[day] {
				t.Errorf("%s: federal offices keep %q, want %q", day, got, federal[day])
			}
		}
	}
	if len(begins) != 7 {
		t.Errorf("the years begin on %v", begins)
	}
}

// Published days, so that the statute above is not its own witness.
func TestPublishedUSHolidays(t *testing.T) {
	rows := []struct {
		day            milestones.Date
		banks, federal string
	}{
		// Office of Personnel Management, federal holidays 2023.
		{d(2023, 1, 2), "New Year's Day (observed)", "New Year's Day (observed)"},
		{d(2023, 2, 20), "Presidents' Day", "Presidents' Day"},
		{d(2023, 5, 29), "Memorial Day", "Memorial Day"},
		{d(2023, 6, 19), "Juneteenth", "Juneteenth"},
		{d(2023, 11, 10), "", "Veterans Day (observed)"},
		{d(2023, 11, 23), "Thanksgiving Day", "Thanksgiving Day"},

		// Office of Personnel Management, federal holidays 2012.
		{d(2012, 1, 2), "New Year's Day (observed)", "New Year's Day (observed)"},
		{d(2012, 11, 12), "Veterans Day (observed)", "Veterans Day (observed)"},

		// Federal Reserve Board, press release of 17 June 2021: payment
		// services as usual on Friday 18 and Monday 21 June.
		{d(2021, 6, 18), "", "Juneteenth (observed)"},
		{d(2021, 6, 21), "", ""},
		{d(2020, 6, 19), "", ""}, // a Friday, the year before the law
		{d(2022, 6, 20), "Juneteenth (observed)", "Juneteenth (observed)"},

		// Federal Reserve Bank of Richmond, holiday schedule 2025-2027: 4 July
		// 2026, 19 June and 25 December 2027 are Saturdays, 4 July 2027 a Sunday.
		{d(2025, 1, 20), "Martin Luther King Jr. Day", "Martin Luther King Jr. Day"},
		{d(2025, 10, 13), "Columbus Day", "Columbus Day"},
		{d(2026, 7, 3), "", "Independence Day (observed)"},
		{d(2026, 7, 4), "Independence Day", "Independence Day"},
		{d(2026, 7, 6), "", ""},
		{d(2026, 9, 7), "Labor Day", "Labor Day"},
		{d(2027, 6, 18), "", "Juneteenth (observed)"},
		{d(2027, 7, 5), "Independence Day (observed)", "Independence Day (observed)"},
		{d(2027, 12, 24), "", "Christmas Day (observed)"},

		// Office of Personnel Management's table for later years.
		{d(2027, 12, 31), "", "New Year's Day (observed)"},
		{d(2028, 1, 1), "New Year's Day", "New Year's Day"},
		{d(2028, 1, 3), "", ""},
		{d(2028, 11, 10), "", "Veterans Day (observed)"},
		{d(2029, 11, 12), "Veterans Day (observed)", "Veterans Day (observed)"},

		// Closed by Executive order alone, so no holiday: from memory.
		{d(2024, 12, 24), "", ""},
		// Inauguration Day is kept in and around Washington alone.
		{d(2021, 1, 20), "", ""},
	}
	for _, r := range rows {
		if got := holiday("US", milestones.Banks, r.day); got != r.banks {
			t.Errorf("%s: banks keep %q, want %q", r.day, got, r.banks)
		}
		if got := holiday("US", milestones.Federal, r.day); got != r.federal {
			t.Errorf("%s: federal offices keep %q, want %q", r.day, got, r.federal)
		}
	}
}
