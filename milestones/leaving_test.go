package milestones

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// step is what an item of a ladder should say: its last day, what leaving by
// then costs, and what it costs from then on.
type step struct {
	on           Date
	costs, after Amount
}

func checkSteps(t *testing.T, p *Plan, c Closures, want ...step) {
	t.Helper()
	items := scheduled(t, p, c)
	for n, w := range want {
		i := items[fmt.Sprintf("hall/cancel-%d", n+1)]
		if i.Kind != KindCancelBy || i.Date != w.on || i.Amount != w.costs || i.Later != w.after {
			usd := Currency("USD")
			t.Errorf("step %d: %s until %s, then %s; want %s until %s, then %s", n+1,
				usd.Range(i.Amount), i.Date.Words(), usd.Range(i.Later), usd.Range(w.costs), w.on.Words(), usd.Range(w.after))
		}
	}
}

func noDoubts(t *testing.T, p *Plan, c Closures) {
	t.Helper()
	for _, q := range Questions(read(t, p), c) {
		t.Errorf("asked without need: %s", q.Says)
	}
}

// UBC Cecil Green Park House (cecilgreenpark.ubc.ca); the fee is ours.
func TestLeavingUBC(t *testing.T) {
	p := weddingOn(d(2026, 9, 12), Agreement{
		Signed: d(2025, 3, 3), Price: costs(6000_00),
		Pay: pay("25% on signing", "balance 90 days before the wedding", "security 800 with the balance, back within 2 weeks of the wedding"),
		Cancel: cancel("10% until 365 days before the wedding", "25% until 181 days before the wedding",
			"50% until 91 days before the wedding", "100% after that"),
	})
	checkSteps(t, p, NoClosures{},
		step{d(2025, 9, 12), Exactly(600_00), Exactly(1500_00)},
		step{d(2026, 3, 15), Exactly(1500_00), Exactly(3000_00)},
		step{d(2026, 6, 13), Exactly(3000_00), Exactly(6000_00)})
	p.Agreements[0].Pay = pay("25% on signing", "balance 90 days before the wedding", "security 800 with the balance, back within 2 weeks after the wedding")
	noDoubts(t, p, NoClosures{})
	items := scheduled(t, p, NoClosures{})
	if i := items["hall/pay-2"]; i.Date != d(2026, 6, 14) || i.ActBy != d(2026, 6, 12) || i.Shut != "Sunday" {
		t.Errorf("the final payment is due %s, to be made by %s (%s)", i.Date.Words(), i.ActBy.Words(), i.Shut)
	}
	if i := items["hall/pay-3/back"]; i.Date != d(2026, 9, 26) {
		t.Errorf("the damage deposit comes back by %s", i.Date.Words())
	}
}

// American Canyon, California (americancanyon.gov); the fee is ours.
func TestLeavingAmericanCanyon(t *testing.T) {
	p := weddingOn(d(2026, 10, 10), Agreement{
		Signed: d(2026, 1, 5), Price: costs(2900_00),
		Pay:    pay("500 on signing", "balance 30 days before the wedding"),
		Cancel: cancel("the deposit plus 50% of the rest until more than 30 days before the wedding", "100% after that"),
		Papers: papers("proof of insurance within 7 business days after signing"),
	})
	checkSteps(t, p, NoClosures{}, step{d(2026, 9, 9), Exactly(1700_00), Exactly(2900_00)})
	noDoubts(t, p, NoClosures{})
	items := scheduled(t, p, NoClosures{})
	if i := items["hall/pay-2"]; i.Date != d(2026, 9, 10) {
		t.Errorf("the fee is due %s", i.Date)
	}
	if i := items["hall/paper-1"]; i.Date != d(2026, 1, 14) {
		t.Errorf("the papers are due %s", i.Date)
	}
}

