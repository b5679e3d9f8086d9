package milestones

import (
	"strings"
	"testing"
)

// sums are the amounts of the items of agreement "hall", as "term amount".
func sums(t *testing.T, a Agreement) string {
	t.Helper()
	if a.Signed.IsZero() {
		a.Signed = d(2026, 10, 2)
	}
	p := wedding(a)
	var all []string
	for _, i := range Schedule(read(t, p), NoClosures{}) {
		if term, ok := strings.CutPrefix(i.ID, "hall/"); ok {
			all = append(all, term+" "+strings.ReplaceAll(p.Wedding.Currency.Range(i.Amount), "$", ""))
		}
	}
	return strings.Join(all, ", ")
}

func done(says string, on Date, amount Money) Payment {
	return Payment{Line: Line{Says: says, Done: on, Amount: &amount}}
}

// Shares round half up, and what remains is the balance's, or the last
// payment's by date, so that all sum to the price: common practice.
func TestPaymentSums(t *testing.T) {
	head, signed := Money(98_00), d(2026, 10, 2)
	rows := []struct {
		why   string
		price Price
		pay   []Payment
		want  string
	}{
		{"the balance takes the rest", costs(1000_00),
			pay("25% on signing", "40% 120 days before the wedding", "balance 14 days before the wedding"),
			"pay-1 250.00, pay-2 400.00, pay-3 350.00"},
		{"25 percent, in words", costs(1000_00), pay("25 percent of the price on signing", "the remainder on the day"),
			"pay-1 250.00, pay-2 750.00"},
		{"the same, with its figures and other noise", costs(1000_00), pay("the twenty-five per cent (25%) of total price upon signing", "one hundred percent of rest on day"),
			"pay-1 250.00, pay-2 750.00"},
		{"a first payment that is called a deposit", costs(1000_00), pay("a deposit of 20% on signing", "300 deposit 90 days before the wedding", "balance on the day"),
			"pay-1 200.00, pay-2 300.00, pay-3 500.00"},
		{"a share in a word", costs(1000_00), pay("one half upon signing", "a quarter of the price 90 days before the wedding", "the rest is payable on the day"),
			"pay-1 500.00, pay-2 250.00, pay-3 250.00"},
		{"all at once", costs(1000_00), pay("all 7 days before the wedding"), "pay-1 1,000.00"},
		{"a retainer", costs(1000_00), pay("a retainer of 20% is due on signing", "300 retainer 90 days before the wedding", "the balance shall be paid on the day"),
			"pay-1 200.00, pay-2 300.00, pay-3 500.00"},
		{"a sum with its currency after it", costs(1000_00), pay("a 400 USD due on signing", "and the remaining balance of the price on the day"),
			"pay-1 400.00, pay-2 600.00"},
		{"a security deposit in a contract's words", costs(1000_00), pay("balance on signing", "a security deposit of $50 with the last payment, returned within fourteen (14) days after the wedding"),
			"pay-1 1,000.00, pay-2 50.00, pay-2/back 50.00"},
		{"the last by date takes the rounding", costs(100_01), pay("50% on signing", "50% on the day"),
			"pay-1 50.01, pay-2 50.00"},
		{"a rounding up never goes beyond the price", costs(100_01), pay("50% on signing", "50% 9 weeks before the wedding", "balance on the day"),
			"pay-1 50.01, pay-2 50.00, pay-3 0.00"},
		{"the last by date, wherever it stands", costs(100_01), pay("50% on the day", "50% on signing"),
			"pay-2 50.01, pay-1 50.00"},
		{"thirds to two decimals do not make a whole, and have a question", costs(1000_00), pay("33.33% on signing", "33.33% 9 weeks before the wedding", "33.33% on the day"),
			"pay-1 333.30, pay-2 333.30, pay-3 333.30"},
		{"thirds that make the whole", costs(1000_01), pay("33.33% on signing", "33.33% 9 weeks before the wedding", "33.34% on the day"),
			"pay-1 333.30, pay-2 333.30, pay-3 333.41"},
		{"sums that make the price", costs(1000_00), pay("400 on signing", "$600.00 on the day"),
			"pay-1 400.00, pay-2 600.00"},
		{"of the rest: of the price less what is named before", costs(1000_00), pay("100 on signing", "50% of the rest 60 days before the wedding", "50% of the rest 30 days before the wedding", "balance on the day"),
			"pay-1 100.00, pay-2 450.00, pay-3 225.00, pay-4 225.00"},
		{"all of the rest makes the whole", costs(1000_00), pay("30% on signing", "100% of the rest on the day"),
			"pay-1 300.00, pay-2 700.00"},
		{"equal payments share the rest, the last takes the rounding", costs(1000_00), pay("3 equal payments monthly from 2027-01-31"),
			"pay-1/1 333.33, pay-1/2 333.33, pay-1/3 333.34"},
		{"the same, rounded up", costs(200_00), pay("three equal monthly payments starting 2027-01-31"),
			"pay-1/1 66.67, pay-1/2 66.67, pay-1/3 66.66"},
		{"equal payments from a day with a name", costs(1000_00), pay("2 equal payments monthly from signing"),
			"pay-1/1 500.00, pay-1/2 500.00"},
		{"equal payments beside a share", costs(1000_00), pay("20% on signing", "2 equal payments monthly from 5 months after signing"),
			"pay-1 200.00, pay-2/1 400.00, pay-2/2 400.00"},
		{"fewer cents than payments", costs(2), pay("3 equal payments monthly from 2027-01-31"),
			"pay-1/1 0.01, pay-1/2 0.01, pay-1/3 0.00"},
		{"security is no part of the price", costs(1000_00), pay("25% on signing", "balance 14 days before the wedding", "security 500 with the balance, back within 14 days after the wedding"),
			"pay-1 250.00, pay-2 750.00, pay-3 500.00, pay-3/back 500.00"},
		{"what is done keeps its amount, and the balance absorbs it", costs(1000_00),
			[]Payment{done("25% on signing", signed, 300_00), pay("40% 120 days before the wedding")[0], pay("balance on the day")[0]},
			"pay-1 300.00, pay-2 400.00, pay-3 300.00"},
		{"the last by date absorbs it", costs(1000_00),
			[]Payment{done("50% on signing", signed, 600_00), pay("50% on the day")[0]},
			"pay-1 600.00, pay-2 400.00"},
		{"the last by date absorbs it upwards", costs(1000_00),
			[]Payment{done("50% on signing", signed, 450_00), pay("50% on the day")[0]},
			"pay-1 450.00, pay-2 550.00"},
		{"of those left, the open one absorbs it before one that was done", costs(1000_00),
			[]Payment{done("25% on signing", signed, 350_00), {Line: Line{Says: "50% on the day", Done: signed}}, pay("25% 9 weeks before the wedding")[0]},
			"pay-1 350.00, pay-3 150.00, pay-2 500.00"},
		{"of the rest counts what the phrases name, not what was paid", costs(1000_00),
			[]Payment{done("25% on signing", signed, 300_00), pay("50% of the rest 120 days before the wedding")[0], pay("balance on the day")[0]},
			"pay-1 300.00, pay-2 375.00, pay-3 325.00"},
		{"done without an amount is done with what it says, to the cent", costs(100_01),
			[]Payment{{Line: Line{Says: "50% on signing", Done: signed}}, {Line: Line{Says: "50% on the day", Done: signed}}},
			"pay-1 50.01, pay-2 50.00"},
		{"the first of equal payments by the head", Price{Each: &head, Count: 10}, pay("4 equal payments monthly from 2027-01-15"),
			"pay-1/1 245.00, pay-1/2 245.00, pay-1/3 245.00, pay-1/4 245.00"},
		{"by the head, not counted yet", Price{Each: &head, AtLeast: 90, AtMost: 120}, pay("25% on signing", "500 60 days before the wedding", "balance on the day"),
			"pay-1 2,205.00 to 2,940.00, pay-2 500.00, pay-3 6,115.00 to 8,320.00"},
		{"by the head with no most: a low alone, and a sum of its own stays exact", Price{Each: &head, AtLeast: 90}, pay("25% on signing", "500 60 days before the wedding", "balance on the day"),
			"pay-1 at least 2,205.00, pay-2 500.00, pay-3 at least 6,115.00"},
		{"equal payments of which two were made: those left share the rest", costs(1000_00),
			[]Payment{{Line: Line{Says: "4 equal payments monthly from 2027-01-15", DoneParts: []Date{d(2027, 1, 12), d(2027, 2, 15)}, Amount: new(Money(300_00))}}},
			"pay-1/1 300.00, pay-1/2 300.00, pay-1/3 200.00, pay-1/4 200.00"},
		{"no price: a share and the balance have no sum, an amount has", Price{}, pay("25% on signing", "500 60 days before the wedding", "balance on the day"),
			"pay-1 a sum not known yet, pay-2 500.00, pay-3 a sum not known yet"},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			if got := sums(t, Agreement{Price: row.price, Pay: row.pay}); got != row.want {
				t.Errorf("%s\nwant %s", got, row.want)
			}
		})
	}
}

