package milestones

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// lists are the lists of all, in order.
func lists(all []Sense) string {
	var in []string
	for _, r := range all {
		in = append(in, string(r.In))
	}
	return strings.Join(in, " ")
}

// A phrase without a plan is read in every list it could stand in, the
// likeliest first.
func TestSenses(t *testing.T) {
	rows := []struct{ says, in, phrase string }{
		{"the balance, fourteen (14) days prior to our wedding", "pay change", "balance 14 days before the wedding"},
		{"25% upon execution", "pay change", "25% on execution"},
		{"security deposit of $500 with the final payment, returned within 2 weeks after the wedding", "pay change", "security 500 with the final payment, back 2 weeks after the wedding"},
		{"three equal monthly payments from 1 March 2027", "pay", "3 equal payments monthly from 2027-03-01"},
		{"the deposit plus 50% of rest until 15 days before the wedding", "cancel", "the first payment plus 50% of the rest until 15 days before the wedding"},
		{"100% thereafter", "cancel", "100% after that"},
		{"for 500, once", "postpone", "once, for 500"},
		{"no later than 10 working days before the wedding at 5 pm", "timing", "10 business days before the wedding by 17:00"},
		{"final headcount 10 days before the wedding", "change", "final headcount 10 days before the wedding"},
		{"on invoice", "timing", "on invoice"},
		{"3 days after final headcount", "timing", "3 days after final headcount"},
		{"£500 on signing", "pay change", "500 on signing"},
	}
	for _, row := range rows {
		t.Run(row.says, func(t *testing.T) {
			all, refused := Senses(nil, nil, "", row.says)
			if lists(all) != row.in {
				t.Fatalf("read in %q, want %q; %+v", lists(all), row.in, refused)
			}
			if all[0].Phrase != row.phrase || len(all[0].Pieces) == 0 || all[0].Items != nil {
				t.Errorf("%+v, want %q", all[0], row.phrase)
			}
		})
	}
}

// The refusal that is shown is the one that came furthest, and points at the
// word.
func TestSensesRefused(t *testing.T) {
	rows := []struct {
		says, at string
		in       List
		why      string
	}{
		{"balance 14 dais before the wedding", "dais", PayList, `did you mean "days"?`},
		{"50% from 2027-05-03 til 2027-06-03", "til", CancelList, `expected "to"`},
		{"final headcount", "", ChangeList, "stops too early"},
		{"final headcount 3 by 10 days before the wedding", "3", ChangeList, "the timing seems to begin here"},
		{"balance 2027-05-03", "2027-05-03", PayList, `a date needs "on" or "by"`},
		{"with 60 days notise", "notise", PostponeList, `did you mean "notice"?`},
		{"10 bussiness days before the wedding", "bussiness", TimingList, `did you mean "business"?`},
		{"balance, 14 days,  before the weding, by 17:00 EST.", "EST", PayList, "a time zone needs its full name"},
		{"", "", ChangeList, "there is nothing here"},
		{strings.Repeat("a", phraseMost+1), "a", PayList, "longer than 500 letters"},
	}
	for _, row := range rows {
		t.Run(row.says, func(t *testing.T) {
			all, refused := Senses(nil, nil, "", row.says)
			if len(all) > 0 {
				t.Fatalf("read in %s", lists(all))
			}
			r := refused[0]
			if got := row.says[r.From:r.To]; got != row.at || r.In != row.in || !strings.Contains(r.Says+r.Mend, row.why) {
				t.Errorf("as %s at %q: %s; %s", r.In, got, r.Says, r.Mend)
			}
		})
	}
}

// placedPlan has an agreement to read phrases in.
func placedPlan(t *testing.T) *Plan {
	return read(t, wedding(Agreement{Key: "hall", With: "The Hall", Signed: d(2026, 10, 2), Price: costs(1000_00),
		Pay:    pay("25% on signing", "balance 14 days before the wedding"),
		Cancel: cancel("nothing until 181 days before the wedding", "100% after that"),
		Change: change("final headcount 10 business days before the wedding"),
		Papers: papers("menu with final headcount")}))
}

