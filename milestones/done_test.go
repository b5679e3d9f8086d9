package milestones

import (
	"strings"
	"testing"
)

// counted is a change line with which a headcount was given.
func counted(says string, heads int, on Date) ChangeBy {
	return ChangeBy{Line: Line{Says: says, Given: heads, Done: on}}
}

// The price goes by the count that was given last, whatever the plan said.
func TestGivenCount(t *testing.T) {
	rows := []struct {
		why    string
		price  Price
		change []ChangeBy
		want   Amount
	}{
		{"nothing given: the plan's count", Price{Count: 120}, change("final headcount 10 days before the wedding"), Exactly(12_000_00)},
		{"given", Price{Count: 120}, []ChangeBy{counted("final headcount 10 days before the wedding", 118, Date{})}, Exactly(11_800_00)},
		{"given where nothing was known", Price{AtLeast: 90}, []ChangeBy{counted("final headcount 10 days before the wedding", 118, Date{})}, Exactly(11_800_00)},
		{"fewer than the least", Price{Count: 120, AtLeast: 90}, []ChangeBy{counted("final headcount 10 days before the wedding", 80, Date{})}, Exactly(9_000_00)},
		{"the later of two, wherever it stands", Price{Count: 120}, []ChangeBy{
			counted("guarantee 3 days before the wedding", 111, Date{}), counted("first count 30 days before the wedding", 130, Date{})}, Exactly(11_100_00)},
		{"the later of two by the day it was given", Price{Count: 120}, []ChangeBy{
			counted("guarantee 3 days before the wedding", 111, d(2027, 8, 1)), counted("first count 30 days before the wedding", 130, d(2027, 8, 2))}, Exactly(13_000_00)},
		{"one without a day gives way", Price{Count: 120}, []ChangeBy{
			counted("first count 30 days before the wedding", 130, Date{}), counted("guarantee 3 days after invoice", 111, Date{})}, Exactly(13_000_00)},
		{"a price that is a sum has no count", Price{Sum: new(Money(500_00))}, []ChangeBy{counted("final headcount 10 days before the wedding", 118, Date{})}, Exactly(500_00)},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			if row.price.Sum == nil {
				row.price.Each = new(Money(100_00))
			}
			p := wedding(Agreement{Signed: d(2026, 10, 2), Price: row.price, Change: row.change,
				Dates: []NamedDate{{"invoice", Date{}}}, Pay: pay("balance on the day")})
			if got := scheduled(t, p, NoClosures{})["hall/pay-1"].Amount; got != row.want {
				t.Errorf("the balance is %v, want %v", got, row.want)
			}
		})
	}
}

// A change order: the price or the terms are amended once some of it is paid.
// What is done keeps its amount, and what is left absorbs the difference.
func TestChangeOrders(t *testing.T) {
	signed := d(2026, 10, 2)
	rows := []struct {
		why   string
		price Money
		pay   []Payment
		want  string
	}{
		{"as agreed", 1000_00, []Payment{done("25% on signing", signed, 250_00), pay("40% 120 days before the wedding")[0], pay("balance on the day")[0]},
			"pay-1 250.00, pay-2 400.00, pay-3 350.00"},
		{"the price rises: 40% of the new one, and the balance makes it up", 1200_00,
			[]Payment{done("25% on signing", signed, 250_00), pay("40% 120 days before the wedding")[0], pay("balance on the day")[0]},
			"pay-1 250.00, pay-2 480.00, pay-3 470.00"},
		{"it falls", 800_00, []Payment{done("25% on signing", signed, 250_00), pay("40% 120 days before the wedding")[0], pay("balance on the day")[0]},
			"pay-1 250.00, pay-2 320.00, pay-3 230.00"},
		{"it falls below what was paid: nothing is left to pay", 200_00, []Payment{done("25% on signing", signed, 250_00), pay("balance on the day")[0]},
			"pay-1 250.00, pay-2 0.00"},
		{"other terms: the share that was paid is another now", 1000_00,
			[]Payment{done("30% on signing", signed, 250_00), pay("balance on the day")[0]}, "pay-1 250.00, pay-2 750.00"},
		{"the rest in parts now, of which one was paid under the old price", 1300_00,
			[]Payment{done("25% on signing", signed, 250_00), {Line: Line{Says: "3 equal payments monthly from 2027-03-01", DoneParts: []Date{d(2027, 3, 1)}, Amount: new(Money(250_00))}}},
			"pay-1 250.00, pay-2/1 250.00, pay-2/2 400.00, pay-2/3 400.00"},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			if got := sums(t, Agreement{Price: costs(row.price), Pay: row.pay}); got != row.want {
				t.Errorf("%s\nwant %s", got, row.want)
			}
		})
	}
}