func TestPaymentQuestions(t *testing.T) {
	head, signed := Money(100_00), d(2026, 10, 2)
	rows := []struct {
		why   string
		price Price
		pay   []Payment
		asks  string // empty: nothing
	}{
		{"as much as the price", costs(1000_00), pay("25% on signing", "75% on the day"), ""},
		{"less than the price", costs(2960_00), pay("25% on signing"), "the payments of The Hall come to less than the price: $2,220.00 has no day"},
		{"no payments", costs(2960_00), nil, "no payment of The Hall is written down: $2,960.00 has no day"},
		{"less than the dearer price", Price{Each: &head, AtLeast: 10, AtMost: 20}, pay("1,200 on the day"), "less than the price: $0.00 to $800.00 has no day"},
		{"more was paid than the price", costs(1000_00), []Payment{done("50% on signing", signed, 1200_00), pay("balance on the day")[0]}, "what was paid to The Hall, and is still to be paid, is more than the price by $200.00"},
		{"more was paid early, and is absorbed", costs(1000_00), []Payment{done("50% on signing", signed, 600_00), pay("50% on the day")[0]}, ""},
		{"a share without a price", Price{}, pay("500 on signing", "25% on the day"), "the price of The Hall is not known yet, so these have no sum: 25% on the day"},
		{"a sum without a price", Price{}, pay("500 on signing"), ""},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			p := wedding(Agreement{Signed: signed, Price: row.price, Pay: row.pay, Cancel: cancel("nothing until 30 days before the wedding", "100% after that")})
			if row.asks != "" {
				asks(t, p, row.asks)
			} else if all := Questions(read(t, p), NoClosures{}); len(all) > 0 {
				t.Errorf("asked without need: %v", all)
			}
		})
	}
}

