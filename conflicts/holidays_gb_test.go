package conflicts

import (
	"testing"

	"banns/milestones"
)

// The government's published list of bank holidays, gov.uk/bank-holidays:
// 2020-2023 from its own data file, with 19 September 2022 and 8 May 2023,
// which were proclaimed after that copy was taken; 2024-2027 from memory. For
// 15 June 2026: the Scottish Government's notice of 5 February 2026.
func TestPublishedUKBankHolidays(t *testing.T) {
	rows := []struct {
		region string
		year   int
		closed string
	}{
		{"GB-ENG", 2020, "01-01 04-10 04-13 05-08 05-25 08-31 12-25 12-28"},
		{"GB-ENG", 2021, "01-01 04-02 04-05 05-03 05-31 08-30 12-27 12-28"},
		{"GB-ENG", 2022, "01-03 04-15 04-18 05-02 06-02 06-03 08-29 09-19 12-26 12-27"},
		{"GB-ENG", 2023, "01-02 04-07 04-10 05-01 05-08 05-29 08-28 12-25 12-26"},
		{"GB-ENG", 2024, "01-01 03-29 04-01 05-06 05-27 08-26 12-25 12-26"},
		{"GB-ENG", 2025, "01-01 04-18 04-21 05-05 05-26 08-25 12-25 12-26"},
		{"GB-ENG", 2026, "01-01 04-03 04-06 05-04 05-25 08-31 12-25 12-28"},
		{"GB-ENG", 2027, "01-01 03-26 03-29 05-03 05-31 08-30 12-27 12-28"},

		{"GB-SCT", 2020, "01-01 01-02 04-10 05-08 05-25 08-03 11-30 12-25 12-28"},
		{"GB-SCT", 2021, "01-01 01-04 04-02 05-03 05-31 08-02 11-30 12-27 12-28"},
		{"GB-SCT", 2022, "01-03 01-04 04-15 05-02 06-02 06-03 08-01 09-19 11-30 12-26 12-27"},
		{"GB-SCT", 2023, "01-02 01-03 04-07 05-01 05-08 05-29 08-07 11-30 12-25 12-26"},
		{"GB-SCT", 2024, "01-01 01-02 03-29 05-06 05-27 08-05 12-02 12-25 12-26"},
		{"GB-SCT", 2025, "01-01 01-02 04-18 05-05 05-26 08-04 12-01 12-25 12-26"},
		{"GB-SCT", 2026, "01-01 01-02 04-03 05-04 05-25 06-15 08-03 11-30 12-25 12-28"},
		{"GB-SCT", 2027, "01-01 01-04 03-26 05-03 05-31 08-02 11-30 12-27 12-28"},

		{"GB-NIR", 2020, "01-01 03-17 04-10 04-13 05-08 05-25 07-13 08-31 12-25 12-28"},
		{"GB-NIR", 2021, "01-01 03-17 04-02 04-05 05-03 05-31 07-12 08-30 12-27 12-28"},
		{"GB-NIR", 2022, "01-03 03-17 04-15 04-18 05-02 06-02 06-03 07-12 08-29 09-19 12-26 12-27"},
		{"GB-NIR", 2023, "01-02 03-17 04-07 04-10 05-01 05-08 05-29 07-12 08-28 12-25 12-26"},
		{"GB-NIR", 2024, "01-01 03-18 03-29 04-01 05-06 05-27 07-12 08-26 12-25 12-26"},
		{"GB-NIR", 2025, "01-01 03-17 04-18 04-21 05-05 05-26 07-14 08-25 12-25 12-26"},
		{"GB-NIR", 2026, "01-01 03-17 04-03 04-06 05-04 05-25 07-13 08-31 12-25 12-28"},
		{"GB-NIR", 2027, "01-01 03-17 03-26 03-29 05-03 05-31 07-12 08-30 12-27 12-28"},
	}
	for _, r := range rows {
		for _, kind := range []milestones.BusinessDays{milestones.Banks, milestones.Federal} {
			if got := closed(r.region, kind, r.year); got != r.closed {
				t.Errorf("%s %d, %s: closed %s\nwant %s", r.region, r.year, kind, got, r.closed)
			}
		}
	}
}

// "Boxing Day (substitute day)" and its like in the published list.
func TestUKSubstituteDays(t *testing.T) {
	rows := []struct {
		region string
		day    milestones.Date
		name   string
	}{
		{"GB-ENG", d(2020, 5, 8), "Early May bank holiday (VE Day)"},
		{"GB-ENG", d(2020, 12, 28), "Boxing Day (observed)"},
		{"GB-ENG", d(2021, 12, 27), "Christmas Day (observed)"},
		{"GB-ENG", d(2021, 12, 28), "Boxing Day (observed)"},
		{"GB-ENG", d(2022, 6, 2), "Spring bank holiday"},
		{"GB-ENG", d(2022, 12, 26), "Boxing Day"},
		{"GB-ENG", d(2022, 12, 27), "Christmas Day (observed)"},
		{"GB-SCT", d(2017, 1, 2), "2nd January"},
		{"GB-SCT", d(2017, 1, 3), "New Year's Day (observed)"},
		{"GB-SCT", d(2022, 1, 3), "New Year's Day (observed)"},
		{"GB-SCT", d(2022, 1, 4), "2nd January (observed)"},
		{"GB-SCT", d(2024, 12, 2), "St Andrew's Day (observed)"},
		{"GB-NIR", d(2020, 7, 13), "Battle of the Boyne (Orangemen's Day) (observed)"},
		{"GB", d(2026, 8, 31), "Summer bank holiday"},
		{"UK", d(2026, 8, 31), "Summer bank holiday"},
	}
	for _, r := range rows {
		if got := holiday(r.region, milestones.Banks, r.day); got != r.name {
			t.Errorf("%s %s: %q, want %q", r.region, r.day, got, r.name)
		}
	}
}
