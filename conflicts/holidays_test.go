package conflicts

import (
	"testing"
	"time"

	"banns/milestones"
)

// Whole years, each against a list that somebody published.
func TestPublishedYears(t *testing.T) {
	rows := []struct {
		region string
		kind   milestones.BusinessDays
		year   int
		closed string
	}{
		// Library and Archives Canada, closed days 2024, less the local day of August.
		{"CA", milestones.Federal, 2024, "01-01 03-29 04-01 05-20 07-01 09-02 09-30 10-14 11-11 12-25 12-26"},
		// National days without bank processing in 2024, from a payroll service's notice.
		{"CA", milestones.Banks, 2024, "01-01 03-29 05-20 07-01 09-02 09-30 10-14 11-11 12-25 12-26"},
		// Moved off weekends: a courier's national days of 2023; 2021, 2022 and 2027 from memory.
		{"CA", milestones.Banks, 2021, "01-01 04-02 05-24 07-01 09-06 09-30 10-11 11-11 12-27 12-28"},
		{"CA", milestones.Banks, 2022, "01-03 04-15 05-23 07-01 09-05 09-30 10-10 11-11 12-26 12-27"},
		{"CA", milestones.Banks, 2023, "01-02 04-07 05-22 07-03 09-04 10-02 10-09 11-13 12-25 12-26"},
		{"CA", milestones.Banks, 2027, "01-01 03-26 05-24 07-01 09-06 09-30 10-11 11-11 12-27 12-28"},
		// The year before the National Day for Truth and Reconciliation.
		{"CA", milestones.Banks, 2020, "01-01 04-10 05-18 07-01 09-07 10-12 11-11 12-25 12-28"},

		// Citizens Information, public holidays 2026.
		{"IE", milestones.Federal, 2026, "01-01 02-02 03-17 04-06 05-04 06-01 08-03 10-26 12-25"},
		// Slovakia without 8 May, 15 September and 17 November: SITA, January 2026.
		{"SK", milestones.Federal, 2026, "01-01 01-06 04-03 04-06 05-01 12-24 12-25"},
		// Algemene termijnenwet, article 3, for 2022; 1 May and Christmas were Sundays.
		{"NL", milestones.Federal, 2022, "04-15 04-18 04-27 05-05 05-26 06-06 12-26"},
	}
	for _, r := range rows {
		if got := closed(r.region, r.kind, r.year); got != r.closed {
			t.Errorf("%s %d, %s: closed %s\nwant %s", r.region, r.year, r.kind, got, r.closed)
		}
	}
}

// Single days that a list of the library's has not, or has otherwise.
func TestMendedHolidays(t *testing.T) {
	rows := []struct {
		region string
		day    milestones.Date
		name   string
	}{
		{"IT", d(2025, 10, 4), ""},
		{"IT", d(2027, 10, 4), "San Francesco d'Assisi"}, // legge 151/2025
		{"LU", d(2026, 6, 23), "Nationalfeierdag"},
		{"LU", d(2026, 7, 23), ""},
		{"LU", d(2028, 5, 9), "Europadag"},
		{"DE-MV", d(2022, 3, 8), ""},
		{"DE-MV", d(2027, 3, 8), "Frauentag"},
		{"DE-BE", d(2027, 3, 8), "Frauentag"},
		{"DE-BE", d(2025, 5, 8), "Tag der Befreiung"},
		{"DE-BE", d(2028, 6, 17), "Jahrestag des Volksaufstandes"},
		{"DE-NW", d(2026, 6, 4), "Fronleichnam"},
		{"DE", d(2026, 6, 4), ""},
		{"GR", d(2027, 1, 1), "Πρωτοχρονιά"},
		{"IE", d(2026, 5, 4), "May bank holiday"},
		{"IE", d(2030, 2, 1), "Saint Brigid’s Day"}, // a Friday
		{"IE", d(2030, 2, 4), ""},
		{"SK", d(2024, 11, 17), "Deň boja za slobodu a demokraciu"},
		{"SK", d(2027, 11, 17), ""},
		{"SK", d(2028, 5, 8), "Deň víťazstva nad fašizmom"},
		{"NL", d(2025, 4, 26), "Koningsdag (observed)"}, // the 27th was a Sunday
		{"CA", d(2026, 4, 6), "Easter Monday"},
	}
	for _, r := range rows {
		if got := holiday(r.region, milestones.Federal, r.day); got != r.name {
			t.Errorf("%s %s: %q, want %q", r.region, r.day, got, r.name)
		}
	}
}

// easters is the published dates of Easter, from memory of the tables.
var easters = []milestones.Date{
	d(2020, 4, 12), d(2021, 4, 4), d(2022, 4, 17), d(2023, 4, 9),
	d(2024, 3, 31), d(2025, 4, 20), d(2026, 4, 5), d(2027, 3, 28),
	d(2028, 4, 16), d(2029, 4, 1), d(2030, 4, 21), d(2031, 4, 13),
	d(2032, 3, 28), d(2033, 4, 17), d(2034, 4, 9), d(2035, 3, 25),
}

