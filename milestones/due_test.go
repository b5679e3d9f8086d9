package milestones

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// duePlan has a payment of every standing and state.
func duePlan() *Plan {
	p := wedding(
		Agreement{Key: "hall", Signed: d(2026, 10, 2), Price: costs(1000_00), Payer: "bea", Pay: []Payment{
			done("20% on signing", d(2026, 11, 3), 200_00), pay("30% on 2027-03-31")[0], pay("balance on the day")[0],
			{Line: Line{Says: "security 400 with the balance, back on 2027-10-02"}}}},
		Agreement{Key: "tent", Signed: d(2026, 10, 2), Price: costs(500_00), Dates: []NamedDate{{"invoice", Date{}}}, Pay: pay("balance 10 days after invoice")},
		Agreement{Key: "film", Standing: Quoted, Price: costs(700_00), Pay: pay("100 on 2026-12-01", "balance on the day")},
		Agreement{Key: "quartet", Standing: Replaced, Signed: d(2026, 1, 1), Price: costs(300_00), Pay: []Payment{
			done("100 on signing", d(2026, 1, 1), 100_00), {Line: Line{Says: "50 on 2027-04-01", Owed: true}}, pay("balance on the day")[0],
			{Line: Line{Says: "security 90 on signing, back on 2027-02-01", Done: d(2026, 1, 1), CameBack: d(2027, 2, 3)}}}},
	)
	p.People = []Person{{Key: "bea", Name: "Bea"}, {Key: "maren", Name: "Maren", Part: Couple}}
	return p
}

// told is a tally as "paid+overdue+open+undated" in whole units.
func told(t Tally) string {
	var all []string
	for _, a := range []Amount{t.Paid, t.Overdue, t.Open, t.Undated} {
		all = append(all, strings.ReplaceAll(strings.ReplaceAll(Currency("USD").Range(a), ".00", ""), "$", ""))
	}
	return strings.Join(all, "+")
}

func TestDue(t *testing.T) {
	rows := []struct {
		on   Date
		by   Grouping
		want []string // group: payments, security, back
	}{
		// On its own day a payment is not late yet: "on or before" includes it (common practice).
		{d(2027, 3, 31), "", []string{"all: 200+0+850+500, 0+0+400+0, 90+0+400+0"}},
		{d(2027, 4, 1), "", []string{"all: 200+300+550+500, 0+0+400+0, 90+0+400+0"}},
		{d(2027, 10, 3), "", []string{"all: 200+850+0+500, 0+400+0+0, 90+400+0+0"}},
		{d(2027, 4, 1), ByMonth, []string{
			"2026-11: 200+0+0+0, 0+0+0+0, 0+0+0+0", "2027-02: 0+0+0+0, 0+0+0+0, 90+0+0+0", "2027-03: 0+300+0+0, 0+0+0+0, 0+0+0+0",
			"2027-04: 0+0+50+0, 0+0+0+0, 0+0+0+0", "2027-09: 0+0+500+0, 0+0+400+0, 0+0+0+0", "2027-10: 0+0+0+0, 0+0+0+0, 0+0+400+0",
			": 0+0+0+500, 0+0+0+0, 0+0+0+0", "all: 200+300+550+500, 0+0+400+0, 90+0+400+0"}},
		{d(2027, 4, 1), ByPayer, []string{
			"couple: 0+0+50+500, 0+0+0+0, 90+0+0+0", "bea: 200+300+500+0, 0+0+400+0, 0+0+400+0", "all: 200+300+550+500, 0+0+400+0, 90+0+400+0"}},
		{d(2027, 4, 1), ByAgreement, []string{
			"hall: 200+300+500+0, 0+0+400+0, 0+0+400+0", "tent: 0+0+0+500, 0+0+0+0, 0+0+0+0", "quartet: 0+0+50+0, 0+0+0+0, 90+0+0+0",
			"all: 200+300+550+500, 0+0+400+0, 90+0+400+0"}},
	}
	for _, row := range rows {
		p := duePlan()
		owing := Due(p, Schedule(read(t, p), NoClosures{}), row.on, row.by)
		var got []string
		for _, g := range owing.Groups {
			got = append(got, fmt.Sprintf("%s: %s, %s, %s", g.Group, told(g.Payments), told(g.Security), told(g.Back)))
		}
		got = append(got, fmt.Sprintf("all: %s, %s, %s", told(owing.All.Payments), told(owing.All.Security), told(owing.All.Back)))
		if !slices.Equal(got, row.want) {
			t.Errorf("by %q on %s:\n%s\nwant\n%s", row.by, row.on, strings.Join(got, "\n"), strings.Join(row.want, "\n"))
		}
		// What is only quoted is never late: nothing of it is owed.
		if quoted := told(owing.Quoted.Payments); quoted != "0+0+700+0" {
			t.Errorf("quoted are %s", quoted)
		}
	}
}