func TestPaymentsRefused(t *testing.T) {
	head := Money(100_00)
	rows := []struct {
		why   string
		price Price
		pay   []Payment
		says  string
	}{
		{"sums over the price", costs(1000_00), pay("600 on signing", "500 on the day"),
			"agreements/hall/pay: the payments come to $1,100.00, which is $100.00 more than the price of $1,000.00; lower one of them, or write the last as the balance"},
		{"shares over the whole", costs(1000_00), pay("60% on signing", "50% on the day"),
			"the payments come to $1,100.00, which is $100.00 more"},
		{"over the price beside a balance", costs(1000_00), pay("60% on signing", "500 60 days before the wedding", "balance on the day"),
			"the payments come to $1,100.00, which is $100.00 more"},
		{"over the dearest price by the head", Price{Each: &head, AtLeast: 10, AtMost: 20}, pay("2,500 on the day"),
			"the payments come to $2,500.00, which is $500.00 more than the price of $2,000.00"},
		{"two balances", costs(1000_00), pay("balance on signing", "balance on the day"), "only one line can take what remains"},
		{"a balance beside equal payments", costs(1000_00), pay("3 equal payments monthly from 2027-01-01", "balance on the day"), "only one line can take what remains"},
		{"over the whole", costs(1000_00), pay("150% on signing"), `at "150%", "150%" is more than the whole; a share is at most 100%`},
		{"too exact", costs(1000_00), pay("12.345 on signing"), `at "12.345", "12.345" has more decimals than USD has (2)`},
		{"another currency", costs(1000_00), pay("£500 on signing"), `at "£500", the plan's sums are in USD, and £ is not`},
		{"a share of something else", costs(1000_00), pay("50% of the rset on signing"), `"rset" is not understood here; did you mean "rest"?`},
		{"a word for a share", costs(1000_00), pay("balanse on signing"), `"balanse" is not understood here; did you mean "balance"?`},
		{"security without a sum", costs(1000_00), pay("security on signing"), `"on" is not understood here; expected "500"`},
		{"security back at no time", costs(1000_00), pay("security 500 on signing, back"), `stops too early`},
		{"no equal payments", costs(1000_00), pay("0 equal payments monthly from 2027-01-01"), `at "0", equal payments go from 1 to 120`},
		{"equal payments by the week", costs(1000_00), pay("3 equal payments weekly from 2027-01-01"), `"weekly" is not understood here; expected "monthly"`},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			p := wedding(Agreement{Signed: d(2026, 10, 2), Price: row.price, Pay: row.pay})
			if says := refusal(t, p); !strings.Contains(says, row.says) {
				t.Errorf("%s\nwant %s", says, row.says)
			}
		})
	}
	// A plain reason stands alone, without a list of what could have stood there.
	const want = `agreements/hall/pay[1]: "£500 on signing": at "£500", the plan's sums are in USD, and £ is not; reckon it over, or ask what it comes to`
	if says := refusal(t, wedding(Agreement{Signed: d(2026, 10, 2), Pay: pay("£500 on signing")})); says != want {
		t.Errorf("%s\nwant %s", says, want)
	}
}

