package milestones

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// The last open day on or before the contract's, not before signing.
func TestActBy(t *testing.T) {
	labor := holidays{d(2007, 9, 3): "Labor Day", d(2027, 9, 6): "Labor Day"}
	rows := []struct {
		phrase string
		when   Date
		actBy  Date
		shut   string
		source string
	}{
		{"on 2027-09-14", d(2027, 9, 14), d(2027, 9, 14), "", "common practice"},
		{"on 2027-09-12", d(2027, 9, 12), d(2027, 9, 10), "Sunday", "common practice"},
		{"on 2027-09-11", d(2027, 9, 11), d(2027, 9, 10), "Saturday", "common practice"},
		{"on 2027-09-06", d(2027, 9, 6), d(2027, 9, 3), "Labor Day", "common practice"},
		{"on 2027-09-08", d(2027, 9, 8), d(2027, 9, 7), "closed by the agreement", "common practice"},
		{"10 days after 2007-08-22", d(2007, 9, 1), d(2007, 8, 31), "Saturday", "Fed. R. App. P. 26, committee note: counted back, it runs to Friday"},
		{"60 days after 2002-05-15", d(2002, 7, 14), d(2002, 7, 12), "Sunday", "Minn. Stat. 645.15, but never moved later"},
		{"on 2026-05-31", d(2026, 5, 31), d(2026, 5, 29), "Sunday", "FpML business day convention PRECEDING"},
		{"on 2027-09-15 by 00:00", d(2027, 9, 15), d(2027, 9, 14), "", "ends with the day before"},
		{"on 2027-09-15 by midnight", d(2027, 9, 15), d(2027, 9, 14), "", "the earlier of the two midnights"},
		{"on 2027-09-13 by 00:00", d(2027, 9, 13), d(2027, 9, 10), "Sunday", "ends with a Sunday"},
		{"on 2027-09-15 by 00:01", d(2027, 9, 15), d(2027, 9, 15), "", "common practice"},
		{"on signing", d(2002, 1, 5), d(2002, 1, 5), "", "signed on a Saturday, and not to be acted on before"},
		{"1 day after signing", d(2002, 1, 6), d(2002, 1, 5), "", "the last open day is before signing"},
		{"1 day before signing", d(2002, 1, 5), d(2002, 1, 5), "", "before signing: due on signing"},
	}
	for _, row := range rows {
		t.Run(row.phrase, func(t *testing.T) {
			i := scheduled(t, wedding(Agreement{Signed: d(2002, 1, 5), Closed: []Date{d(2027, 9, 8)}, Papers: papers("it " + row.phrase)}), labor)["hall/paper-1"]
			if i.Date != row.when || i.ActBy != row.actBy || i.Shut != row.shut {
				t.Errorf("on %s, by %s (%s), want on %s, by %s (%s): %s", i.Date.Words(), i.ActBy.Words(), i.Shut,
					row.when.Words(), row.actBy.Words(), row.shut, row.source)
			}
		})
	}
}

// What is handed to a vendor has a day to act by, and nothing else.
func TestActByKinds(t *testing.T) {
	p := wedding(Agreement{
		Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day", "security 5 on the day, back 7 days after the wedding"),
		Cancel: cancel("nothing until the wedding"), Change: change("count on the day"), Papers: papers("plan on the day"),
		Postpone: &Postpone{Line: said("once, with 7 days' notice")},
	})
	p.Appointments = []Appointment{{Meeting{Key: "fitting", When: Timing{Says: "on the day"}}}}
	p.Countdown.Add = []Milestone{{Key: "rings", When: Timing{Says: "on the day"}}}
	for id, i := range scheduled(t, p, NoClosures{}) {
		want := d(2027, 9, 17) // the wedding is on a Saturday
		switch i.Kind {
		case KindRefund, KindAppointment, KindMilestone, KindWedding:
			want = Date{}
		}
		if id == "hall/postpone" {
			want = d(2027, 9, 10)
		}
		if i.ActBy != want {
			t.Errorf("%s, a %s, is acted on by %v, want %v", id, i.Kind, i.ActBy, want)
		}
	}
}

