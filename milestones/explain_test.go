package milestones

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// laborDays are closures with Labor Day, the first Monday of September.
var laborDays = holidays{d(2026, 9, 7): "Labor Day", d(2027, 9, 6): "Labor Day"}

// explained are the steps of a change, counted by hand against a calendar.
func explained(t *testing.T, p *Plan, c Closures) (Explanation, *Plan) {
	t.Helper()
	a := &read(t, p).Agreements[0]
	return explain(p, c, a, a.Change[len(a.Change)-1].When), p
}

func TestExplain(t *testing.T) {
	rows := []struct {
		phrase string
		want   string // steps, joined
	}{
		{"14 days before the wedding", "14 days back from Sat 18 Sep 2027: Sat 4 Sep 2027"},
		{"a week before the wedding", "1 week back from Sat 18 Sep 2027: Sat 11 Sep 2027"},
		{"10 days after 2027-02-20", "10 days on from Sat 20 Feb 2027: Tue 2 Mar 2027"},
		{"by 3 May 2027", "a date of its own, which does not move with the wedding: Mon 3 May 2027"},
		{"on the day", "the day of the wedding: Sat 18 Sep 2027"},
		{"upon execution", "the day of signing: Tue 30 Jun 2026"},
		{"30 days from signing", "30 days on from signing (Tue 30 Jun 2026): Thu 30 Jul 2026"},
		{"within 21 days of the wedding", "21 days back from Sat 18 Sep 2027: Sat 28 Aug 2027"},

		{"8 months after signing", "8 months on from signing (Tue 30 Jun 2026), where February 2027 has no day 30, so its last: Sun 28 Feb 2027"},
		{"6 months before 31 August 2027", "6 months back from Tue 31 Aug 2027, where February 2027 has no day 31, so its last: Sun 28 Feb 2027"},
		{"6 months before 31 August 2028", "6 months back from Thu 31 Aug 2028, where February 2028 has no day 31, so its last: Tue 29 Feb 2028"},
		{"6 months before the wedding", "6 months back from Sat 18 Sep 2027: Thu 18 Mar 2027"},

		{"10 business days before the wedding", "10 business days back from Sat 18 Sep 2027, skipping Mon 6 Sep Labor Day and weekends: Fri 3 Sep 2027"},
		{"1 business day before the wedding", "1 business day back from Sat 18 Sep 2027: Fri 17 Sep 2027"},
		{"1 business day after the wedding", "1 business day on from Sat 18 Sep 2027, skipping weekends: Mon 20 Sep 2027"},
		{"more than 10 business days before the wedding", "10 business days back from Sat 18 Sep 2027, skipping Mon 6 Sep Labor Day and weekends is Fri 3 Sep 2027; more than that, so the day before: Thu 2 Sep 2027"},
		{"more than 30 days before the wedding", "30 days back from Sat 18 Sep 2027 is Thu 19 Aug 2027; more than that, so the day before: Wed 18 Aug 2027"},
		{"fewer than 30 days before the wedding", "30 days back from Sat 18 Sep 2027 is Thu 19 Aug 2027; fewer than that, so the day after: Fri 20 Aug 2027"},

		{"the Friday before the wedding", "the last Friday before Sat 18 Sep 2027: Fri 17 Sep 2027"},
		{"the Monday after the wedding", "the first Monday after Sat 18 Sep 2027: Mon 20 Sep 2027"},

		{"14 days before the wedding by noon", "14 days back from Sat 18 Sep 2027: Sat 4 Sep 2027, 12:00"},
		{"14 days before the wedding by 23:30 America/Chicago", "14 days back from Sat 18 Sep 2027: Sat 4 Sep 2027, 23:30 America/Chicago, which is 00:30 on Sun 5 Sep 2027 where the wedding is"},
		{"48 hours before the wedding", "48 hours by the clock back from Sat 18 Sep 2027, 16:30: Thu 16 Sep 2027, 16:30"},
		{"more than 48 hours before the wedding", "48 hours by the clock back from Sat 18 Sep 2027, 16:30, and more than that, so a minute earlier: Thu 16 Sep 2027, 16:29"},

		{"3 days after the headcount", "headcount, 10 days back from Sat 18 Sep 2027: Wed 8 Sep 2027 | 3 days on from headcount (Wed 8 Sep 2027): Sat 11 Sep 2027"},
		{"with the headcount", "headcount, 10 days back from Sat 18 Sep 2027: Wed 8 Sep 2027 | the same day as headcount: Wed 8 Sep 2027"},
		{"with the balance", "the balance, 14 days back from Sat 18 Sep 2027: Sat 4 Sep 2027, 17:00 America/Chicago, which is 18:00 where the wedding is" +
			" | the same day and hour as the balance: Sat 4 Sep 2027, 17:00 America/Chicago, which is 18:00 where the wedding is"},
	}
	for _, row := range rows {
		t.Run(row.phrase, func(t *testing.T) {
			e, p := explained(t, timed(row.phrase), laborDays)
			if got := strings.Join(e.Steps, " | "); got != row.want {
				t.Errorf("%s\nwant %s", got, row.want)
			}
			if i := scheduled(t, p, laborDays)["hall/change-2"]; i.Date != e.Date {
				t.Errorf("explained as %s, scheduled for %s", e.Words(), i.Words())
			}
		})
	}
}

