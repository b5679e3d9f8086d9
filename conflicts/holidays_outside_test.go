package conflicts

import (
	"strings"
	"testing"
)

// What date-holidays (npm) and we do not agree on, and who is right.
var judged = []struct {
	region, name, why string
	ours              bool // we have it and they have not
}{
	{"CA", " (observed)", "they move nothing off a weekend in Canada; Canada Labour Code, section 193(2)", true},
	{"CA", "National Day for Truth and Reconciliation", "S.C. 2021, c. 11; not in their list of the territory", true},
	{"CA", "Civic Holiday", "a holiday of the territory, not of the whole country", false},
	{"CA", "National Indigenous Peoples Day", "a holiday of the territory, not of the whole country", false},
	{"GB-SCT", "World Cup bank holiday", "the proclamation of 4 February 2026", true},
	{"DE", "Heiliger Abend", "banks are closed by custom; no public holiday in any Land", false},
	{"DE", "Silvester", "banks are closed by custom; no public holiday in any Land", false},
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
	met := map[int]int{}
	judge := func(region, name string, ours bool) bool {
		for i, j := range judged {
			if j.region == region && j.ours == ours && strings.HasSuffix(name, j.name) {
				met[i]++
				return true
			}
		}
		return false
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
			if theirs[day] == "" && !judge(region.ours, name, true) {
				t.Errorf("%s %s: %s is here alone", region.ours, day, name)
			}
		}
		for day, name := range theirs {
			if ours[day] == "" && !judge(region.ours, name, false) {
				t.Errorf("%s %s: %s is there alone", region.ours, day, name)
			}
		}
		if len(ours) < 80 || len(theirs) < 80 {
			t.Errorf("%s: %d holidays here and %d there in ten years", region.ours, len(ours), len(theirs))
		}
	}
	for i, j := range judged {
		if met[i] == 0 {
			t.Errorf("%s: %s was judged, and nobody disagrees about it any more", j.region, j.name)
		}
	}
}
