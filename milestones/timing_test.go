package milestones

import (
	"strings"
	"testing"
	"time"
)

// timed is a plan in which things can be counted from: signed on Tuesday 30
// June 2026, invoiced on 1 August 2027, wed on Saturday 18 September 2027 at
// 16:30 in Detroit.
func timed(phrase string) *Plan {
	p := wedding(Agreement{
		Key: "hall", With: "The Hall", Signed: d(2026, 6, 30), Price: costs(1_000_00),
		Dates:  []NamedDate{{"invoice", d(2027, 8, 1)}, {"site visit", Date{}}},
		Pay:    pay("25% on signing", "25% by 2027-03-15 at 10:00", "balance 14 days before the wedding by 17:00 America/Chicago"),
		Change: change("final headcount 10 days before the wedding", "it "+phrase),
	})
	p.Agreements[0].Change[0].What = "Headcount"
	p.Occasions = []Occasion{{Meeting{Key: "rehearsal", What: "Rehearsal dinner", When: Timing{Says: "1 day before the wedding"}, At: at(17, 30)}}}
	return p
}

// The trigger day is not counted, and dates do not roll: common practice, and
// Fed. R. Civ. P. 6(a) but for its rolling. No holidays here.
func TestTiming(t *testing.T) {
	rows := []struct {
		phrase string
		want   Date
		clock  string
	}{
		{"on signing", d(2026, 6, 30), ""},
		{"upon execution", d(2026, 6, 30), ""},
		{"on the day", d(2027, 9, 18), ""},
		{"on the wedding day", d(2027, 9, 18), ""},
		{"on invoice", d(2027, 8, 1), ""},
		{"on the rehearsal", d(2027, 9, 17), ""},
		{"on rehearsal dinner", d(2027, 9, 17), ""},

		{"on 2027-05-03", d(2027, 5, 3), ""},
		{"by 2027-05-03", d(2027, 5, 3), ""},
		{"on or before 2027-05-03", d(2027, 5, 3), ""},
		{"no later than 3 May 2027", d(2027, 5, 3), ""},
		{"by May 3, 2027", d(2027, 5, 3), ""},
		{"on Monday, 3 May 2027", d(2027, 5, 3), ""},
		{"on the 3rd of May, 2027", d(2027, 5, 3), ""},
		{"by May 3rd 2027", d(2027, 5, 3), ""},
		{"due on the 3rd May 2027", d(2027, 5, 3), ""},
		{"by 30 Sept 2027", d(2027, 9, 30), ""},

		{"14 days before the wedding", d(2027, 9, 4), ""},
		{"14 DAYS  Before The Wedding", d(2027, 9, 4), ""},
		{"fourteen days before the wedding", d(2027, 9, 4), ""},
		{"fourteen (14) days prior to the wedding", d(2027, 9, 4), ""},
		{"14 (fourteen) days prior to the wedding", d(2027, 9, 4), ""},
		{"fourteen (14) calendar days, prior to our wedding", d(2027, 9, 4), ""},
		{"at least 14 days before the wedding", d(2027, 9, 4), ""},
		{"no fewer than 14 days before the wedding", d(2027, 9, 4), ""},
		{"not less than fourteen days before the wedding", d(2027, 9, 4), ""},
		{"no later than 14 days before the wedding date", d(2027, 9, 4), ""},
		{"by 14 days before the wedding", d(2027, 9, 4), ""},
		{"one hundred and twenty days before the wedding", d(2027, 5, 21), ""},
		{"one hundred and twenty (120) days before the wedding", d(2027, 5, 21), ""},
		{"120 (one hundred and twenty) days before the wedding", d(2027, 5, 21), ""},
		{"a hundred days before the wedding", d(2027, 6, 10), ""},
		{"forty-five days before the wedding", d(2027, 8, 4), ""},
		{"forty five (45) days before the wedding", d(2027, 8, 4), ""},
		{"due 45 days before the date of the wedding", d(2027, 8, 4), ""},
		{"the 45 days before of the wedding", d(2027, 8, 4), ""},
		{"within a week of the day of the wedding", d(2027, 9, 11), ""},
		{"at least a month before the wedding", d(2027, 8, 18), ""},
		{"the day before the wedding", d(2027, 9, 17), ""},
		{"on the day after the wedding", d(2027, 9, 19), ""},
		{"a week before the wedding", d(2027, 9, 11), ""},
		{"2 weeks before the wedding", d(2027, 9, 4), ""},
		{"6 months before the wedding", d(2027, 3, 18), ""},
		{"8 months after signing", d(2027, 2, 28), ""},
		{"1 year after the wedding", d(2028, 9, 18), ""},
		{"30 days from signing", d(2026, 7, 30), ""},
		{"30 days following invoice", d(2027, 8, 31), ""},
		{"10 days after 2027-02-20", d(2027, 3, 2), ""},
		{"1 month before 31 March 2027", d(2027, 2, 28), ""},

		{"10 business days before the wedding", d(2027, 9, 6), ""},
		{"ten (10) working days prior to the wedding", d(2027, 9, 6), ""},
		{"1 business day before the wedding", d(2027, 9, 17), ""},
		{"1 business day after the wedding", d(2027, 9, 20), ""},
		{"within 10 business days after signing", d(2026, 7, 14), ""},

		{"more than 30 days before the wedding", d(2027, 8, 18), ""},
		{"fewer than 30 days before the wedding", d(2027, 8, 20), ""},
		{"less than 30 days before the wedding", d(2027, 8, 20), ""},
		{"more than 10 business days before the wedding", d(2027, 9, 5), ""},
		{"more than 1 month before the wedding", d(2027, 8, 17), ""},
		{"within 21 days of the wedding", d(2027, 8, 28), ""},
		{"within 21 days after the wedding", d(2027, 10, 9), ""},

		{"the Friday before the wedding", d(2027, 9, 17), ""},
		{"by the Saturday before the wedding", d(2027, 9, 11), ""},
		{"the Monday after the wedding", d(2027, 9, 20), ""},
		{"Wed before the wedding", d(2027, 9, 15), ""},

		{"with the balance", d(2027, 9, 4), "17:00 America/Chicago"},
		{"with the final payment", d(2027, 9, 4), "17:00 America/Chicago"},
		{"with headcount", d(2027, 9, 8), ""},
		{"with change-1", d(2027, 9, 8), ""},
		{"with rehearsal", d(2027, 9, 17), "17:30 America/Detroit"},
		{"with the balance by noon", d(2027, 9, 4), "12:00 America/Detroit"},
		{"on balance", d(2027, 9, 4), ""},
		{"3 days after the second payment", d(2027, 3, 18), ""},
		{"3 days after the 2nd payment", d(2027, 3, 18), ""},
		{"3 days after the deposit", d(2026, 7, 3), ""},
		{"3 days after pay-1", d(2026, 7, 3), ""},

		{"14 days before the wedding by 17:00", d(2027, 9, 4), "17:00 America/Detroit"},
		{"by 17:00 14 days before the wedding", d(2027, 9, 4), "17:00 America/Detroit"},
		{"14 days before the wedding at 5 p.m.", d(2027, 9, 4), "17:00 America/Detroit"},
		{"14 days before the wedding by 5:30pm America/Chicago", d(2027, 9, 4), "17:30 America/Chicago"},
		{"by 17:00 UTC the Friday before the wedding", d(2027, 9, 17), "17:00 UTC"},
		{"BY NOON THE FRIDAY BEFORE THE WEDDING", d(2027, 9, 17), "12:00 America/Detroit"},
		{"on 2027-05-03 before 12:00", d(2027, 5, 3), "12:00 America/Detroit"},
		{"14 days before the wedding, no later than 5 pm America/Detroit", d(2027, 9, 4), "17:00 America/Detroit"},
		{"no later than 17:00 on 2027-05-03", d(2027, 5, 3), "17:00 America/Detroit"},
		{"by midnight on 2027-05-03", d(2027, 5, 3), "00:00 America/Detroit"},

		{"48 hours before the wedding", d(2027, 9, 16), "16:30 America/Detroit"},
		{"forty-eight (48) hours before the wedding", d(2027, 9, 16), "16:30 America/Detroit"},
		{"more than 48 hours before the wedding", d(2027, 9, 16), "16:29 America/Detroit"},
		{"fewer than 48 hours before the wedding", d(2027, 9, 16), "16:31 America/Detroit"},
		{"24 hours after the balance", d(2027, 9, 5), "17:00 America/Chicago"},
	}
	for _, row := range rows {
		t.Run(row.phrase, func(t *testing.T) {
			i := scheduled(t, timed(row.phrase), NoClosures{})["hall/change-2"]
			clock := ""
			if i.Clock != nil {
				clock = i.Clock.String() + " " + i.Zone
			}
			if i.Date != row.want || clock != row.clock {
				t.Errorf("%s %s, want %s %s", i.Date.Words(), clock, row.want.Words(), row.clock)
			}
			if i.Title != "The Hall: it" {
				t.Errorf("the title is %q", i.Title)
			}
		})
	}
}