// Signal Hill, California (cityofsignalhill.org); the sums are ours.
func TestLeavingSignalHill(t *testing.T) {
	p := weddingOn(d(2026, 9, 12), Agreement{
		Signed: d(2026, 2, 2), Price: costs(1800_00), Pay: pay("300 on signing", "balance 60 days before the wedding"),
		Cancel: cancel("the deposit until 10 business days before the wedding",
			"50% until more than 5 business days before the wedding", "100% after that"),
	})
	labor := holidays{d(2026, 9, 7): "Labor Day"}
	checkSteps(t, p, labor,
		step{d(2026, 8, 28), Exactly(300_00), Exactly(900_00)},
		step{d(2026, 9, 3), Exactly(900_00), Exactly(1800_00)})
	noDoubts(t, p, labor)
	if i := scheduled(t, p, NoClosures{})["hall/cancel-1"]; i.Date != d(2026, 8, 31) {
		t.Errorf("without the holiday the first step ends on %s, want 31 Aug", i.Date)
	}
}

// San Diego Botanic Garden (sdbg.org).
func TestLeavingSanDiego(t *testing.T) {
	p := weddingOn(d(2026, 6, 6), Agreement{
		Signed: d(2025, 10, 1), Price: costs(7500_00),
		Pay: pay("1,000 on signing", "balance 90 days before the wedding", "security 500 with the balance"),
		Cancel: cancel("the deposit until 31 days before the wedding",
			"the first payment plus 50% of the rest until 15 days before the wedding", "100% after that"),
	})
	checkSteps(t, p, NoClosures{},
		step{d(2026, 5, 6), Exactly(1000_00), Exactly(4250_00)},
		step{d(2026, 5, 22), Exactly(4250_00), Exactly(7500_00)})
	noDoubts(t, p, NoClosures{})
	items := scheduled(t, p, NoClosures{})
	if i := items["hall/pay-2"]; i.Date != d(2026, 3, 8) || i.Amount != Exactly(6500_00) {
		t.Errorf("%s is due on %s", Currency("USD").Range(i.Amount), i.Date)
	}
	if i := items["hall/pay-3"]; i.Date != d(2026, 3, 8) || i.Amount != Exactly(500_00) {
		t.Errorf("security of %s is due on %s", Currency("USD").Range(i.Amount), i.Date)
	}
}

// Atlanta (atl311.com), where day 30 fits both sentences; the deposit is ours.
func TestLeavingAtlanta(t *testing.T) {
	p := weddingOn(d(2026, 9, 12), Agreement{
		Signed: d(2026, 2, 2), Price: costs(800_00), Pay: pay("100% on signing"),
		Cancel: cancel("400 until 30 days before the wedding", "800 from 30 days before the wedding"),
	})
	checkSteps(t, p, NoClosures{}, step{d(2026, 8, 13), Between(400_00, 800_00), Exactly(800_00)})
	asks(t, p, "2 steps hold on Thu 13 Aug 2026", "($400.00 to $800.00)")
}

// TCNJ catering (guestevents.tcnj.edu); the sum is ours. Summer time ends on
// 1 November, and two weeks are counted on the calendar all the same.
func TestLeavingTCNJ(t *testing.T) {
	p := weddingOn(d(2026, 11, 7), Agreement{
		Signed: d(2026, 2, 2), Price: costs(4000_00), Pay: pay("100% on the day"),
		Cancel: cancel("nothing until 2 weeks before the wedding", "50% until more than 48 hours before the wedding", "100% from 48 hours before the wedding"),
	})
	p.Wedding.Zone, p.Wedding.Start = "America/New_York", at(18, 0)
	checkSteps(t, p, NoClosures{},
		step{d(2026, 10, 24), Exactly(0), Exactly(2000_00)},
		step{d(2026, 11, 5), Exactly(2000_00), Exactly(4000_00)})
	noDoubts(t, p, NoClosures{})
	if i := scheduled(t, p, NoClosures{})["hall/cancel-2"]; i.Clock == nil || *i.Clock != (Clock{Hour: 17, Minute: 59}) {
		t.Errorf("half is lost until %s %v, want 17:59", i.Date, i.Clock)
	}
}