// In a plan the same Schedule dates and sums a phrase that makes its items.
func TestSenseInAPlan(t *testing.T) {
	rows := []struct {
		in     List
		says   string
		stands string
		day    Date // of the first item
		sum    string
	}{
		{PayList, "25% on execution", "hall/pay-1", d(2026, 10, 2), "$250.00"},
		{PayList, "40% 120 days before the wedding", "", d(2027, 5, 21), "$400.00"},
		{PayList, "balance two weeks before the wedding", "", d(2027, 9, 4), "$750.00"},
		{PayList, "the remainder fourteen days before the wedding", "hall/pay-2", d(2027, 9, 4), "$750.00"},
		{PayList, "50% of the rest 30 days before the wedding", "", d(2027, 8, 19), "$375.00"},
		{PayList, "3 equal payments monthly from 2027-01-31", "", d(2027, 1, 31), "$250.00"},
		{PayList, "security 500 with the balance", "", d(2027, 9, 4), "$500.00"},
		{CancelList, "100% of what has been paid until 2027-05-03", "", d(2027, 5, 3), "$250.00"},
		{CancelList, "NOTHING up to 181 days prior to the wedding", "hall/cancel-1", d(2027, 3, 21), "$0.00"},
		{ChangeList, "Final Headcount ten working days before the wedding", "hall/change-1", d(2027, 9, 3), ""},
		{ChangeList, "wine 3 days after final headcount", "", d(2027, 9, 6), ""},
		{PapersList, "menu with final headcount", "hall/paper-1", d(2027, 9, 3), ""},
		{PostponeList, "with 60 days' notice", "", d(2027, 7, 20), ""},
		{TimingList, "10 business days before the wedding", "", d(2027, 9, 3), ""},
	}
	for _, row := range rows {
		t.Run(row.says, func(t *testing.T) {
			p := placedPlan(t)
			before := Schedule(p, laborDays)
			r, no := SenseAs(p, laborDays, "hall", row.in, row.says)
			if no != nil {
				t.Fatalf("%+v", no)
			}
			i := r.Items[0]
			sum := ""
			switch {
			case row.in == CancelList:
				sum = Currency("USD").Range(r.Cost)
			case i.Kind == KindPayment:
				sum = Currency("USD").Range(i.Amount)
			}
			if r.Stands != row.stands || i.Date != row.day || sum != row.sum {
				t.Errorf("%q, %s, %s", r.Stands, i.Words(), sum)
			}
			if diff := cmp.Diff(before, Schedule(p, laborDays)); diff != "" {
				t.Errorf("reading changed the plan:\n%s", diff)
			}
		})
	}
}

// Steps that name no last day cost what they do on their first, or on the day.
func TestSenseOfStepsWithoutAnEnd(t *testing.T) {
	for says, want := range map[string]Date{
		"100% of what has been paid from 2027-05-03": d(2027, 5, 3), "50% after that": d(2027, 9, 18)} {
		r, no := SenseAs(placedPlan(t), laborDays, "hall", CancelList, says)
		if no != nil || r.CostOn != want || !r.Cost.Known || len(r.Items) > 0 {
			t.Errorf("%q: %+v, %v", says, r, no)
		}
	}
}

// Without an agreement, names of the whole plan are known, its own are not.
func TestSenseOutsideAgreements(t *testing.T) {
	p := placedPlan(t)
	r, no := SenseAs(p, laborDays, "", TimingList, "3 days after final headcount")
	if no != nil || r.Pieces[0].Day.Date != d(2027, 9, 6) || len(r.Items) > 0 {
		t.Errorf("%+v, %+v", r, no)
	}
	if _, no := SenseAs(p, laborDays, "", PayList, "25% 3 days after the deposit"); no == nil || no.Says != `nothing here is called "deposit"` || no.From != 21 {
		t.Errorf("%+v", no)
	}
	r, no = SenseAs(p, laborDays, "", PayList, "25% on signing")
	if no != nil || r.Pieces[1].Day.WaitsFor != "the signing of the agreement" {
		t.Errorf("%+v, %+v", r, no)
	}
}

// Whatever the demo plan says, the sense of it stands where it was said, and
// has the days of the plan's own items.
func TestEveryDemoPhraseIsFoundAgain(t *testing.T) {
	good := goodPhrases(demoPhrases(t))
	for list, phrases := range good {
		for _, says := range phrases {
			a := Agreement{Signed: d(2026, 10, 2), Price: costs(10_000_00)}
			switch list {
			case "pay":
				a.Pay = pay(says)
			case "cancel":
				a.Cancel = cancel(says)
			case "change":
				a.Change = change(says)
			case "papers":
				a.Papers = papers(says)
			}
			p := read(t, wedding(a))
			r, no := SenseAs(p, NoClosures{}, "hall", List(list), says)
			if no != nil || r.Stands == "" {
				t.Errorf("%q in %s: %+v, %+v", says, list, r, no)
				continue
			}
			own := slices.DeleteFunc(Schedule(p, NoClosures{}), func(i Item) bool { return i.Term == "" })
			if diff := cmp.Diff(own, r.Items, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("%q in %s:\n%s", says, list, diff)
			}
		}
	}
}