// What is not understood is refused at the word, with the nearest form.
func TestTimingRefused(t *testing.T) {
	rows := []struct{ phrase, says string }{
		{"balance 14 dais before the wedding", `"dais" is not understood here; did you mean "days"?`},
		{"balance 14 days befor the wedding", `"befor" is not understood here; did you mean "before"?`},
		{"balance 14 bussiness days before the wedding", `"bussiness" is not understood here; did you mean "business"?`},
		{"balance fourteen before the wedding", `"before" is not understood here; expected "business days" or "working days" or "days"`},
		{"balance 30 days prior the wedding", `"the" is not understood here; expected "to"`},
		{"balance 14 days", `stops too early; expected "before"`},
		{"balance 14 days before the", `stops too early; expected "the wedding" or "signing"`},
		{"balance", `stops too early; expected "on signing" or "by 2027-05-03" or "14 days before the wedding"`},
		{"balance witin 3 days of the wedding", `"witin" is not understood here; did you mean "within"?`},
		{"balance more 3 days before the wedding", `"3" is not understood here; expected "than"`},
		{"balance 0 days before the wedding", `at "0", a count goes from 1 to 20000 days`},
		{"balance 51 years before the wedding", `at "51", a count goes from 1 to 50 years`},
		{"balance 99999 days before the wedding", `at "99999", a count is a whole number up to 20000`},
		{"balance 1.5 months before the wedding", `at "1.5", a count is a whole number`},
		{"balance -3 days before the wedding", `at "-3", a count is a whole number`},
		{"balance the Friday of the wedding", `"of" is not understood here; expected "before"`},
		{"balance more than 3 days after the wedding", `"after" is not understood here; expected "before"`},

		{"balance the week before the wedding", `"week" is not understood here; expected "on signing"`},
		{"balance signing", `"signing" is not understood here; did you mean "on signing"?`},
		{"balance on siging", `nothing here is called "siging"; did you mean "signing"?`},
		{"balance 14 days before the weding", `nothing here is called "weding"; did you mean "wedding"?`},
		{"balance with the invioce", `nothing here is called "invioce"; did you mean "invoice"?`},
		{"balance with 2027-05-03", `at "2027-05-03", only something that has a name stands after "with"`},

		{"balance 2027-05-03", `at "2027-05-03", a date needs "on" or "by" before it`},
		{"balance 3 May 2027", `at "3", a date needs "on" or "by" before it`},
		{"balance on 2027-02-30", `at "2027-02-30", 2027-02-30 is no day of the calendar`},
		{"balance by 31 June 2027", `at "31", June has no day 31 in 2027`},
		{"balance 3 days before 31 June 2027", `at "31", June has no day 31 in 2027`},
		{"balance on 05/03/2027", `at "05/03/2027", the order of day and month differs by country; write the date as 2027-05-03`},
		{"balance 3 days before 3.5.27", `at "3.5.27", the order of day and month differs by country`},
		{"balance on May 2027", `at "May", a month is no day; write the date as 2027-05-01`},
		{"balance on 3 May", `at "3", a date needs its year; write it as 3 May 2027`},
		{"balance on 2027-05-03 promptly", `"promptly" is not understood here; all before it was understood; leave it out`},
		{"balance twenty hundred days before the wedding", `"hundred" is not understood here`},
		{"balance thirty (31) days before the wedding", `"(31)" is not understood here; expected "business days"`},
		{"balance on Friday 3 May 2027", `at "Friday", 2027-05-03 is a Monday`},

		{"balance 14 days before the wedding by 25:00", `at "25:00", this is no hour of the day; write it as 17:00`},
		{"balance by 24:00 on 2027-05-03", `at "24:00", this is no hour of the day`},
		{"balance 14 days before the wedding by 17:00 EST", `at "EST", a time zone needs its full name; write for instance America/Detroit`},
		{"balance by 17:00 America/Nowhere on 2027-05-03", `at "America/Nowhere", a time zone needs its full name`},
		{"balance by 17:00 on 2027-05-03 by noon", `at "by", there is an hour already`},
		{"balance 48 hours before the wedding by 17:00", `at "48", a count of hours ends at an hour of its own`},
		{"balance by noon 48 hours before the wedding", `at "48", a count of hours ends at an hour of its own`},

		{"", `there is nothing here`},
		{" \t", `there is nothing here`},
		{"balance on signing" + strings.Repeat(" ", phraseMost), `longer than 500 letters; say it in one short line`},
	}
	for _, row := range rows {
		t.Run(row.phrase, func(t *testing.T) {
			p := timed("on signing")
			p.Agreements[0].Pay = pay("25% on signing", "25% by 2027-03-15", row.phrase)
			says := refusal(t, p)
			if !strings.HasPrefix(says, "agreements/hall/pay[3]: ") || !strings.Contains(says, row.says) {
				t.Errorf("%s\nwant %s", says, row.says)
			}
		})
	}
}