// Before the last day of a ladder, each COST of the plan file's language.
func TestCosts(t *testing.T) {
	rows := []struct {
		cost string
		want Amount
	}{
		{"nothing", Exactly(0)},
		{"25%", Exactly(250_00)},
		{"25% of the price", Exactly(250_00)},
		{"$75.50", Exactly(75_50)},
		{"the deposit", Exactly(200_00)},
		{"the first payment", Exactly(200_00)},
		{"50% of what has been paid", Exactly(250_00)},
		{"50% of what is unpaid", Exactly(250_00)},
		{"the deposit plus 50% of the rest", Exactly(600_00)},
		{"the deposit plus 25% plus 10% of the rest", Exactly(505_00)},
		{"100 plus 100% of what has been paid", Exactly(600_00)},
		{"the greater of 40% or 100% of what has been paid", Exactly(500_00)},
		{"the greater of 60% or 100% of what has been paid", Exactly(600_00)},
		{"the greater of 50 or the deposit", Exactly(200_00)},
		{"the retainer", Exactly(200_00)},
		{"half of the unpaid balance", Exactly(250_00)},
		{"greater of 10% or 50% of the rest", Exactly(500_00)},
	}
	for _, row := range rows {
		t.Run(row.cost, func(t *testing.T) {
			// On the last day 500 have been paid: 200 at signing, 300 early, and
			// not yet what was done on 1 September.
			early := done("30% 10 days before the wedding", d(2027, 7, 1), 300_00)
			p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00),
				Pay:    []Payment{pay("20% on signing")[0], early, {Line: Line{Says: "balance 2 days before the wedding", Done: d(2027, 9, 1)}}, pay("security 500 on signing")[0]},
				Cancel: cancel(row.cost+" until 60 days before the wedding", "100% after that")})
			checkSteps(t, p, NoClosures{}, step{d(2027, 7, 20), row.want, Exactly(1000_00)})
		})
	}
}

// What cannot be told without a price is not told; the rest is.
func TestCostsWithoutPrice(t *testing.T) {
	rows := []struct {
		cost string
		want Amount
	}{
		{"the deposit", Exactly(200_00)},
		{"100% of what has been paid", Exactly(200_00)},
		{"150 plus 50% of what has been paid", Exactly(250_00)},
		{"25%", Amount{}},
		{"the deposit plus 50% of the rest", Amount{}},
		{"50% of what is unpaid", Amount{}},
		{"the greater of 500 or 25%", Amount{}},
	}
	for _, row := range rows {
		t.Run(row.cost, func(t *testing.T) {
			p := wedding(Agreement{Signed: d(2026, 10, 2), Pay: pay("200 on signing", "balance on the day"),
				Cancel: cancel(row.cost+" until 60 days before the wedding", "100% after that")})
			checkSteps(t, p, NoClosures{}, step{d(2027, 7, 20), row.want, Amount{}})
		})
	}
}

