package feed_test

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestCompareFacts has what no dated thing shows: agreements, answers, people.
func TestCompareFacts(t *testing.T) {
	const food = "    payer: bea\n    contact: cook\n"
	for _, row := range []telling{
		{"an agreement", []string{"  film:\n", "  choir: {with: The Low Choir, service: music, standing: signed, signed: 2026-11-02, price: 800, pay: [{key: q1, says: balance 3 weeks before the wedding}]}\n  film:\n"}, "",
			[]string{"The Low Choir (music) is new, signed on Mon 2 Nov 2026, for $800.00 [ida ivo]",
				"  New: the payment of $800.00 to The Low Choir, by Fri 27 Aug 2027 (the contract says Sat 28 Aug 2027)",
				"New: “Choose the songs that matter”, by Sat 28 Aug 2027 [ida ivo]"}},
		{"no agreement any more", []string{"  film:\n    with: Slow Kettle Films\n    service: film\n    standing: quoted\n    price: \"2000.00\"\n    pay:\n      - {key: f1, says: 40% on signing}\n      - {key: f2, says: balance 30 days before the wedding}\n", ""}, "ida",
			[]string{"Slow Kettle Films was taken out of the plan", "  Withdrawn: the payment to Slow Kettle Films, Thu 19 Aug 2027", "  Withdrawn: the payment to Slow Kettle Films"}},
		{"no contact any more", []string{"    contact: cook\n", ""}, "",
			[]string{"The contact at Hollow Oak Table is nobody by name now, no longer Cass Oakes [ida ivo bea cook]"}},
		{"hidden from somebody", []string{food, food + "    hide from: [ivo]\n"}, "",
			[]string{"Hollow Oak Table is hidden from Ivo Rook now [ida bea cook, not ivo]",
				"Withdrawn: “Draw up the seating plan”, Wed 8 Sep 2027 [ida ivo]", "Withdrawn: “Write the place cards”, Tue 14 Sep 2027 [ida ivo]"}},
		{"hidden from somebody, who sees it go", []string{food, food + "    hide from: [cook]\n"}, "cook",
			[]string{"Withdrawn: 6 dates of Ida and Ivo", "  Withdrawn: the payment from Ida and Ivo, Fri 2 Oct 2026",
				"  Withdrawn: Ida and Ivo: menu choice, Tue 20 Jul 2027", "  Withdrawn: Ida and Ivo: final headcount, Fri 3 Sep 2027, 17:00",
				"  Withdrawn: the payment from Ida and Ivo, Fri 3 Sep 2027", "  Withdrawn: the payment from Ida and Ivo (security deposit), Fri 3 Sep 2027",
				"  Withdrawn: the security deposit back to Ida and Ivo, Sat 2 Oct 2027"}},
		{"a price by the head", []string{`price: "2000.00"`, `price: {each: "20.00", count: 100, tax: 6%}`}, "ida",
			[]string{"The price of Slow Kettle Films is $2,120.00, not $2,000.00", "The payment to Slow Kettle Films of Thu 19 Aug 2027 is $1,272.00, not $1,200.00", "The payment to Slow Kettle Films is $848.00, not $800.00"}},
		{"no price any more", []string{"    price: \"2000.00\"\n", ""}, "ida",
			[]string{"The price of Slow Kettle Films is no longer known; it was $2,000.00", "The payment to Slow Kettle Films is a sum not known yet; it was $1,200.00", "The payment to Slow Kettle Films is a sum not known yet; it was $800.00"}},
		{"a headcount", []string{"15 days before the wedding by 17:00}", "15 days before the wedding by 17:00, given: 112}"}, "cook",
			[]string{"Hollow Oak Table: final headcount was given as 112"}},
		{"what it counts in and from", []string{food, food + "    business days: mon-sat\n    closed: [2027-07-02]\n    dates: {invoice: 2027-08-01}\n"}, "bea",
			[]string{"The business days of Hollow Oak Table are Monday to Saturday now, no longer days on which banks are open",
				"Hollow Oak Table is closed on Fri 2 Jul 2027", "The invoice of Hollow Oak Table is dated Sun 1 Aug 2027",
				"The last day to cancel Hollow Oak Table for $6,000.00 moved from Fri 18 Jun to Thu 17 Jun 2027 (the contract says Sat 19 Jun 2027)",
				"The payment of $9,000.00 to Hollow Oak Table moved from Fri 3 Sep to Sat 4 Sep 2027",
				"The payment of $500.00 to Hollow Oak Table (security deposit) moved from Fri 3 Sep to Sat 4 Sep 2027"}},
		{"an answer", []string{"{key: c2, says: 100% after that}", "{key: c2, says: 100% after that}\n    answers: {before the first step: {reads: nothing, who: cook, on: 2026-11-20}}"}, "gus", nil},
		{"somebody new, and somebody gone", []string{"  gus:  {name: Gus Hale, part: attendant}", "  eve:  {name: Eve Moor, part: helper}", "for: [gus]}\n  film", "for: [eve]}\n  film", `"12:00", for: [gus]`, `"12:00", for: [eve]`, "wedding, for: [gus]", "wedding, for: [eve]"}, "",
			[]string{"New: “Ask those who are to stand up with you”, by Sat 14 Nov 2026 [ida ivo]",
				"Withdrawn: “Order what the wedding party wears”, Sat 20 Mar 2027 [ida ivo]", "Eve Moor is new among the people (helper)", "Gus Hale is no longer among the people; their calendar is empty now"}},
		{"the rest", []string{"countdown:\n", "licence: {office: Alder County Clerk, waits: 3 days}\ncandidates: [2027-09-18, 2027-10-02]\naway: [{who: gus, from: 2027-02-13, to: 2027-02-21}]\ncountdown:\n  planning from: 2026-10-01\n  drop: [engagement-party]\n  done: {guest-addresses: 2026-11-15}\n  move: {invitations: 9 weeks before the wedding}\n"}, "",
			[]string{
				"Done on Sun 15 Nov 2026: “Gather the guests' addresses”; it moved from Sat 9 Jan 2027 to Sun 15 Nov 2026 [ida ivo]",
				"Done on Sun 15 Nov 2026: “Settle the guest list”; it moved from Sat 7 Nov to Sun 15 Nov 2026 [ida ivo]",
				"“Post the invitations” moved from Sat 24 Jul to Sat 17 Jul 2027 [ida ivo]",
				"New: “Apply for the marriage licence at Alder County Clerk”, by Fri 27 Aug 2027 [ida ivo]",
				"New: “Have the marriage licence in hand”, by Fri 10 Sep 2027 [ida ivo]",
				"New: “Return the signed licence to Alder County Clerk”, by Mon 20 Sep 2027 [ida ivo]",
				"Withdrawn: “Hold the engagement party, if there is to be one”, Sat 17 Oct 2026 [ida ivo]",
				"Withdrawn: “Ask the office how the marriage licence is had”, Sat 20 Mar 2027 [ida ivo]",
				"Gus Hale is away from Sat 13 Feb 2027 to Sun 21 Feb 2027", "Dates thought of for the wedding: Sat 18 Sep 2027, Sat 2 Oct 2027",
				"Marriage licence: from Alder County Clerk, it waits 3 days", "Planning counts from Thu 1 Oct 2026"}},
		{"another region", []string{"US-MI", "US-CA"}, "", []string{"Holidays are those of US-CA now, no longer those of US-MI"}},
		{"another currency", []string{"currency: USD", "currency: GBP"}, "cook",
			[]string{"The price of Hollow Oak Table is £12,000.00, not $12,000.00",
				"The payment from Ida and Ivo of Fri 2 Oct 2026 was £3,000.00, not $3,000.00",
				"The payment from Ida and Ivo of Fri 3 Sep 2027 is £9,000.00, not $9,000.00",
				"The payment from Ida and Ivo (security deposit) of Fri 3 Sep 2027 is £500.00, not $500.00",
				"The security deposit back to Ida and Ivo of Sat 2 Oct 2027 is £500.00, not $500.00"}},
	} {
		row.run(t)
	}
}

