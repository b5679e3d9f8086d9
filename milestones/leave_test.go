package milestones

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// leavingOn is what leaving each agreement of p costs on a day, by key.
func leavingOn(t testing.TB, p *Plan, on Date, at *Clock) map[string]Leave {
	t.Helper()
	from, to := read(t, p).Minutes(on, at)
	all := map[string]Leave{}
	for _, one := range Leaving(p, NoClosures{}, from, to) {
		all[one.Agreement] = one
	}
	return all
}

// What was paid comes back where leaving costs less, and what was not has to
// be paid where it costs more; never both, and neither below nothing.
func TestLeavingApart(t *testing.T) {
	a := Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00),
		Pay: []Payment{done("20% on signing", d(2026, 10, 5), 200_00), pay("40% 120 days before the wedding")[0], pay("balance on the day")[0],
			pay("security 300 on signing")[0]},
		Cancel: cancel("10% until 2027-03-31", "50% until 2027-08-31", "100% after that")}
	rows := []struct {
		on                      Date
		cost, paid, toPay, back Money
	}{
		{d(2026, 10, 2), 100_00, 200_00, 0, 100_00}, // due, if not done yet
		{d(2027, 3, 31), 100_00, 200_00, 0, 100_00},
		{d(2027, 4, 1), 500_00, 200_00, 300_00, 0},
		{d(2027, 5, 20), 500_00, 200_00, 300_00, 0},
		{d(2027, 5, 21), 500_00, 600_00, 0, 100_00}, // 120 days before
		{d(2027, 9, 1), 1000_00, 600_00, 400_00, 0},
		{d(2027, 9, 18), 1000_00, 1000_00, 0, 0},
	}
	for _, row := range rows {
		got := leavingOn(t, wedding(a), row.on, nil)["hall"]
		want := Leave{"hall", "The Hall", Exactly(row.cost), Exactly(row.paid), Exactly(row.toPay), Exactly(row.back), nil}
		if got.Cost != want.Cost || got.Paid != want.Paid || got.ToPay != want.ToPay || got.Back != want.Back || len(got.Questions) > 0 {
			t.Errorf("on %s: %+v\nwant %+v", row.on, got, want)
		}
	}
}

// What has no price yet hides nothing of what the others cost.
func TestLeavingTogether(t *testing.T) {
	known, open, none := Leave{Cost: Exactly(300), Paid: Exactly(100), ToPay: Exactly(200), Back: Exactly(0)}, Leave{Cost: AtLeast(50), Paid: Exactly(50)}, Leave{}
	for _, row := range []struct {
		each []Leave
		want Amount
	}{
		{nil, Exactly(0)},
		{[]Leave{known, known}, Exactly(600)},
		{[]Leave{known, none}, AtLeast(300)},
		{[]Leave{none, open, known}, AtLeast(350)},
		{[]Leave{none, none}, Amount{}},
	} {
		got := Together(row.each).Cost
		if got.Known != row.want.Known || got.Known && got != row.want {
			t.Errorf("%v together are %+v, want %+v", row.each, got, row.want)
		}
	}
}

// Without an hour, a day on which a cost changes has a low and a high; what
// is due that day counts from its first minute.
func TestLeavingWithinADay(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("50% on 2027-05-03", "balance on the day"),
		Cancel: cancel("nothing until 2027-05-03 by noon", "100% of what has been paid until 2027-06-30", "100% after that")})
	rows := []struct {
		at         *Clock
		cost, back Amount
	}{
		{nil, Between(0, 500_00), Between(0, 500_00)},
		{at(0, 0), Exactly(0), Exactly(500_00)},
		{at(12, 0), Exactly(0), Exactly(500_00)},
		{at(12, 1), Exactly(500_00), Exactly(0)},
		{at(23, 59), Exactly(500_00), Exactly(0)},
	}
	for _, row := range rows {
		if got := leavingOn(t, p, d(2027, 5, 3), row.at)["hall"]; got.Cost != row.cost || got.Back != row.back {
			t.Errorf("at %v leaving costs %v, and %v comes back; want %v and %v", row.at, got.Cost, got.Back, row.cost, row.back)
		}
	}
}

// The last minute of a day belongs to it.
func TestLeavingInTheLastMinute(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day"),
		Cancel: cancel("nothing until 2027-05-03 by 23:58", "100% after that")})
	if got := leavingOn(t, p, d(2027, 5, 3), nil)["hall"].Cost; got != Between(0, 1000_00) {
		t.Errorf("leaving costs %v that day", got)
	}
}