// Business days by kind; the holidays are those of 2026 as the Federal
// Reserve and the OPM publish them.
func TestBusinessDayKinds(t *testing.T) {
	offices := officesApart{
		Banks:   {d(2026, 9, 7): "Labor Day", d(2026, 10, 12): "Columbus Day"},
		Federal: {d(2026, 7, 3): "Independence Day", d(2026, 9, 7): "Labor Day", d(2026, 10, 12): "Columbus Day"},
	}
	const doubt = "if the business days of government offices are meant instead of those of banks, the day is Thu 2 Jul 2026, not Fri 3 Jul 2026"
	rows := []struct {
		kind   BusinessDays
		phrase string
		want   Date
		asks   string
	}{
		{Banks, "1 business day before 2026-07-06", d(2026, 7, 3), doubt},
		{Federal, "1 business day before 2026-07-06", d(2026, 7, 2), "if the business days of banks are meant instead of those of government offices, the day is Fri 3 Jul 2026, not Thu 2 Jul 2026"},
		{MonFri, "1 business day before 2026-07-06", d(2026, 7, 3), ""},
		{MonSat, "1 business day before 2026-07-06", d(2026, 7, 4), ""},
		{MonSat, "2 business days before 2026-07-06", d(2026, 7, 2), ""},
		{Banks, "1 business day before 2026-09-08", d(2026, 9, 4), ""},
		{MonFri, "1 business day before 2026-09-08", d(2026, 9, 7), ""},
		{Banks, "more than 1 business day before 2026-07-06", d(2026, 7, 2), "the day is Wed 1 Jul 2026, not Thu 2 Jul 2026"},
		{Banks, "fewer than 1 business day before 2026-07-06", d(2026, 7, 4), "the day is Fri 3 Jul 2026, not Sat 4 Jul 2026"},
		// Signed Fri 9 Oct 2026: FTC cooling-off rule, 16 CFR 429, which counts Saturdays.
		{MonSat, "3 business days after 2026-10-09", d(2026, 10, 14), ""},
		{Banks, "3 business days after 2026-10-09", d(2026, 10, 15), ""},
	}
	for _, row := range rows {
		t.Run(string(row.kind)+" "+row.phrase, func(t *testing.T) {
			p := wedding(Agreement{Signed: d(2026, 1, 5), BusinessDays: row.kind, Papers: papers("it " + row.phrase)})
			i := scheduled(t, p, offices)["hall/paper-1"]
			if i.Date != row.want {
				t.Errorf("on %s, want %s", i.Date.Words(), row.want.Words())
			}
			asked := ""
			for _, q := range i.Questions {
				asked += q.Says
			}
			if !strings.Contains(asked, row.asks) || (row.asks == "") != (asked == "") {
				t.Errorf("asks %q, want %q", asked, row.asks)
			}
		})
	}
}

// What a phrase leaves open is a question of its item and of the plan.
func TestTimingQuestions(t *testing.T) {
	rows := []struct{ phrase, asks string }{
		{"within 21 days of the wedding", `"within 21 days of the wedding" does not say which side it means; it is read as Sat 28 Aug 2027 at the latest`},
		{"on 2027-05-03 by midnight", "midnight may begin or end Mon 3 May 2027; it is read as its beginning"},
		{"2 years before the wedding", `"2 years before the wedding" falls on Thu 18 Sep 2025, before the agreement was signed; it is taken as due on signing`},
		{"by 2026-09-01", `"by 2026-09-01" falls on Tue 1 Sep 2026, before the agreement was signed; it is taken as due on signing`},
		{"within 21 days after signing", ""},
		{"14 days before the wedding", ""},
	}
	for _, row := range rows {
		t.Run(row.phrase, func(t *testing.T) {
			p := wedding(Agreement{Signed: d(2026, 10, 2), Cancel: cancel("nothing until the wedding"), Papers: papers("it " + row.phrase)})
			i := scheduled(t, p, NoClosures{})["hall/paper-1"]
			if row.asks == "" {
				noDoubts(t, p, NoClosures{})
				return
			}
			if len(i.Questions) != 1 || i.Questions[0].Says != row.asks {
				t.Errorf("asks %v, want %s", i.Questions, row.asks)
			}
			asks(t, p, row.asks)
		})
	}
}

