package feed_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
	"banns/store"
)

const changePlan = `banns: 1
wedding: {title: Ida and Ivo, date: 2027-09-18, start: "16:30", zone: America/Detroit, currency: USD, region: US-MI, place: The Net Loft}
people:
  ida:  {name: Ida Rook, part: couple}
  ivo:  {name: Ivo Rook, part: couple}
  bea:  {name: Bea Holm, part: family}
  gus:  {name: Gus Hale, part: attendant}
  cook: {name: Cass Oakes, part: vendor}
agreements:
  food:
    with: Hollow Oak Table
    service: catering
    standing: signed
    signed: 2026-10-02
    price: "12000.00"
    payer: bea
    contact: cook
    pay:
      - {key: p1, says: 25% on signing, done: 2026-10-02, amount: "3000.00"}
      - {key: p2, says: balance 14 days before the wedding}
      - {key: p3, says: "security 500 with the balance, back within 14 days after the wedding"}
    cancel:
      - {key: c1, says: 50% until 91 days before the wedding}
      - {key: c2, says: 100% after that}
    change:
      - {key: h1, says: final headcount 15 days before the wedding by 17:00}
      - {key: h2, says: menu choice 60 days before the wedding, for: [gus]}
  film:
    with: Slow Kettle Films
    service: film
    standing: quoted
    price: "2000.00"
    pay:
      - {key: f1, says: 40% on signing}
      - {key: f2, says: balance 30 days before the wedding}
appointments:
  fitting: {what: First fitting, on: 2027-07-10, at: "11:00", until: "12:00", for: [gus], place: 4 Quay St, hide from: [ivo]}
countdown:
  add:
    bags: {what: Fill the bags, when: 3 days before the wedding, for: [gus]}
`