func TestCompareAnswers(t *testing.T) {
	demo, err := os.ReadFile("../testdata/plans/maren-and-theo.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const open = "route and stops within 21 days of the wedding, for: [jonah]"
	answered := strings.Replace(string(demo), open, open+", answer: {reads: after, who: odile, on: 2026-11-24}", 1)
	settled := []string{
		"The question about Sedge Line Coaches, “route and stops within 21 days of the wedding”, was settled by Odile Marchbank on Tue 24 Nov 2026: at the latest 21 days after the wedding",
		"Sedge Line Coaches: route and stops moved from Fri 27 Aug to Fri 8 Oct 2027 (the contract says Sat 9 Oct 2027)",
	}
	for _, row := range []struct {
		name, was, is, who string
		want               []string
	}{
		{"settled", string(demo), answered, "maren", settled},
		{"to somebody who sees no words", string(demo), answered, "jonah",
			[]string{"Sedge Line Coaches: route and stops moved from Fri 27 Aug to Fri 8 Oct 2027 (the contract says Sat 9 Oct 2027)"}},
		{"open again", answered, string(demo), "maren",
			[]string{"The question about Sedge Line Coaches, “route and stops within 21 days of the wedding”, is open again",
				"Sedge Line Coaches: route and stops moved from Fri 8 Oct to Fri 27 Aug 2027 (the contract says Sat 28 Aug 2027), and has a question: \"within 21 days of the wedding\" does not say which side it means; it is read as Sat 28 Aug 2027 at the latest"}},
	} {
		if diff := cmp.Diff(row.want, compared(t, row.was, row.is, row.who)); diff != "" {
			t.Errorf("%s: told (-want +got):\n%s", row.name, diff)
		}
	}
}