// Some of the equal payments are done, and the others not.
func TestDoneParts(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(900_00), Pay: []Payment{
		{Line: Line{Says: "3 equal payments monthly from 2027-03-01", DoneParts: []Date{d(2027, 3, 1), d(2027, 4, 2)}, Amount: new(Money(300_00))}}},
		Cancel: cancel("100% of what has been paid until the wedding")})
	items := scheduled(t, p, NoClosures{})
	for id, want := range map[string]Date{"hall/pay-1/1": d(2027, 3, 1), "hall/pay-1/2": d(2027, 4, 2), "hall/pay-1/3": {}} {
		if i := items[id]; i.Done != want || i.Amount != Exactly(300_00) {
			t.Errorf("%s: %v was done on %q, want %q", id, i.Amount, i.Done, want)
		}
	}
	p.Agreements[0].Pay[0].DoneParts, p.Agreements[0].Pay[0].Done = nil, d(2027, 3, 1)
	if i := scheduled(t, p, NoClosures{})["hall/pay-1/3"]; i.Done != d(2027, 3, 1) {
		t.Errorf("one day for all of them: the third was done on %q", i.Done)
	}
}

// A deposit that came back is a refund that is done.
func TestCameBack(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: []Payment{pay("balance on the day")[0],
		{Line: Line{Says: "security 500 with the balance, back within 14 days after the wedding", Done: d(2027, 9, 18), CameBack: d(2027, 9, 30)}}}})
	if i := scheduled(t, p, NoClosures{})["hall/pay-2/back"]; i.Date != d(2027, 10, 2) || i.Done != d(2027, 9, 30) {
		t.Errorf("due back %s, came back %s", i.Date, i.Done)
	}
}

func TestSettledRefused(t *testing.T) {
	some := []Date{d(2027, 1, 1), d(2027, 2, 1), d(2027, 3, 1)}
	rows := []struct {
		why  string
		a    Agreement
		says string
	}{
		{"parts of a balance", Agreement{Pay: []Payment{{Line: Line{Says: "balance on the day", DoneParts: some}}}}, "pay[1]: only equal payments are done in parts; write one day"},
		{"parts of a change", Agreement{Change: []ChangeBy{{Line: Line{Says: "colours on the day", DoneParts: some}}}}, "change[1]: only equal payments are done in parts"},
		{"more than there are", Agreement{Pay: []Payment{{Line: Line{Says: "2 equal payments monthly from signing", DoneParts: some}}}}, "pay[1]: 3 payments were made of 2"},
		{"a balance that came back", Agreement{Pay: []Payment{{Line: Line{Says: "balance on the day", CameBack: some[0]}}}}, `it came back on Fri 1 Jan 2027, and "balance on the day" says nothing of coming back`},
		{"security that never comes back", Agreement{Pay: []Payment{{Line: Line{Says: "security 500 on the day", CameBack: some[0]}}}}, "says nothing of coming back"},
		{"a paper that came back", Agreement{Papers: []Paper{{Line: Line{Says: "floor plan on the day", CameBack: some[0]}}}}, "papers[1]: only a security deposit comes back"},
		{"a postponement that came back", Agreement{Postpone: &Postpone{Line: Line{Says: "once, for 500", CameBack: some[0]}}}, "postpone: only a security deposit comes back"},
		{"a count of a payment", Agreement{Pay: []Payment{{Line: Line{Says: "500 on the day", Given: 118}}}}, "pay[1]: only a change has a count that is given"},
		{"one fault, where the phrase is not understood", Agreement{Pay: []Payment{{Line: Line{Says: "3 eqal payments monthly from signing", DoneParts: some}}}}, "is not understood here"},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			row.a.Signed = d(2026, 10, 2)
			if says := refusal(t, wedding(row.a)); !strings.Contains(says, row.says) {
				t.Errorf("%s\nwant %s", says, row.says)
			}
		})
	}
}

// Without an amount, what was paid would follow a change of the price.
func TestDoneWithoutAmountIsNoted(t *testing.T) {
	rows := []struct {
		line  Line
		notes int
	}{
		{Line{Says: "25% on signing", Done: d(2026, 10, 2)}, 1},
		{Line{Says: "25% on signing", Done: d(2026, 10, 2), Amount: new(Money(250_00))}, 0},
		{Line{Says: "250 on signing", Done: d(2026, 10, 2)}, 0},
		{Line{Says: "25% on signing"}, 0},
		{Line{Says: "2 equal payments monthly from signing", DoneParts: []Date{d(2026, 10, 2)}}, 1},
	}
	for _, row := range rows {
		p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: []Payment{{Line: row.line}}})
		if _, notes := p.Read(); len(notes) != row.notes {
			t.Errorf("%q: %v, want %d", row.line.Says, notes, row.notes)
		}
	}
}