// A step over which the cost stays, and something is paid within it, says so.
func TestLeavingStepOverAPayment(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("20% on signing", "balance on 2027-05-03"),
		Cancel: cancel("500 until the wedding")})
	steps := LeavingSteps(read(t, p), NoClosures{}, d(2027, 5, 1), d(2027, 5, 31))
	if len(steps) != 1 || steps[0].Each[0].Paid != Between(200_00, 1000_00) || steps[0].Each[0].Back != Between(0, 500_00) {
		t.Errorf("%+v", steps)
	}
}

// Only what is signed by then, and holds, is left.
func TestLeavingStandings(t *testing.T) {
	signed := func(key string, s Standing, on Date) Agreement {
		return Agreement{Key: key, Standing: s, Signed: on, Price: costs(100_00), Pay: pay("balance on the day"), Cancel: cancel("50% until the wedding")}
	}
	p := wedding(signed("a", Signed, d(2026, 10, 2)), signed("b", Quoted, Date{}), signed("c", Replaced, d(2026, 1, 1)),
		signed("d", Ended, d(2026, 1, 1)), signed("e", Signed, d(2026, 10, 3)))
	for on, want := range map[Date]string{d(2026, 10, 1): "[]", d(2026, 10, 2): "[a]", d(2026, 10, 3): "[a e]"} {
		from, to := read(t, p).Minutes(on, nil)
		keys := []string{}
		all := Leaving(p, NoClosures{}, from, to)
		for _, one := range all {
			keys = append(keys, one.Agreement)
		}
		if got := fmt.Sprint(keys); got != want || Together(all).Cost != Exactly(Money(len(keys))*50_00) {
			t.Errorf("on %s %s are left for %v, want %s", on, got, Together(all).Cost, want)
		}
	}
}

// What is asked beside a cost is about that day, and asked once.
func TestLeavingQuestions(t *testing.T) {
	head := Money(100_00)
	rows := []struct {
		why  string
		a    Agreement
		on   Date
		cost Amount
		asks []string
	}{
		{"no doubt that day", Agreement{Price: costs(1000_00), Cancel: cancel("10% until 2027-06-01", "50% from 2027-05-01")}, d(2027, 4, 30), Exactly(100_00), nil},
		{"an overlap", Agreement{Price: costs(1000_00), Cancel: cancel("10% until 2027-06-01", "50% from 2027-05-01")}, d(2027, 5, 1), Between(100_00, 500_00), []string{"2 steps hold from Sat 1 May 2027"}},
		{"a gap", Agreement{Price: costs(1000_00), Cancel: cancel("10% until 2027-05-01", "50% from 2027-05-03")}, d(2027, 5, 2), Between(100_00, 500_00), []string{"nothing is said of leaving The Hall on Sun 2 May 2027"}},
		{"no lines", Agreement{Price: costs(1000_00)}, d(2027, 5, 2), Between(0, 1000_00), []string{"says nothing about leaving it"}},
		{"no lines and no price", Agreement{}, d(2027, 5, 2), Amount{}, []string{"says nothing about leaving it", "the price of The Hall is not known yet"}},
		{"a share of no price", Agreement{Cancel: cancel("50% until 2027-06-01")}, d(2027, 5, 2), Amount{}, []string{"the price of The Hall is not known yet"}},
		{"a sum needs no price", Agreement{Cancel: cancel("500 until 2027-06-01")}, d(2027, 5, 2), Exactly(500_00), nil},
		{"not counted yet", Agreement{Price: Price{Each: &head, AtLeast: 10, AtMost: 20}, Cancel: cancel("50% until 2027-06-01")}, d(2027, 5, 2), Between(500_00, 1000_00), []string{"waits for the number of guests"}},
		{"not counted, and all the same", Agreement{Price: Price{Each: &head, AtLeast: 10, AtMost: 20}, Cancel: cancel("500 until 2027-06-01")}, d(2027, 5, 2), Exactly(500_00), nil},
		{"a step without a day", Agreement{Price: costs(1000_00), Dates: []NamedDate{{"invoice", Date{}}}, Cancel: cancel("10% until invoice", "50% after that")}, d(2027, 5, 2), Between(100_00, 500_00), []string{`"10% until invoice" has no day yet: it waits for the invoice`}},
		{"the end that might be meant otherwise is near", Agreement{Price: costs(1000_00), Cancel: cancel("10% until within 30 days of 2027-05-01", "50% after that")}, d(2027, 4, 2), Exactly(500_00), []string{"does not say which side it means"}},
		{"and far behind", Agreement{Price: costs(1000_00), Cancel: cancel("10% until within 30 days of 2027-05-01", "50% until 2027-06-01", "100% after that")}, d(2027, 6, 2), Exactly(1000_00), nil},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			row.a.Signed = d(2026, 10, 2)
			got := leavingOn(t, wedding(row.a), row.on, nil)["hall"]
			if got.Cost != row.cost && (got.Cost.Known || row.cost.Known) {
				t.Errorf("costs %v, want %v", got.Cost, row.cost)
			}
			if len(got.Questions) != len(row.asks) {
				t.Fatalf("asks %q, want %q", got.Questions, row.asks)
			}
			for n, want := range row.asks {
				if !strings.Contains(got.Questions[n], want) {
					t.Errorf("asks %q, want %q", got.Questions[n], want)
				}
			}
		})
	}
}