// An open wedding date is no fault: what is counted from it has no day yet,
// says what it waits for, and stands last; what is fixed stays.
func TestOpenWeddingDate(t *testing.T) {
	p := weddingOn(Date{}, Agreement{
		Signed: d(2026, 10, 2), Price: costs(1000_00), Dates: []NamedDate{{"invoice", Date{}}},
		Pay:    pay("25% on signing", "25% 10 days after invoice", "balance 14 days before the wedding"),
		Change: change("count 3 days after the balance", "list by 2027-03-01", "doors 48 hours before the wedding"),
	})
	items := Schedule(read(t, p), NoClosures{})
	var got []string
	for _, i := range items {
		got = append(got, i.ID+" "+i.Date.String()+i.WaitsFor)
	}
	want := []string{"hall/pay-1 2026-10-02", "hall/change-2 2027-03-01", "hall/change-1 the wedding date",
		"hall/change-3 the wedding date", "hall/pay-2 the invoice of The Hall", "hall/pay-3 the wedding date", "wedding the wedding date"}
	if !slices.Equal(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
	if i := items[len(items)-2]; i.Amount != Exactly(500_00) || !i.ActBy.IsZero() {
		t.Errorf("without a day the balance is %+v", i)
	}
}

// Hours from something that has no hour wait for one.
func TestHoursWithoutAClock(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Change: change("doors 48 hours before the wedding", "lamps 12 hours before 2027-09-18")})
	if i := scheduled(t, p, NoClosures{})["hall/change-1"]; i.Date != d(2027, 9, 16) || *i.Clock != (Clock{Hour: 16, Minute: 30}) {
		t.Errorf("48 hours before 16:30 is %s %v", i.Date, i.Clock)
	}
	p.Wedding.Start = nil
	items := scheduled(t, p, NoClosures{})
	if i := items["hall/change-1"]; !i.Undated() || i.WaitsFor != "an hour for the wedding" {
		t.Errorf("dated %s, waits for %q", i.Date, i.WaitsFor)
	}
	if i := items["hall/change-2"]; !i.Undated() || i.WaitsFor != "an hour for Sat 18 Sep 2027" {
		t.Errorf("dated %s, waits for %q", i.Date, i.WaitsFor)
	}
}

// A quote has no signing day, so what is counted from it waits; of what was
// replaced, only what is marked as owed is still to be done.
func TestStandings(t *testing.T) {
	lines := Agreement{With: "Reed Band", Price: costs(1000_00), Pay: pay("25% on signing", "balance 14 days before the wedding")}
	lines.Pay[1].Owed = true
	quote, old := lines, lines
	quote.Key, quote.Standing, quote.Pay = "quote", Quoted, slices.Clone(lines.Pay)
	old.Key, old.Standing, old.Signed, old.Pay = "old", Replaced, d(2026, 10, 2), slices.Clone(lines.Pay)
	items := scheduled(t, wedding(quote, old), NoClosures{})
	if i := items["quote/pay-1"]; !i.Undated() || i.WaitsFor != "the signing of Reed Band" || i.Standing != Quoted {
		t.Errorf("quoted: %s %q %s", i.Date, i.WaitsFor, i.Standing)
	}
	if i := items["quote/pay-2"]; i.Date != d(2027, 9, 4) {
		t.Errorf("quoted, counted from the wedding: %s", i.Date)
	}
	if i := items["old/pay-2"]; i.Standing != Replaced || !i.Owed {
		t.Errorf("replaced: %s, owed %t", i.Standing, i.Owed)
	}
}