// The timing is the longest end of the phrase that reads as one.
func TestLabels(t *testing.T) {
	rows := []struct{ phrase, label, timing string }{
		{"final headcount 10 business days before the wedding by 17:00", "final headcount", "10 business days before the wedding by 17:00"},
		{"final headcount, 10 days before the wedding", "final headcount", "10 days before the wedding"},
		{"final headcount: 10 days before the wedding", "final headcount", "10 days before the wedding"},
		{"final headcount – on 2027-05-03", "final headcount", "on 2027-05-03"},
		{"lawn or loft at the ceremony 48 hours before the wedding", "lawn or loft at the ceremony", "48 hours before the wedding"},
		{"who comes with the coach 10 days before the wedding", "who comes with the coach", "10 days before the wedding"},
		{"words on the menu the Friday before the wedding", "words on the menu", "the Friday before the wedding"},
		{"trip to the florist with the balance", "trip to the florist", "with the balance"},
		{"Menu for 8 tables by noon on 2027-05-03", "Menu for 8 tables", "by noon on 2027-05-03"},
		{"the list the day before rehearsal", "the list", "the day before rehearsal"},
		{"site plan within 21 days of the wedding", "site plan", "within 21 days of the wedding"},
		{"final headcount is due 14 days before the wedding", "final headcount", "due 14 days before the wedding"},
		{"The floor plan shall be due on 2027-05-03", "The floor plan", "due on 2027-05-03"},
		{"who is to be 10 days before the wedding", "who", "10 days before the wedding"},
	}
	for _, row := range rows {
		t.Run(row.phrase, func(t *testing.T) {
			p := timed("on signing")
			p.Agreements[0].Papers = papers(row.phrase)
			paper := read(t, p).Agreements[0].Papers[0]
			if paper.Label != row.label || paper.When.Says != row.timing {
				t.Errorf("%q and %q, want %q and %q", paper.Label, paper.When.Says, row.label, row.timing)
			}
		})
	}
}