// By the head with no most, a cost that follows the price has a low alone.
func TestLeavingWithoutACount(t *testing.T) {
	head := Money(100_00)
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: Price{Each: &head, AtLeast: 10}, Pay: pay("200 on signing", "balance on the day"),
		Cancel: cancel("the deposit until 2027-05-01", "50% of what is unpaid until 2027-06-01", "the greater of 700 or 50% until 2027-07-01", "100% after that")})
	for on, want := range map[Date]string{
		d(2027, 5, 1): "$200.00, $0.00 to pay, $0.00 back", d(2027, 5, 2): "at least $400.00, at least $200.00 to pay, $0.00 back",
		d(2027, 6, 2): "at least $700.00, at least $500.00 to pay, $0.00 back", d(2027, 9, 18): "at least $1,000.00, $0.00 to pay, $0.00 back",
	} {
		one, usd := leavingOn(t, p, on, nil)["hall"], Currency("USD")
		if got := fmt.Sprintf("%s, %s to pay, %s back", usd.Range(one.Cost), usd.Range(one.ToPay), usd.Range(one.Back)); got != want {
			t.Errorf("on %s: %s, want %s", on, got, want)
		}
	}
	i := scheduled(t, p, NoClosures{})["hall/cancel-1"]
	if got := Currency("USD").Range(i.Saves); got != "at least $200.00" {
		t.Errorf("leaving by then saves %s", got)
	}
}

// What the last day of a step saves is what the next costs more.
func TestSaves(t *testing.T) {
	rows := []struct {
		cancel []CancelStep
		want   Amount
	}{
		{cancel("nothing until 2027-05-01", "50% after that"), Exactly(500_00)},
		{cancel("25% until 2027-05-01", "100% after that"), Exactly(750_00)},
		{cancel("50% until 2027-05-01", "25% after that"), Exactly(0)},
		{cancel("25% until 2027-05-01", "50% from 2027-05-01"), Amount{}},
		{cancel("25% until 2027-05-01"), Amount{}},
	}
	for _, row := range rows {
		p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on the day"), Cancel: row.cancel})
		if got := scheduled(t, p, NoClosures{})["hall/cancel-1"].Saves; got != row.want {
			t.Errorf("%q saves %v, want %v", row.cancel[0].Says, got, row.want)
		}
	}
}