// Gaps and overlaps are questions, with the low and the high answer.
func TestLadders(t *testing.T) {
	before := "nothing is said of leaving The Hall before the first step begins"
	after := "nothing is said of leaving The Hall after the last step ends"
	rows := []struct {
		why    string
		cancel []CancelStep
		asks   []string // in order; none: no doubt
	}{
		{"no lines", nil, []string{"says nothing about leaving it"}},
		{"until, until, after that", cancel("nothing until 2027-05-01", "50% until 2027-08-01", "100% after that"), nil},
		{"in other words", cancel("free of charge until 2027-05-01", "half until 2027-08-01", "thereafter everything"), nil},
		{"the same in another order", cancel("100% after that", "50% until 2027-08-01", "nothing until 2027-05-01"), nil},
		{"from, from: each ends where the next begins", cancel("nothing until 2027-04-30", "50% from 2027-05-01", "100% from 2027-08-02"), nil},
		{"until, from to, from", cancel("nothing until 2027-05-01", "50% from 2027-05-02 to 2027-08-01", "100% from 2027-08-02"), nil},
		{"after that follows a from to", cancel("nothing until 2027-05-01", "50% from 2027-05-02 to 2027-08-01", "100% after that"), nil},
		{"no end", cancel("nothing until 2027-05-01", "50% until 2027-08-01"), []string{after + ": it could cost the same, or the whole price ($500.00 to $1,000.00)"}},
		{"no end, but all is lost by then", cancel("nothing until 2027-05-01", "100% until 2027-08-01"), nil},
		{"no end before the wedding's", cancel("nothing until 2027-05-01", "50% until the wedding"), nil},
		{"no beginning", cancel("50% from 2027-05-01 to 2027-08-01", "100% after that"), []string{before + ": it could cost nothing, or what that step costs ($0.00 to $500.00)"}},
		{"no beginning, but it costs nothing", cancel("nothing from 2027-05-01 to 2027-08-01", "100% after that"), nil},
		{"a gap of a day", cancel("nothing until 2027-05-01", "50% from 2027-05-03"), []string{"nothing is said of leaving The Hall on Sun 2 May 2027: it could cost what the step before or the step after says ($0.00 to $500.00)"}},
		{"a gap after a beginning before signing", cancel("10% from 2026-01-01 to 2027-05-01", "50% from 2027-06-01"), []string{"from Sun 2 May 2027 to Mon 31 May 2027", "($100.00 to $500.00)"}},
		{"an overlap", cancel("10% until 2027-06-01", "50% from 2027-05-01"), []string{"2 steps hold from Sat 1 May 2027 to Tue 1 Jun 2027", "($100.00 to $500.00)"}},
		{"an overlap of the same cost", cancel("50% until 2027-06-01", "500 from 2027-05-01"), nil},
		{"two steps that end together", cancel("10% until 2027-06-01", "20% until 1 June 2027", "100% after that"), []string{"2 steps hold until Tue 1 Jun 2027", "($100.00 to $200.00)"}},
		{"an overlap of hours", cancel("10% until 48 hours before the wedding", "50% from 50 hours before the wedding"), []string{"2 steps hold from Thu 16 Sep 2027 14:30 to Thu 16 Sep 2027 16:30"}},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day"), Cancel: row.cancel})
			var all []string
			for _, q := range Questions(read(t, p), NoClosures{}) {
				all = append(all, q.Says)
			}
			got := strings.Join(all, "\n")
			if len(row.asks) == 0 && got != "" {
				t.Errorf("asked without need: %s", got)
			}
			for _, want := range row.asks {
				if !strings.Contains(got, want) {
					t.Errorf("not asked: %s\nbut: %s", want, got)
				}
			}
		})
	}
}

// A step without a day might hold on any day, and so might what follows it.
func TestLeavingBeforeAllIsKnown(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day"),
		Dates:  []NamedDate{{"invoice", Date{}}},
		Cancel: cancel("nothing until 2027-01-31", "25% until 30 days after invoice", "50% until 2027-06-30", "100% after that")})
	items := scheduled(t, p, NoClosures{})
	for id, want := range map[string]step{
		"hall/cancel-1": {d(2027, 1, 31), Between(0, 250_00), Between(250_00, 500_00)},
		"hall/cancel-2": {Date{}, Amount{}, Amount{}},
		"hall/cancel-3": {d(2027, 6, 30), Between(250_00, 500_00), Between(250_00, 1000_00)},
	} {
		if i := items[id]; i.Date != want.on || i.Amount != want.costs || i.Later != want.after {
			t.Errorf("%s: %s %v, then %v; want %+v", id, i.Date, i.Amount, i.Later, want)
		}
	}
	p.Agreements[0].Cancel = cancel("nothing until 2027-01-31", "25% until 30 days after invoice", "100% after that")
	if i := scheduled(t, p, NoClosures{})["hall/cancel-1"]; i.Later != Between(250_00, 1000_00) {
		t.Errorf("after the first step, leaving costs %v", i.Later)
	}
	if i := items["hall/cancel-2"]; i.WaitsFor != "the invoice of The Hall" {
		t.Errorf("the second step waits for %q", i.WaitsFor)
	}
}