// Equal payments keep the day number, clamped each from the first.
func TestEqualPaymentDays(t *testing.T) {
	items := scheduled(t, wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(400_00), Pay: pay("4 equal payments monthly from 2027-01-31")}), NoClosures{})
	for id, want := range map[string]Date{
		"hall/pay-1/1": d(2027, 1, 31), "hall/pay-1/2": d(2027, 2, 28), "hall/pay-1/3": d(2027, 3, 31), "hall/pay-1/4": d(2027, 4, 30),
	} {
		if got := items[id].Date; got != want {
			t.Errorf("%s is on %s, want %s (New Mexico Stat. 12-2A-7)", id, got, want)
		}
	}
}

// What the first of them leaves open is not asked again of each.
func TestEqualPaymentQuestion(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(400_00), Pay: pay("4 equal payments monthly within 30 days of 2027-03-01"), Cancel: cancel("nothing until the wedding")})
	if all := Questions(read(t, p), NoClosures{}); len(all) != 1 || all[0].Path != "hall/pay-1/1" {
		t.Errorf("asks %v", all)
	}
}

// What comes back is a refund of its own, not done because the security was.
func TestSecurityBack(t *testing.T) {
	amount := Money(450_00)
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: []Payment{
		pay("balance 14 days before the wedding")[0],
		{Line: Line{Says: "security deposit of 500 with the balance, returned within 2 weeks after the wedding", Done: d(2027, 9, 1), Amount: &amount}},
	}})
	items := scheduled(t, p, NoClosures{})
	given, back := items["hall/pay-2"], items["hall/pay-2/back"]
	if given.Kind != KindPayment || given.Date != d(2027, 9, 4) || given.Amount != Exactly(amount) || given.Done != d(2027, 9, 1) {
		t.Errorf("the security is %+v", given)
	}
	if back.Kind != KindRefund || back.Date != d(2027, 10, 2) || back.Amount != Exactly(amount) || !back.Done.IsZero() || !back.ActBy.IsZero() {
		t.Errorf("what comes back is %+v", back)
	}
	p.Agreements[0].Pay[1].Says = "security 500 on signing, back on 2026-09-01"
	if back := scheduled(t, p, NoClosures{})["hall/pay-2/back"]; back.Date != d(2026, 9, 1) {
		t.Errorf("a refund is not due on signing, but on %s", back.Date)
	}
}