func TestStateOn(t *testing.T) {
	day, yesterday, tomorrow := d(2027, 5, 3), d(2027, 5, 2), d(2027, 5, 4)
	on := Moment{Date: day}
	rows := []struct {
		why                string
		item               Item
		before, at, behind State
	}{
		{"a payment", Item{Kind: KindPayment, Moment: on, Standing: Signed}, Open, Open, Overdue},
		{"one to be acted on the day before", Item{Kind: KindPayment, Moment: on, ActBy: yesterday, Standing: Signed}, Open, Open, Overdue},
		{"a payment that was made", Item{Kind: KindPayment, Moment: on, Standing: Signed, Done: yesterday}, Done, Done, Done},
		{"one without a day", Item{Kind: KindPayment, Standing: Signed}, Undated, Undated, Undated},
		{"one without a day that was made", Item{Kind: KindPayment, Standing: Signed, Done: yesterday}, Done, Done, Done},
		{"a quoted payment", Item{Kind: KindPayment, Moment: on, Standing: Quoted}, Open, Open, Past},
		{"a replaced payment", Item{Kind: KindPayment, Moment: on, Standing: Replaced}, Open, Open, Past},
		{"one still owed", Item{Kind: KindPayment, Moment: on, Standing: Replaced, Owed: true}, Open, Open, Overdue},
		{"a refund of what was left", Item{Kind: KindRefund, Moment: on, Standing: Ended}, Open, Open, Overdue},
		{"a quoted refund", Item{Kind: KindRefund, Moment: on, Standing: Quoted}, Open, Open, Past},
		{"a change", Item{Kind: KindChangeBy, Moment: on, Standing: Signed}, Open, Open, Overdue},
		{"a paper", Item{Kind: KindPaper, Moment: on, Standing: Signed}, Open, Open, Overdue},
		{"a last day to cancel", Item{Kind: KindCancelBy, Moment: on, Standing: Signed}, Open, Open, Past},
		{"an appointment", Item{Kind: KindAppointment, Moment: on}, Open, Open, Past},
		{"the wedding", Item{Kind: KindWedding, Moment: on}, Open, Open, Past},
		{"a milestone", Item{Kind: KindMilestone, Moment: on}, Open, Open, Overdue},
	}
	for _, row := range rows {
		for today, want := range map[Date]State{yesterday: row.before, day: row.at, tomorrow: row.behind} {
			if got := StateOn(&row.item, today); got != want {
				t.Errorf("%s: on %s it is %s, want %s", row.why, today, got, want)
			}
		}
	}
}

// Appointments and occasions keep their own hour, and end on it.
func TestMeetings(t *testing.T) {
	p := wedding()
	p.People = []Person{{Key: "priya", Name: "Priya Nair", Part: Attendant, Groups: []string{"readers"}}}
	p.Away = []Absence{{"priya", d(2027, 8, 1), d(2027, 8, 14)}}
	p.Appointments = []Appointment{
		{Meeting{Key: "fitting", What: "Fitting", When: Timing{Says: "on 2027-08-14"}, At: at(11, 0), Until: at(12, 30), For: []string{"readers"}}},
		{Meeting{Key: "last", What: "Last fitting", When: Timing{Says: "on 2027-08-15"}, Until: at(12, 30), For: []string{"priya"}}},
	}
	items := scheduled(t, p, NoClosures{})
	if i := items["appointments/fitting"]; i.Clock.String() != "11:00" || i.Zone != "America/Detroit" || i.Until.String() != "12:30" || i.Title != "Fitting" {
		t.Errorf("%+v", i)
	}
	if i := items["appointments/last"]; i.Clock != nil || i.Until != nil {
		t.Errorf("without a beginning there is no end: %v %v", i.Clock, i.Until)
	}
	asks(t, p, "Priya Nair is away from Sun 1 Aug 2027 to Sat 14 Aug 2027", `asked to "Fitting" on Sat 14 Aug 2027`)
	if n := len(Questions(p, NoClosures{})); n != 1 {
		t.Errorf("%d questions, want one", n)
	}
	p.Appointments[0].When = Timing{Says: "on 2027-08-14 by noon"}
	if says := refusal(t, p); !strings.Contains(says, "there are two hours") {
		t.Error(says)
	}
}