// What published rules count, with their own days: facts.md.
func TestExplainPublished(t *testing.T) {
	rows := []struct {
		source  string
		wedding Date
		phrase  string
		want    string
	}{
		{"Signal Hill, California (cityofsignalhill.org): Labor Day skipped", d(2026, 9, 12), "10 business days before the wedding",
			"10 business days back from Sat 12 Sep 2026, skipping Mon 7 Sep Labor Day and weekends: Fri 28 Aug 2026"},
		{"Fed. R. Civ. P. 6(a): the trigger day is not counted", d(2027, 9, 18), "10 days after 2007-08-22",
			"10 days on from Wed 22 Aug 2007: Sat 1 Sep 2007"},
		{"New Mexico Stat. 12-2A-7", d(2027, 9, 18), "6 months before 31 August 2026",
			"6 months back from Mon 31 Aug 2026, where February 2026 has no day 31, so its last: Sat 28 Feb 2026"},
		{"Minn. Stat. 645.15", d(2027, 9, 18), "60 days after 2002-05-15", "60 days on from Wed 15 May 2002: Sun 14 Jul 2002"},
		{"American Canyon, California (americancanyon.gov)", d(2026, 10, 10), "7 business days after 2026-01-05",
			"7 business days on from Mon 5 Jan 2026, skipping weekends: Wed 14 Jan 2026"},
		{"UBC Cecil Green Park House", d(2026, 9, 12), "90 days before the wedding", "90 days back from Sat 12 Sep 2026: Sun 14 Jun 2026"},
	}
	for _, row := range rows {
		t.Run(row.source, func(t *testing.T) {
			e, _ := explained(t, weddingOn(row.wedding, Agreement{Signed: d(2001, 1, 2), Change: change("it " + row.phrase)}), laborDays)
			if got := strings.Join(e.Steps, " | "); got != row.want {
				t.Errorf("%s\nwant %s", got, row.want)
			}
		})
	}
}

// Mon-sat counts Saturdays, own closed days are told, and a count that meets
// many holidays names six. 16 CFR 429: signed Fri 9 Oct 2026, three business
// days run to Wed 14 Oct, Saturday counted.
func TestExplainSkippedDays(t *testing.T) {
	columbus := holidays{d(2026, 10, 12): "Columbus Day"}
	many := holidays{}
	for day := 1; day <= 8; day++ {
		many[d(2027, 3, day)] = "fair day"
	}
	rows := []struct {
		a    Agreement
		c    Closures
		want string
	}{
		{Agreement{Signed: d(2026, 10, 9), BusinessDays: MonSat, Change: change("it 3 business days after signing")}, columbus,
			"3 business days on from signing (Fri 9 Oct 2026), skipping Mon 12 Oct Columbus Day and Sundays: Wed 14 Oct 2026"},
		{Agreement{Signed: d(2026, 10, 9), Closed: []Date{d(2026, 10, 13)}, Change: change("it 2 business days after signing")}, columbus,
			"2 business days on from signing (Fri 9 Oct 2026), skipping Mon 12 Oct Columbus Day, Tue 13 Oct closed by the agreement and weekends: Thu 15 Oct 2026"},
		{Agreement{Signed: d(2026, 10, 9), BusinessDays: MonFri, Change: change("it 1 business day after signing")}, columbus,
			"1 business day on from signing (Fri 9 Oct 2026), skipping weekends: Mon 12 Oct 2026"},
		{Agreement{Signed: d(2026, 10, 9), Closed: []Date{d(2027, 3, 9)}, Change: change("it 1 business day after 2027-02-26")}, many,
			"1 business day on from Fri 26 Feb 2027, skipping Mon 1 Mar fair day, Tue 2 Mar fair day, Wed 3 Mar fair day, Thu 4 Mar fair day, Fri 5 Mar fair day, Mon 8 Mar fair day, 1 more closed days and weekends: Wed 10 Mar 2027"},
	}
	for _, row := range rows {
		e, _ := explained(t, wedding(row.a), row.c)
		if diff := cmp.Diff([]string{row.want}, e.Steps); diff != "" {
			t.Error(diff)
		}
	}
}