// A sum that waits for something counts for what it is at least.
func TestDueWithoutSums(t *testing.T) {
	head := Money(100_00)
	p := wedding(Agreement{Key: "a", Signed: d(2026, 10, 2), Pay: pay("200 on signing", "balance on the day")},
		Agreement{Key: "b", Signed: d(2026, 10, 2), Price: Price{Each: &head, AtLeast: 10, AtMost: 12}, Pay: pay("balance on the day")})
	owing := Due(p, Schedule(read(t, p), NoClosures{}), d(2026, 10, 2), ByAgreement)
	want := map[string]string{"a": "at least $200.00", "b": "$1,000.00 to $1,200.00"}
	for _, g := range owing.Groups {
		if got := Currency("USD").Range(g.Payments.Total()); got != want[g.Group] {
			t.Errorf("%s comes to %s, want %s", g.Group, got, want[g.Group])
		}
	}
	if got := Currency("USD").Range(owing.All.Payments.Total()); got != "at least $1,200.00" {
		t.Errorf("all come to %s", got)
	}
}

// Whatever the plan, the totals are the sum of the items, and so are the
// groups, to the cent.
func TestDueSumsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var agreements []Agreement
		for i := range rapid.IntRange(1, 4).Draw(t, "agreements") {
			price := Money(rapid.Int64Range(100, 1e9).Draw(t, "price"))
			a := Agreement{Key: fmt.Sprintf("a%d", i), Signed: d(2025, 10, 2), Price: costs(price), Pay: somePayments(t, price),
				Standing: rapid.SampledFrom(Standings).Draw(t, "standing"), Payer: rapid.SampledFrom([]string{"", "bea"}).Draw(t, "payer")}
			if rapid.Bool().Draw(t, "security") {
				a.Pay = append(a.Pay, pay("security 500 on the day, back within 2 weeks after the wedding")...)
			}
			for n := range a.Pay {
				a.Pay[n].Owed = rapid.Bool().Draw(t, "owed")
			}
			agreements = append(agreements, a)
		}
		p := wedding(agreements...)
		p.People = []Person{{Key: "bea"}}
		if faults, _ := p.Read(); len(faults) > 0 {
			t.Fatal(faults)
		}
		items := Schedule(p, NoClosures{})
		sum, quoted := Exactly(0), Exactly(0)
		for _, i := range items {
			switch {
			case i.Kind != KindPayment && i.Kind != KindRefund:
			case i.Standing == Quoted:
				quoted = quoted.Plus(i.Amount)
			case i.Standing == Signed || i.Owed || i.Kind == KindRefund:
				sum = sum.Plus(i.Amount)
			}
		}
		whole := func(g Dues) Amount { return g.Payments.Total().Plus(g.Security.Total()).Plus(g.Back.Total()) }
		for _, by := range []Grouping{"", ByMonth, ByPayer, ByAgreement} {
			owing := Due(p, items, anyDate(2026, 2028).Draw(t, "on"), by)
			if whole(owing.All) != sum || whole(owing.Quoted) != quoted {
				t.Fatalf("%+v is not the sum of the items, %v, and %v quoted", owing, sum, quoted)
			}
			groups := Exactly(0)
			for _, g := range owing.Groups {
				groups = groups.Plus(whole(g))
			}
			if by != "" && groups != sum {
				t.Fatalf("by %s the groups sum to %v, not %v", by, groups, sum)
			}
		}
	})
}