// European Central Bank, press release of 14 December 2000. A bank is shut on
// these days and on its country's public holidays, and on no other.
func TestTargetClosingDays(t *testing.T) {
	c, _ := ClosuresFor("FR")
	for _, easter := range easters {
		y := easter.Year
		target := map[milestones.Date]bool{
			d(y, 1, 1): true, easter.AddDays(-2): true, easter.AddDays(1): true,
			d(y, 5, 1): true, d(y, 12, 25): true, d(y, 12, 26): true,
		}
		for day := d(y, 1, 1); day.Year == y; day = day.AddDays(1) {
			want := target[day] || c.Holiday(day, milestones.Federal) != ""
			if got := c.Holiday(day, milestones.Banks); (got != "") != want {
				t.Errorf("%s: %q, but closed is %t", day, got, want)
			}
		}
	}
}

// Banks of the euro area keep their country's holidays too. Ireland: the
// public holidays of the Organisation of Working Time Act 1997, second
// schedule; Good Friday is none of them, and TARGET is shut.
func TestEuroBanksKeepPublicHolidays(t *testing.T) {
	rows := []struct {
		region string
		day    milestones.Date
		name   string
	}{
		{"IE", d(2027, 6, 7), "June bank holiday"},
		{"IE", d(2027, 6, 8), ""},
		{"DE", d(2027, 5, 17), "Pfingstmontag"},
		{"FR", d(2027, 7, 14), "Fête Nationale"},
	}
	for _, r := range rows {
		if got := holiday(r.region, milestones.Banks, r.day); got != r.name {
			t.Errorf("%s %s: %q, want %q", r.region, r.day, got, r.name)
		}
	}
	goodFriday := d(2027, 3, 26)
	if holiday("IE", milestones.Banks, goodFriday) == "" || holiday("IE", milestones.Federal, goodFriday) != "" {
		t.Error("Good Friday in Ireland closes TARGET, and is no public holiday")
	}
}

func TestEaster(t *testing.T) {
	rows := []struct {
		region string
		day    milestones.Date
		name   string
	}{
		// Whit Mondays as they were kept, Easter + 50.
		{"DE", d(2016, 5, 16), "Pfingstmontag"},
		{"DE", d(2017, 6, 5), "Pfingstmontag"},
		{"DE", d(2018, 5, 21), "Pfingstmontag"},
		{"DE", d(2019, 6, 10), "Pfingstmontag"},
		{"DE", d(2020, 6, 1), "Pfingstmontag"},
		{"DE", d(2021, 5, 24), "Pfingstmontag"},
		{"DE", d(2022, 6, 6), "Pfingstmontag"},
		{"DE", d(2023, 5, 29), "Pfingstmontag"},
		{"DE", d(2027, 5, 17), "Pfingstmontag"},
		// The latest Easter, 25 April, and the earliest, 22 March: published by
		// the almanac office of the University of Helsinki.
		{"DE", d(1943, 4, 26), "Ostermontag"},
		{"DE", d(2038, 4, 26), "Ostermontag"},
		{"FR", d(1818, 3, 23), "Lundi de Pâques"},

		// 2021 and 2024: the Greek decrees that moved 1 May call it Holy
		// Saturday and Holy Wednesday. 2027: Pascha is 2 May.
		{"GR", d(2021, 4, 30), "Μεγάλη Παρασκευή"},
		{"GR", d(2024, 5, 3), "Μεγάλη Παρασκευή"},
		{"GR", d(2027, 4, 30), "Μεγάλη Παρασκευή"},
		{"GR", d(2027, 5, 3), "Δευτέρα του Πάσχα"},
		{"CY", d(2027, 3, 15), "Καθαρά Δευτέρα"},
		{"CY", d(2027, 6, 21), "Κατακλυσμός"},
		// The two calendars are 14 days apart from March 2100: Pascha is Sunday
		// 2 May, from memory.
		{"GR", d(2100, 5, 3), "Δευτέρα του Πάσχα"},
		{"GR", d(2100, 5, 2), ""},
	}
	for _, r := range rows {
		if got := holiday(r.region, milestones.Federal, r.day); got != r.name {
			t.Errorf("%s %s: %q, want %q", r.region, r.day, got, r.name)
		}
	}
}

func TestOrthodoxEasterIsASunday(t *testing.T) {
	for year := 1900; year <= 2200; year++ {
		pascha := dayOf(orthodox("", 0), year)
		if pascha.Weekday() != time.Sunday {
			t.Errorf("%s is a %s", pascha, pascha.Weekday())
		}
	}
}