// compared is what Compare tells the person with that id of the one plan and
// the other, with what each change counts under it.
func compared(t *testing.T, was, is, who string) []string {
	t.Helper()
	var all []milestones.Worked
	for _, text := range []string{was, is} {
		doc, err := store.ReadPlan("plan", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		closures, _ := conflicts.ClosuresFor(doc.Plan.Wedding.Region)
		all = append(all, milestones.Work(doc.Plan, closures))
	}
	var lines []string
	var tell func(indent string, changes []feed.Change)
	tell = func(indent string, changes []feed.Change) {
		for _, c := range changes {
			line := indent + c.Says
			if who == "" && indent == "" && len(c.For)+len(c.Hidden) > 0 {
				line += " [" + strings.Join(c.For, " ")
				if len(c.Hidden) > 0 {
					line += ", not " + strings.Join(c.Hidden, " ")
				}
				line += "]"
			}
			lines = append(lines, line)
			tell(indent+"  ", c.Each)
		}
	}
	tell("", feed.Compare(all[0], all[1], who, d(2026, 11, 25)))
	return lines
}

// telling is a plan with edits, and what somebody is told of them.
type telling struct {
	name  string
	edits []string // each with what stands in its place
	who   string   // lasting id; empty: everything
	want  []string
}

func (row telling) run(t *testing.T) {
	t.Run(row.name, func(t *testing.T) {
		text := changePlan
		for n := 0; n < len(row.edits); n += 2 {
			next := strings.Replace(text, row.edits[n], row.edits[n+1], 1)
			if next == text {
				t.Fatalf("nothing says %q", row.edits[n])
			}
			text = next
		}
		if diff := cmp.Diff(row.want, compared(t, changePlan, text, row.who)); diff != "" {
			t.Errorf("told (-want +got):\n%s", diff)
		}
	})
}

func TestCompare(t *testing.T) {
	for _, row := range []telling{
		{"nothing", []string{"banns: 1", "banns: 1 # looked at"}, "", nil},
		{"another hour", []string{`at: "11:00", until: "12:00"`, `at: "14:00", until: "15:00"`}, "",
			[]string{"First fitting is at 14:00 to 15:00, not at 11:00 to 12:00 [ida gus, not ivo]"}},
		{"another end", []string{`until: "12:00"`, `until: "12:30"`}, "gus", []string{"First fitting ends at 12:30, not at 12:00"}},
		{"no end any more", []string{`, until: "12:00"`, ""}, "gus", []string{"First fitting has no end any more"}},
		{"no hour any more", []string{`at: "11:00", until: "12:00", `, ""}, "gus", []string{"First fitting has no hour any more"}},
		{"another day and place", []string{"on: 2027-07-10", "on: 2028-01-08", "4 Quay St", "9 Mill Lane"}, "gus",
			[]string{"First fitting moved from Sat 10 Jul 2027 to Sat 8 Jan 2028 at 11:00, and takes place at 9 Mill Lane, not at 4 Quay St"}},
		{"hidden", []string{"on: 2027-07-10", "on: 2027-07-12"}, "ivo", nil},
		{"another name", []string{"what: First fitting", "what: Second fitting"}, "gus", []string{"First fitting is called “Second fitting” now"}},
		{"a note", []string{"place: 4 Quay St", "place: 4 Quay St, note: Bring the shoes"}, "gus", []string{"First fitting has the note “Bring the shoes”"}},
		{"asked too", []string{"until: \"12:00\", for: [gus]", "until: \"12:00\", for: [gus, bea]"}, "",
			[]string{"First fitting is for Bea Holm too [ida bea gus, not ivo]"}},
		{"asked too, herself", []string{"until: \"12:00\", for: [gus]", "until: \"12:00\", for: [gus, bea]"}, "bea",
			[]string{"New: First fitting on Sat 10 Jul 2027, 11:00 to 12:00, 4 Quay St"}},
		{"no longer asked", []string{"until: \"12:00\", for: [gus]", "until: \"12:00\", for: [bea]"}, "gus",
			[]string{"Withdrawn: First fitting, Sat 10 Jul 2027, 11:00"}},
		{"a term by other words", []string{"final headcount 15 days before", "final headcount 17 days before"}, "cook",
			[]string{"Ida and Ivo: final headcount moved from Fri 3 Sep to Wed 1 Sep 2027 at 17:00, and reads “final headcount 17 days before the wedding by 17:00”, no longer “final headcount 15 days before the wedding by 17:00”"}},
		{"a term's hour", []string{"by 17:00", "by 12:00"}, "",
			[]string{"Hollow Oak Table: final headcount is due by 12:00, not by 17:00, on Fri 3 Sep 2027, and reads “final headcount 15 days before the wedding by 12:00”, no longer “final headcount 15 days before the wedding by 17:00” [ida ivo cook]"}},
		{"the contract's day alone", []string{"balance 14 days", "balance 13 days", "with the balance", "14 days before the wedding"}, "bea",
			[]string{"The payment of $500.00 to Hollow Oak Table (security deposit) reads “security 500 14 days before the wedding, back within 14 days after the wedding”, no longer “security 500 with the balance, back within 14 days after the wedding”",
				"The payment of $9,000.00 to Hollow Oak Table moved in the contract from Sat 4 Sep to Sun 5 Sep 2027, and is still to be done by Fri 3 Sep 2027, and reads “balance 13 days before the wedding”, no longer “balance 14 days before the wedding”"}},
		{"a menu choice, to somebody who sees no money", []string{"menu choice 60 days", "menu choice 65 days"}, "gus",
			[]string{"Hollow Oak Table: menu choice moved from Tue 20 Jul to Thu 15 Jul 2027"}},
		{"the same day in other words, to somebody who sees no words", []string{"menu choice 60 days before the wedding", "menu choice by 2027-07-20"}, "gus", nil},
		{"done", []string{"wedding, for: [gus]}\n  film", "wedding, for: [gus], done: 2027-06-30}\n  film"}, "gus",
			[]string{"Done on Wed 30 Jun 2027: Hollow Oak Table: menu choice"}},
		{"paid otherwise than expected", []string{"{key: p2, says: balance 14 days before the wedding}", `{key: p2, says: balance 14 days before the wedding, done: 2027-09-01, amount: "8900.00"}`}, "bea",
			[]string{"Paid on Wed 1 Sep 2027: the payment of $8,900.00 to Hollow Oak Table; it was to be $9,000.00"}},
		{"paid, to the vendor", []string{"{key: p2, says: balance 14 days before the wedding}", `{key: p2, says: balance 14 days before the wedding, done: 2027-09-01, amount: "9000.00"}`}, "cook",
			[]string{"Paid on Wed 1 Sep 2027: the payment of $9,000.00 from Ida and Ivo"}},
		{"no longer paid", []string{`, done: 2026-10-02, amount: "3000.00"`, ""}, "bea",
			[]string{"The payment of $3,000.00 to Hollow Oak Table is no longer marked as paid"}},
		{"a price", []string{`price: "12000.00"`, `price: "14000.00"`}, "bea",
			[]string{"The price of Hollow Oak Table is $14,000.00, not $12,000.00",
				"Leaving Hollow Oak Table by Fri 18 Jun 2027 costs $7,000.00, not $6,000.00",
				"The payment to Hollow Oak Table of Fri 3 Sep 2027 is $11,000.00, not $9,000.00"}},
		{"a price, to somebody who sees no money", []string{`price: "12000.00"`, `price: "14000.00"`}, "gus", nil},
		{"what leaving costs in the end", []string{"100% after that", "90% after that"}, "bea",
			[]string{"Hollow Oak Table: “90% after that” stands where it said “100% after that”",
				"Leaving Hollow Oak Table after Fri 18 Jun 2027 costs $10,800.00, not $12,000.00"}},
		{"signed", []string{"standing: quoted", "standing: signed\n    signed: 2026-11-30"}, "",
			[]string{"The agreement with Slow Kettle Films was signed on Mon 30 Nov 2026 [ida ivo]",
				"  The payment of $800.00 to Slow Kettle Films has its day now: Mon 30 Nov 2026"}},
		{"replaced", []string{"standing: signed", "standing: replaced"}, "cook",
			[]string{"Withdrawn: 6 dates of Ida and Ivo", "  Withdrawn: the payment from Ida and Ivo, Fri 2 Oct 2026",
				"  Withdrawn: Ida and Ivo: menu choice, Tue 20 Jul 2027", "  Withdrawn: Ida and Ivo: final headcount, Fri 3 Sep 2027, 17:00",
				"  Withdrawn: the payment from Ida and Ivo, Fri 3 Sep 2027", "  Withdrawn: the payment from Ida and Ivo (security deposit), Fri 3 Sep 2027", "  Withdrawn: the security deposit back to Ida and Ivo, Sat 2 Oct 2027"}},
		{"another who pays", []string{"payer: bea", "payer: gus"}, "",
			[]string{"Hollow Oak Table is paid by Gus Hale now, no longer by Bea Holm [ida ivo bea gus cook]"}},
		{"a vendor's name", []string{"with: Hollow Oak Table", "with: Hollow Oak Kitchen"}, "",
			[]string{"Hollow Oak Table is called Hollow Oak Kitchen now [ida ivo bea cook]"}},
		{"a vendor's name, to somebody who sees no money", []string{"with: Hollow Oak Table", "with: Hollow Oak Kitchen"}, "gus",
			[]string{"Hollow Oak Table is called Hollow Oak Kitchen now"}},
		{"a person", []string{"{name: Gus Hale", "{name: Gus Hale-Rook, phone: \"+1 555 0100\""}, "",
			[]string{"Gus Hale is called Gus Hale-Rook now", "What is kept of Gus Hale-Rook changed: telephone"}},
		{"the couple's names", []string{"title: Ida and Ivo", "title: Ida and Ivo Rook"}, "cook",
			[]string{"The wedding is called “Ida and Ivo Rook” now"}},
		{"the wedding's hour and place", []string{`start: "16:30"`, `start: "15:00"`, "The Net Loft", "The Long Barn"}, "gus",
			[]string{"The wedding begins at 15:00, not at 16:30, and takes place at The Long Barn, not at The Net Loft"}},
		{"the wedding's zone", []string{"zone: America/Detroit", "zone: America/Chicago"}, "gus",
			[]string{"Hours are those of Chicago now, no longer those of Detroit"}},
		{"the wedding's day", []string{"date: 2027-09-18", "date: 2027-10-02"}, "gus",
			[]string{"The wedding moved from Sat 18 Sep to Sat 2 Oct 2027 at 16:30, 14 days later",
				"First fitting is still on Sat 10 Jul 2027 at 11:00: it did not move with the wedding",
				"Hollow Oak Table: menu choice moved from Tue 20 Jul to Tue 3 Aug 2027", "“Fill the bags” moved from Wed 15 Sep to Wed 29 Sep 2027"}},
		{"the wedding's day, whose headcount somebody moved too", []string{"date: 2027-09-18", "date: 2027-10-02", "final headcount 15 days", "final headcount 16 days"}, "cook",
			[]string{"The wedding moved from Sat 18 Sep to Sat 2 Oct 2027 at 16:30, 14 days later",
				"4 dates moved with it, 14 days later",
				"  Ida and Ivo: menu choice moved from Tue 20 Jul to Tue 3 Aug 2027",
				"  The payment of $9,000.00 from Ida and Ivo moved from Fri 3 Sep to Fri 17 Sep 2027 (the contract says Sat 18 Sep 2027)",
				"  The payment of $500.00 from Ida and Ivo (security deposit) moved from Fri 3 Sep to Fri 17 Sep 2027 (the contract says Sat 18 Sep 2027)",
				"  The security deposit of $500.00 back to Ida and Ivo moved from Sat 2 Oct to Sat 16 Oct 2027",
				"Ida and Ivo: final headcount moved from Fri 3 Sep to Thu 16 Sep 2027 at 17:00, and reads “final headcount 16 days before the wedding by 17:00”, no longer “final headcount 15 days before the wedding by 17:00”"}},
		{"the wedding's day is open", []string{"date: 2027-09-18", "date: open"}, "gus",
			[]string{"The wedding has no day any more", "“Fill the bags” has no day any more", "Hollow Oak Table: menu choice has no day any more"}},
	} {
		row.run(t)
	}
}