// The notice of a postponement is a day to act by; the rest is kept as said.
func TestPostpone(t *testing.T) {
	rows := []struct {
		says   string
		notice string // empty: none
		want   Date
		times  int
		fee    Money
	}{
		{"once, with 60 days' notice, for 500, to a date within 12 months", "with 60 days' notice", d(2027, 7, 20), 1, 500_00},
		{"to a date by 2028-03-01, for $500, with two months’ written notice, twice", "with two months’ written notice", d(2027, 7, 18), 2, 500_00},
		{"3 times, with at least one hundred and twenty days notice", "with at least one hundred and twenty days notice", d(2027, 5, 21), 3, 0},
		{"with 10 business days' notice", "with 10 business days' notice", d(2027, 9, 6), 0, 0},
		{"once", "", Date{}, 1, 0},
		{"UPON NO FEWER THAN SIXTY (60) DAYS’ PRIOR WRITTEN NOTICE, and for a fee of 500", "UPON NO FEWER THAN SIXTY (60) DAYS’ PRIOR WRITTEN NOTICE", d(2027, 7, 20), 0, 500_00},
		{"with a month's notice, to another date by the 3rd of May 2028", "with a month's notice", d(2027, 8, 18), 0, 0},
	}
	for _, row := range rows {
		t.Run(row.says, func(t *testing.T) {
			p := wedding(Agreement{Signed: d(2026, 10, 2), Postpone: &Postpone{Line: said(row.says)}})
			i, made := scheduled(t, p, NoClosures{})["hall/postpone"]
			if made != (row.notice != "") || i.Date != row.want || made && i.Kind != KindChangeBy {
				t.Errorf("an item: %t, on %s, a %s", made, i.Date, i.Kind)
			}
			if got := p.Agreements[0].Postpone; got.Notice.Says != row.notice || got.Times != row.times || got.Fee != row.fee {
				t.Errorf("read as %+v", got)
			}
		})
	}
	refused := []struct{ says, want string }{
		{"free of charge", `"free" is not understood here; expected "once" or "with 60 days' notice"`},
		{"with 60 days", `stops too early; expected "notice"`},
		{"", `there is nothing here`},
		{"once, for 500, twice", `at "twice", how often is said twice`},
		{"0 times", `at "0", an agreement that cannot be moved has no such line; leave it out`},
		{"with 60 days notise", `"notise" is not understood here; did you mean "notice"?`},
		{"to a date by next year", `"next" is not understood here; expected "2027-05-03"`},
		{"to a date within next year", `"next" is not understood here; expected "30"`},
		{"once for", `stops too early; expected "500"`},
		{"once, and", `stops too early; expected "once"`},
	}
	for _, row := range refused {
		p := wedding(Agreement{Signed: d(2026, 10, 2), Postpone: &Postpone{Line: said(row.says)}})
		if says := refusal(t, p); !strings.HasPrefix(says, "agreements/hall/postpone: ") || !strings.Contains(says, row.want) {
			t.Errorf("%s\nwant %s", says, row.want)
		}
	}
}

// Items stand in order of day, hour and id, and carry what was written.
func TestScheduleOrder(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Hide: []string{"family"}, Change: []ChangeBy{
		{Line: Line{Says: "b on 2027-05-03", Hide: []string{"helper"}, Wording: "Sec. 4", Note: "Ask"}}, {Line: said("a on 2027-05-03 by 09:00")},
		{Line: said("c on 2027-05-03")}, {Line: said("d on 2027-05-02")}, {Line: said("e on 2027-05-03 by 08:00")}}})
	p.People = []Person{{Key: "bea", Part: Family}}
	var got []string
	for _, i := range Schedule(read(t, p), NoClosures{}) {
		got = append(got, i.Title)
	}
	want := []string{"The Hall: d", "The Hall: b", "The Hall: c", "The Hall: e", "The Hall: a", "Maren and Theo"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	i := scheduled(t, p, NoClosures{})["hall/change-1"]
	if i.Wording != "Sec. 4" || i.Note != "Ask" || i.Rule != "b on 2027-05-03" || !slices.Equal(i.Hide, []string{"family", "helper"}) || i.Term != "change-1" {
		t.Errorf("%+v", i)
	}
	if again := Schedule(p, NoClosures{}); again[0].Weekday() != time.Sunday {
		t.Errorf("the first item is on %s", again[0].Words())
	}
}
