package conflicts

import (
	"strings"
	"testing"

	"banns/milestones"
)

// The days are those that the cited rules give, and that printed calendars of
// these years have (from memory).
func TestFamilyDays(t *testing.T) {
	for _, row := range []struct {
		region string
		year   int
		want   string
	}{
		{"US-MI", 2025, "Mother's Day 2025-05-11, Father's Day 2025-06-15"},
		{"us", 2026, "Mother's Day 2026-05-10, Father's Day 2026-06-21"},
		{"US", 2027, "Mother's Day 2027-05-09, Father's Day 2027-06-20"},
		{"US", 2033, "Mother's Day 2033-05-08, Father's Day 2033-06-19"}, // both months' earliest: 1 May is a Sunday
		{"US", 2034, "Mother's Day 2034-05-14, Father's Day 2034-06-18"},
		{"CA-BC", 2027, "Mother's Day 2027-05-09, Father's Day 2027-06-20"},
		{"GB", 2025, "Mothering Sunday 2025-03-30"},
		{"UK-SCT", 2027, "Mothering Sunday 2027-03-07"},
		{"GB", 2008, "Mothering Sunday 2008-03-02"}, // Easter was on 23 March
		{"DE-BY", 2027, ""},
		{"", 2027, ""},
	} {
		var got []string
		for _, e := range FamilyDays(row.region, d(row.year, 1, 1), d(row.year, 12, 31)) {
			got = append(got, e.What+" "+e.From.String())
		}
		if said := strings.Join(got, ", "); said != row.want {
			t.Errorf("%s in %d: %q, not %q", row.region, row.year, said, row.want)
		}
	}
}

// A family's Sunday is good to know and no more: tables and guests are taken
// at noon. Nothing is closed on it, the Saturday before is as good as any, and
// no weekend is longer for it.
func TestWeighFamilyDays(t *testing.T) {
	mothers := d(2027, 5, 9)
	weigh := func(region string, day milestones.Date, read ...Event) Candidate {
		p := lakeTown()
		p.Wedding.Region = region
		closures, _ := ClosuresFor(region)
		events, _ := Known(&p.Wedding, read, nil, d(2027, 4, 1), d(2027, 6, 30))
		s := NewScales(p, closures, events, d(2027, 4, 1), d(2027, 6, 30))
		return s.Weigh([]milestones.Date{day}, 0)[0]
	}
	said := func(c Candidate) string {
		var all []string
		for _, k := range c.Clashes {
			all = append(all, k.Severity.String()+": "+k.Says)
		}
		return strings.Join(all, "\n")
	}
	c := weigh("US-MI", mothers)
	if got, want := said(c), "slight: Mother's Day is on that day: restaurants are full, and some guests are with their parents."; got != want || c.Verdict != Clear {
		t.Errorf("%s: %s\nwant %s", c.Verdict, got, want)
	}
	if got := strings.Join(c.SpeaksFor, "\n"); !strings.Contains(got, "It is on no holiday weekend.") {
		t.Errorf("it counts as a holiday: %s", got)
	}
	for _, day := range []milestones.Date{mothers.AddDays(-1), mothers.AddDays(1)} {
		if got := said(weigh("US-MI", day)); got != "" {
			t.Errorf("%s: %s", day.Words(), got)
		}
	}
	if got := said(weigh("DE", mothers)); strings.Contains(got, "parents") {
		t.Errorf("in Germany: %s", got)
	}
	// A calendar that lists it too has it once.
	if got := said(weigh("US-MI", mothers, on(mothers, "Mother’s Day", Other, nil, 0, 0))); strings.Count(got, "Day is on that day") != 1 {
		t.Errorf("listed as well: %s", got)
	}
}