// An open wedding date leaves the shape of a ladder to be asked about.
func TestLaddersWithoutDays(t *testing.T) {
	rows := []struct {
		cancel []CancelStep
		asks   int
	}{
		{cancel("nothing until 60 days before the wedding", "100% after that"), 0},
		{cancel("nothing until 60 days before the wedding"), 1},
		{cancel("50% from 60 days before the wedding"), 1},
		{cancel("50% from 60 days before the wedding to 30 days before the wedding"), 2},
	}
	for _, row := range rows {
		p := weddingOn(Date{}, Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day"), Cancel: row.cancel})
		if all := Questions(read(t, p), NoClosures{}); len(all) != row.asks {
			t.Errorf("%q: %d questions, want %d: %v", row.cancel[0].Says, len(all), row.asks, all)
		}
	}
}

// A step that ended before signing is no item, only a question.
func TestStepBeforeSigning(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day"),
		Cancel: cancel("nothing until 1 year before the wedding", "50% until 60 days before the wedding", "100% after that")})
	if i, made := scheduled(t, p, NoClosures{})["hall/cancel-1"]; made {
		t.Errorf("the step is an item on %s", i.Date)
	}
	asks(t, p, `"nothing until 1 year before the wedding" ended on Fri 18 Sep 2026`, "signed on Fri 2 Oct 2026")
	p.Agreements[0].Standing = Replaced
	noDoubts(t, p, NoClosures{})
	p.Agreements[0].Standing, p.Agreements[0].Cancel = Signed, cancel("10% until 2026-06-01", "50% from 2026-05-01")
	if all := Questions(read(t, p), NoClosures{}); len(all) != 1 {
		t.Errorf("of an overlap before signing only its end is asked about, not %v", all)
	}
}

// What follows is not said to follow nothing while what it follows is not
// understood.
func TestNothingFollowsFaults(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day"),
		Cancel: cancel("hlaf until 2027-05-03", "100% after that")})
	if says := refusal(t, p); !strings.Contains(says, `"hlaf"`) || strings.Contains(says, "follows nothing") {
		t.Error(says)
	}
}

func TestCancelRefused(t *testing.T) {
	rows := []struct{ says, want string }{
		{"50%", `stops too early; expected "until"`},
		{"50% untill 30 days before the wedding", `"untill" is not understood here; did you mean "until"?`},
		{"50% from 180 days to 91 days before the wedding", `"to" is not understood here; expected "before"`},
		{"a third until 2027-05-03", `at "third", write it as 33.33%`},
		{"half the price until 2027-05-03", `"the" is not understood here`},
		{"thereafter all of it", `"it" is not understood here`},
		{"the deposite until 2027-05-03", `"deposite" is not understood here; did you mean "deposit"?`},
		{"50% of the prize until 2027-05-03", `"prize" is not understood here; did you mean "price"?`},
		{"the greater of 500 until 2027-05-03", `"until" is not understood here; expected "or"`},
		{"the greater of 500 plus 5% or 3% until 2027-05-03", `at "plus", what is compared in "the greater of" is one cost each, without "plus"`},
		{"50% from 2027-05-03 til 2027-06-03", `"til" is not understood here; expected "to"`},
		{"50% from 2027-05-03 to", `stops too early`},
		{"50% plus until 2027-05-03", `"until" is not understood here; expected "nothing"`},
		{"120% until 2027-05-03", `at "120%", "120%" is more than the whole`},
		{"50% after this", `"this" is not understood here; did you mean "that"?`},
		{"50% after that and more", `"and" is not understood here`},
		{"50% after that", `"50% after that" follows nothing; write a step that ends before it`},
		{"thereafter everything", `"thereafter everything" follows nothing; write a step that ends before it`},
	}
	for _, row := range rows {
		t.Run(row.says, func(t *testing.T) {
			p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day"), Cancel: cancel(row.says)})
			if says := refusal(t, p); !strings.Contains(says, row.want) {
				t.Errorf("%s\nwant %s", says, row.want)
			}
		})
	}
}

// Hours and a zone may end a step; what was understood can be read back.
func TestCancelPhrases(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day"), Cancel: cancel(
		"nothing until 3 May 2027 by noon",
		"25% from 90 days prior to the wedding to 31 days prior to the wedding by 17:00 America/Chicago",
		"100% thereafter")})
	steps := read(t, p).Agreements[0].Cancel
	got := []string{steps[0].Until.Says, steps[1].From.Says, steps[1].Until.Says}
	want := []string{"3 May 2027 by noon", "90 days prior to the wedding", "31 days prior to the wedding by 17:00 America/Chicago"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if i := scheduled(t, p, NoClosures{})["hall/cancel-2"]; i.Clock == nil || i.Clock.Hour != 17 || i.Zone != "America/Chicago" {
		t.Errorf("the second step ends at %v in %s", i.Clock, i.Zone)
	}
}