func TestLabelsRefused(t *testing.T) {
	const cut = `the timing seems to begin here, but only its end was understood`
	rows := []struct{ phrase, says string }{
		{"final headcount 3 by 10 days before the wedding", `at "3", ` + cut},
		{"final headcount 10 days by 2027-05-03", `at "days", ` + cut},
		{"final headcount 10 business days on 2027-05-03", `at "days", ` + cut},
		{"final headcount by on 2027-05-03", `at "by", ` + cut},
		{"final headcount within on 2027-05-03", `at "within", ` + cut},
		{"final headcount until 10 days before the wedding", `at "until", ` + cut},
		{"final headcount noon on 2027-05-03", `at "noon", ` + cut},
		{"final headcount 17:00 on 2027-05-03", `at "17:00", ` + cut},
		{"10 days before the wedding", `at "10", the label is missing; say first what is due`},
		{"final headcount", `stops too early; expected "10 days before the wedding"`},
		{"final headcount 10 dys before the wedding", `"dys" is not understood here; did you mean "days"?`},
		{"words on the menu 10 dys before the wedding", `"dys" is not understood here; did you mean "days"?`},
		{"final headcount on invioce", `at "invioce", nothing here is called "invioce"; did you mean "invoice"?`},
		{"final headcount with the balence", `at "balence", nothing here is called "balence"; did you mean "balance"?`},
		{"final headcount 10 days before the wedding by 25:00", `at "25:00", this is no hour of the day`},
	}
	for _, row := range rows {
		t.Run(row.phrase, func(t *testing.T) {
			p := timed("on signing")
			p.Agreements[0].Papers = papers(row.phrase)
			if says := refusal(t, p); !strings.Contains(says, row.says) {
				t.Errorf("%s\nwant %s", says, row.says)
			}
		})
	}
}

