package conflicts

import (
	"fmt"
	"strings"
	"testing"
)

// What date-holidays (npm) and we do not agree on from 2024 to 2033, day by
// day, and who is right. An (observed) day is right on the days that stand
// here and on no other.
var judged = []struct {
	region, name, why string
	ours              bool // we have it and they have not
	days              string
}{
	{"CA", "New Year's Day (observed)", onMonday, true, "2028-01-03 2033-01-03"},
	{"CA", "Canada Day (observed)", onMonday, true, "2028-07-03 2029-07-02"},
	{"CA", "National Day for Truth and Reconciliation (observed)", onMonday, true, "2028-10-02 2029-10-01"},
	{"CA", "Remembrance Day (observed)", onMonday, true, "2028-11-13 2029-11-12"},
	{"CA", "Christmas Day (observed)", onMonday + "; in 2033 that Monday is Boxing Day, and Tuesday is next", true, "2027-12-27 2032-12-27 2033-12-27"},
	{"CA", "Boxing Day (observed)", onMonday + "; in 2027 and 2032 Christmas Day has that Monday, and Tuesday is next", true, "2026-12-28 2027-12-28 2032-12-28"},
	{"CA", "National Day for Truth and Reconciliation", "S.C. 2021, c. 11; not in their list of the territory", true, everyYear("09-30")},
	{"CA", "Civic Holiday", "a holiday of the territory, not of the whole country: the first Monday of August", false,
		"2024-08-05 2025-08-04 2026-08-03 2027-08-02 2028-08-07 2029-08-06 2030-08-05 2031-08-04 2032-08-02 2033-08-01"},
	{"CA", "National Indigenous Peoples Day", "a holiday of the territory, not of the whole country", false, everyYear("06-21")},
	{"GB-SCT", "World Cup bank holiday", "the proclamation of 4 February 2026", true, "2026-06-15"},
	{"DE", "Heiliger Abend", "banks are closed by custom; no public holiday in any Land", false, everyYear("12-24")},
	{"DE", "Silvester", "banks are closed by custom; no public holiday in any Land", false, everyYear("12-31")},
}

const onMonday = "they move nothing off a weekend in Canada; Canada Labour Code, section 193(2), gives the next working day"

// everyYear is a day of each of the ten years.
func everyYear(day string) string {
	var all []string
	for year := 2024; year <= 2033; year++ {
		all = append(all, fmt.Sprintf("%d-%s", year, day))
	}
	return strings.Join(all, " ")
}

// dateHolidays is the names of a region's holidays by their day, by region.
func dateHolidays(t *testing.T, args ...string) map[string]map[string]string {
	t.Helper()
	known := map[string]map[string]string{}
	for _, row := range node(t, "holidays.mjs", args...) {
		f := strings.Split(row, "\t")
		if known[f[0]] == nil {
			known[f[0]] = map[string]string{}
		}
		known[f[0]][f[1]] = f[2]
	}
	return known
}

// Ten years of public holidays, day by day, against a second list. Canada is
// compared with the Northwest Territories: the other list has few days for
// the whole country.
func TestHolidaysAgainstDateHolidays(t *testing.T) {
	open := map[string]string{} // what was judged and not met yet, with why
	for _, j := range judged {
		for day := range strings.FieldsSeq(j.days) {
			open[fmt.Sprintf("%s %s %s, ours %t", j.region, day, j.name, j.ours)] = j.why
		}
	}
	judge := func(region, day, name string, ours bool) bool {
		key := fmt.Sprintf("%s %s %s, ours %t", region, day, name, ours)
		_, ok := open[key]
		delete(open, key)
		return ok
	}
	regions := []struct{ ours, theirs string }{
		{"US", "US"}, {"CA", "CA-NT"}, {"GB-ENG", "GB-ENG"}, {"GB-SCT", "GB-SCT"}, {"GB-NIR", "GB-NIR"},
		{"DE", "DE"}, {"FR", "FR"}, {"SE", "SE"},
	}
	known := dateHolidays(t, "2024", "2033", "US", "CA-NT", "GB-ENG", "GB-SCT", "GB-NIR", "DE", "FR", "SE")
	for _, region := range regions {
		theirs := known[region.theirs]
		ours := map[string]string{}
		all, _ := Holidays(region.ours, d(2024, 1, 1), d(2033, 12, 31))
		for _, e := range all {
			if e.From.Year >= 2024 && !strings.HasPrefix(e.What, "long weekend") {
				ours[e.From.String()] = e.What
			}
		}
		for day, name := range ours {
			if theirs[day] == "" && !judge(region.ours, day, name, true) {
				t.Errorf("%s %s: %s is here alone", region.ours, day, name)
			}
		}
		for day, name := range theirs {
			if ours[day] == "" && !judge(region.ours, day, name, false) {
				t.Errorf("%s %s: %s is there alone", region.ours, day, name)
			}
		}
		if len(ours) < 80 || len(theirs) < 80 {
			t.Errorf("%s: %d holidays here and %d there in ten years", region.ours, len(ours), len(theirs))
		}
	}
	for what, why := range open {
		t.Errorf("%s: was judged (%s), and nobody disagrees about it any more", what, why)
	}
}