// Hours cross the end of summer time: Fed. R. Civ. P. 6(a), committee note of
// 2009, from 10:23 on Friday 2 November 2007.
func TestExplainHoursAcrossTheEndOfSummerTime(t *testing.T) {
	p := weddingOn(d(2007, 11, 2))
	p.Wedding.Zone, p.Wedding.Start = "America/New_York", at(10, 23)
	p.Occasions = []Occasion{{Meeting{Key: "hours", When: Timing{Says: "72 hours after the wedding"}}}}
	read(t, p)
	e := explain(p, NoClosures{}, nil, p.Occasions[0].When)
	want := []string{"72 hours by the clock on from Fri 2 Nov 2007, 10:23, across a change of the clocks: Mon 5 Nov 2007, 09:23"}
	if diff := cmp.Diff(want, e.Steps); diff != "" {
		t.Error(diff)
	}
}

// One of several equal payments is explained by the first of them.
func TestExplainEqualPayments(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00),
		Pay: pay("3 equal payments monthly from 2027-01-31"), Change: change("it 5 days after the second payment")})
	e, _ := explained(t, p, NoClosures{})
	want := []string{
		"the second payment, a date of its own, which does not move with the wedding: Sun 31 Jan 2027",
		"the second payment, 1 month after the first: Sun 28 Feb 2027",
		"5 days on from the second payment (Sun 28 Feb 2027): Fri 5 Mar 2027",
	}
	if diff := cmp.Diff(want, e.Steps); diff != "" {
		t.Error(diff)
	}
}

// A timing without a day says what it waits for, and a doubtful one why.
func TestExplainOpenAndDoubtful(t *testing.T) {
	p := timed("14 days before the wedding")
	p.Wedding.Date = Date{}
	if e, _ := explained(t, p, laborDays); e.WaitsFor != "the wedding date" || len(e.Steps) > 0 || !e.IsZero() {
		t.Errorf("%+v", e)
	}
	if e, _ := explained(t, timed("within 21 days of the wedding"), laborDays); len(e.Doubts) != 1 {
		t.Errorf("%+v", e)
	}
}

// What was answered on the line holds, and is no doubt any more.
func TestExplainAnswers(t *testing.T) {
	rows := []struct{ phrase, reads, want string }{
		{"within 21 days of the wedding", "after", "21 days on from Sat 18 Sep 2027, as was answered: Sat 9 Oct 2027"},
		{"within 21 days before the wedding", "during", "the day of the wedding, as was answered: Sat 18 Sep 2027"},
		{"14 days before the wedding by midnight", "end of day", "14 days back from Sat 18 Sep 2027, as was answered: Sat 4 Sep 2027, 23:59"},
	}
	for _, row := range rows {
		p := timed(row.phrase)
		p.Agreements[0].Change[1].Answers = answers(row.reads)
		e, _ := explained(t, p, laborDays)
		if got := strings.Join(e.Steps, " | "); got != row.want || len(e.Doubts) > 0 {
			t.Errorf("%s: %s, doubts %q\nwant %s", row.phrase, got, e.Doubts, row.want)
		}
		if i := scheduled(t, p, laborDays)["hall/change-2"]; i.Date != e.Date {
			t.Errorf("%s: explained as %s, scheduled for %s", row.phrase, e.Words(), i.Words())
		}
	}
}

func TestWhyActBy(t *testing.T) {
	rows := []struct{ phrase, want string }{
		{"14 days before the wedding", "Sat 4 Sep 2027 is no business day"},
		{"on 2027-09-06", "Mon 6 Sep 2027 is Labor Day"},
		{"on 2027-09-03", "Fri 3 Sep 2027 is closed by the agreement"},
		{"on 2027-09-09 by 00:00", "at 00:00 on Thu 9 Sep 2027 the day before is over"},
		{"on 2027-09-07 by 00:00", "at 00:00 on Tue 7 Sep 2027 the day before is over, and Mon 6 Sep 2027 is Labor Day"},
		{"on 2027-09-09", ""},
	}
	for _, row := range rows {
		p := timed(row.phrase)
		p.Agreements[0].Closed = []Date{d(2027, 9, 3)}
		i := scheduled(t, p, laborDays)["hall/change-2"]
		if got := i.WhyActBy(); got != row.want {
			t.Errorf("%s: %q, want %q", row.phrase, got, row.want)
		}
	}
	if i := (&Item{Moment: Moment{Date: d(2027, time.May, 3)}}); i.WhyActBy() != "" {
		t.Error("what is handed to nobody has no day to act by")
	}
}