// Hours are elapsed time, days are not. From 10:23 on Friday 2 November 2007,
// 72 hours in New York run to 09:23 on Monday: Fed. R. Civ. P. 6(a), committee
// note of 2009.
func TestHoursAcrossTheEndOfSummerTime(t *testing.T) {
	p := weddingOn(d(2007, 11, 10))
	p.Wedding.Zone = "America/New_York"
	p.Occasions = []Occasion{
		{Meeting{Key: "filing", What: "Filing", When: Timing{Says: "on 2007-11-02"}, At: at(10, 23)}},
		{Meeting{Key: "hours", What: "By the clock", When: Timing{Says: "72 hours after filing"}}},
		{Meeting{Key: "days", What: "By the calendar", When: Timing{Says: "3 days after filing"}}},
	}
	items := scheduled(t, p, NoClosures{})
	if i := items["occasions/hours"]; i.Date != d(2007, 11, 5) || *i.Clock != (Clock{Hour: 9, Minute: 23}) {
		t.Errorf("72 hours run to %s %s", i.Date, i.Clock)
	}
	if i := items["occasions/days"]; i.Date != d(2007, 11, 5) || i.Clock != nil {
		t.Errorf("3 days run to %s %v", i.Date, i.Clock)
	}
}

// A weekday is never the anchor's own day, whichever day that is.
func TestWeekdayBeside(t *testing.T) {
	for day := d(2027, 9, 13); day.Before(d(2027, 9, 20)); day = day.AddDays(1) {
		for w := time.Sunday; w <= time.Saturday; w++ {
			p := weddingOn(day)
			p.Occasions = []Occasion{
				{Meeting{Key: "before", When: Timing{Says: "the " + w.String() + " before the wedding"}}},
				{Meeting{Key: "after", When: Timing{Says: "the " + w.String() + " after the wedding"}}},
			}
			items := scheduled(t, p, NoClosures{})
			before, after := items["occasions/before"].Date, items["occasions/after"].Date
			if n := day.DaysSince(before); n < 1 || n > 7 || before.Weekday() != w {
				t.Errorf("the %s before %s is taken for %s", w, day.Words(), before.Words())
			}
			if n := after.DaysSince(day); n < 1 || n > 7 || after.Weekday() != w {
				t.Errorf("the %s after %s is taken for %s", w, day.Words(), after.Words())
			}
		}
	}
}

// Nothing is owed before signing, so "within" so many days of it asks nothing,
// and no answer has it otherwise.
func TestWithinDaysOfSigning(t *testing.T) {
	for _, reads := range [][]Answer{nil, answers("before")} {
		p := wedding(Agreement{Signed: d(2026, 10, 2), Cancel: cancel("nothing until the wedding"), Papers: papers("proof of insurance within 14 days of signing")})
		p.Agreements[0].Papers[0].Answers = reads
		read(t, p)
		for _, i := range Schedule(p, NoClosures{}) {
			if i.ID == "hall/paper-1" && (i.Date != d(2026, 10, 16) || len(i.Questions) > 0) {
				t.Errorf("it is due on %s, and asks %v", i.Date, i.Questions)
			}
		}
		if all := Questions(p, NoClosures{}); len(all) > 0 {
			t.Errorf("it asks %+v", all)
		}
		if notes := Unasked(p, NoClosures{}); len(notes) != len(reads) {
			t.Errorf("of the answers %v it is said: %v", reads, notes)
		}
	}
}