func TestLeavingSteps(t *testing.T) {
	p := wedding(
		Agreement{Key: "hall", Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("20% on signing", "balance on the day"),
			Cancel: cancel("nothing until 2027-03-31", "50% until 2027-08-31 by noon", "100% after that")},
		Agreement{Key: "band", Signed: d(2027, 1, 5), Price: costs(600_00), Pay: pay("200 on 2027-06-01", "balance on the day"),
			Cancel: cancel("100% of what has been paid until the wedding")})
	var got []string
	for _, s := range LeavingSteps(read(t, p), NoClosures{}, d(2026, 12, 1), d(2027, 9, 17)) {
		line := s.From.String() + " to " + s.To.String()
		for _, one := range s.Each {
			line += ", " + one.Agreement + " " + Currency("USD").Range(one.Cost)
		}
		got = append(got, line)
	}
	want := []string{
		"2026-12-01 to 2027-01-04, hall $0.00",
		"2027-01-05 to 2027-03-31, hall $0.00, band $0.00",
		"2027-04-01 to 2027-05-31, hall $500.00, band $0.00",
		"2027-06-01 to 2027-08-30, hall $500.00, band $200.00",
		"2027-08-31 to 2027-08-31, hall $500.00 to $1,000.00, band $200.00",
		"2027-09-01 to 2027-09-17, hall $1,000.00, band $200.00",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// someLadder is an agreement that may be left at costs of any form, and the
// most that its terms allow: the price, or the largest sum of their own.
func someLadder(t *rapid.T) (a Agreement, most Money) {
	price := Money(rapid.Int64Range(100, 1e9).Draw(t, "price"))
	a, most = Agreement{Signed: d(2025, 10, 2), Price: costs(price), Pay: somePayments(t, price)}, price
	for range rapid.IntRange(0, 5).Draw(t, "steps") {
		share := func() string { return Percent(rapid.Int64Range(0, int64(Whole)).Draw(t, "share")).String() }
		sum := Money(rapid.Int64Range(0, 2e9).Draw(t, "sum"))
		cost := rapid.SampledFrom([]string{"nothing", share(), share() + " of what has been paid", share() + " of what is unpaid", "the deposit",
			"the deposit plus " + share() + " of the rest", "the greater of " + share() + " or the deposit", Currency("USD").Plain(sum)}).Draw(t, "cost")
		if cost == Currency("USD").Plain(sum) {
			most = max(most, sum)
		}
		when := rapid.SampledFrom([]string{" until %s", " from %s", " until %s by noon"}).Draw(t, "when")
		a.Cancel = append(a.Cancel, cancel(cost+fmt.Sprintf(when, anyDate(2026, 2027).Draw(t, "edge")))...)
	}
	return a, most
}

// Leaving never costs less than nothing, nor more than the terms allow, and
// what is paid, to be paid and to come back make it.
func TestLeavingWithinBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, most := someLadder(t)
		p := wedding(a)
		if faults, _ := p.Read(); len(faults) > 0 {
			t.Fatal(faults)
		}
		minute := Clock{Hour: rapid.IntRange(0, 23).Draw(t, "hour")}
		from, to := p.Minutes(anyDate(2025, 2028).Draw(t, "day"), &minute)
		for _, one := range Leaving(p, NoClosures{}, from, to) {
			for what, sum := range map[string]Amount{"cost": one.Cost, "paid": one.Paid, "to pay": one.ToPay, "back": one.Back} {
				if !sum.Known || sum.Low < 0 || sum.High < sum.Low || sum.High > most {
					t.Fatalf("%s is %v, and at most %d", what, sum, most)
				}
			}
			if _, exact := one.Cost.Exact(); exact && one.Paid.Low+one.ToPay.Low-one.Back.Low != one.Cost.Low {
				t.Fatalf("what is paid, to pay and back does not make the cost: %+v", one)
			}
		}
	})
}

// Where each step costs at least what the one before does, leaving never
// costs less for waiting.
func TestLeavingNeverFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "steps")
		shares := rapid.SliceOfN(rapid.Int64Range(0, int64(Whole)), n+1, n+1).Draw(t, "shares")
		days := rapid.SliceOfNDistinct(rapid.IntRange(1, 400), n, n, rapid.ID[int]).Draw(t, "days")
		slices.Sort(shares)
		slices.SortFunc(days, func(a, b int) int { return b - a })
		a := Agreement{Signed: d(2026, 1, 2), Price: costs(Money(rapid.Int64Range(1, 1e9).Draw(t, "price"))), Pay: pay("balance on the day")}
		for i, before := range days {
			a.Cancel = append(a.Cancel, cancel(fmt.Sprintf("%s until %d days before the wedding", Percent(shares[i]), before))...)
		}
		a.Cancel = append(a.Cancel, cancel(Percent(shares[n]).String()+" after that")...)
		p := wedding(a)
		if faults, _ := p.Read(); len(faults) > 0 {
			t.Fatal(faults)
		}
		last := Exactly(0)
		for _, s := range LeavingSteps(p, NoClosures{}, d(2026, 7, 1), d(2027, 9, 18)) {
			cost := Together(s.Each).Cost
			if _, exact := cost.Exact(); !exact || cost.Low < last.Low {
				t.Fatalf("from %s leaving costs %v, and %v before", s.From, cost, last)
			}
			last = cost
		}
	})
}

// Steps leave out no day, and say what each of their days does.
func TestLeavingStepsAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, _ := someLadder(t)
		p := wedding(a)
		if faults, _ := p.Read(); len(faults) > 0 {
			t.Fatal(faults)
		}
		from := anyDate(2025, 2027).Draw(t, "from")
		to := from.AddDays(rapid.IntRange(0, 800).Draw(t, "days"))
		next := from
		for _, s := range LeavingSteps(p, NoClosures{}, from, to) {
			if s.From != next || s.To.Before(s.From) {
				t.Fatalf("a step from %s to %s, where one from %s was to come", s.From, s.To, next)
			}
			next = s.To.AddDays(1)
			day := s.From.AddDays(rapid.IntRange(0, s.To.DaysSince(s.From)).Draw(t, "day"))
			first, last := p.Minutes(day, nil)
			if got := Together(Leaving(p, NoClosures{}, first, last)).Cost; got != Together(s.Each).Cost {
				t.Fatalf("on %s leaving costs %v, and the step from %s says %v", day, got, s.From, Together(s.Each).Cost)
			}
		}
		if next != to.AddDays(1) {
			t.Fatalf("the steps end before %s, want %s", next, to)
		}
	})
}
