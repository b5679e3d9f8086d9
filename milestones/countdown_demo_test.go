package milestones_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

// The tables of three engagements under the demo's agreements were worked out
// by hand, from the leads in countdown_default.go and from the agreements,
// before there was code to work them out. Each row: the key, the first day on
// which it can be done, the day it is meant for, the last day that still
// works, and how many days too late it is. "-" stands where there is no such
// day: the plan holds it, or it is settled.
//
// The wedding is Sat 18 Sep 2027. What binds there: the headcount of Hollow
// Oak Table (Thu 2 Sep), its meal list (Thu 9 Sep), the proofs of Inkwater
// Press (Sat 26 Jun, and two weeks to print), the rooms of The Ferrywarden Inn
// (given back on Tue 17 Aug), the arrival times that The Net Loft wants (Fri
// 3 Sep), the walkthrough (Tue 24 Aug), and the suits (Thu 16 Sep).
const (
	fourteenMonths = `
engagement-party  2026-08-08 2026-10-17 2027-01-16
guest-list        2026-07-25 2026-11-07 2027-05-01
attire            -          2026-11-20 -           done: Bolt and Barrow signed last
guest-addresses   2026-09-19 2027-01-09 2027-05-08
party-attire      2027-01-16 2027-03-20 2027-06-19
save-the-dates    2027-01-16 2027-03-20 2027-05-22
rings             2027-03-20 2027-05-29 2027-08-07
first-fitting     2027-07-10 2027-07-24 2027-08-07  eight weeks; those that the plan holds are hidden from Theo
invitations       2027-07-13 2027-07-24 2027-08-07  proofs 26 Jun, printing 14 days, posting 3
rooms             2027-07-13 2027-07-31 2027-08-10  a week before the block is given back
ceremony          2027-06-26 2027-08-07 2027-08-28
rehearsal-call    2027-07-10 2027-08-14 2027-09-04
second-fitting    2027-08-14 2027-08-21 2027-08-28
licence           2027-08-16 2027-08-27 2027-09-14  28 Aug is a Saturday; on 15 Sep it would come on the day
replies           2027-08-14 2027-08-28 2027-08-28  three days before the count: a Sunday
timeline          2027-08-27 2027-08-28 2027-09-02
count             2027-08-21 2027-09-01 2027-09-01  the day before the headcount
last-fitting      2027-09-04 2027-09-07 2027-09-11
seating           2027-08-28 2027-09-08 2027-09-08  the day before the meal list
licence-in-hand   2027-08-19 2027-09-10 2027-09-17
confirm           2027-09-04 2027-09-11 2027-09-15
place-cards       2027-09-08 2027-09-14 2027-09-17
envelopes         2027-09-11 2027-09-15 2027-09-17
try-on            2027-09-16 2027-09-16 2027-09-17  the suits come on Thursday
licence-return    2027-09-20 2027-09-20 2027-09-28  within 10 days
thank-you-notes   2027-09-19 2027-10-16 2027-12-18
`
	// Planned from Wed 18 Nov 2026. Only what should have begun already is
	// another day.
	tenMonths = `
attire            -          2026-11-20 -
guest-list        2026-11-21 2026-11-21 2027-05-01  three days' work
engagement-party  2026-12-09 2026-12-09 2027-01-16  three weeks' notice
guest-addresses   2026-11-28 2027-01-09 2027-05-08
party-attire      2027-01-16 2027-03-20 2027-06-19
save-the-dates    2027-01-16 2027-03-20 2027-05-22
rings             2027-03-20 2027-05-29 2027-08-07
first-fitting     2027-07-10 2027-07-24 2027-08-07  eight weeks; those that the plan holds are hidden from Theo
invitations       2027-07-13 2027-07-24 2027-08-07
rooms             2027-07-13 2027-07-31 2027-08-10
ceremony          2027-06-26 2027-08-07 2027-08-28
rehearsal-call    2027-07-10 2027-08-14 2027-09-04
second-fitting    2027-08-14 2027-08-21 2027-08-28
licence           2027-08-16 2027-08-27 2027-09-14
replies           2027-08-14 2027-08-28 2027-08-28
timeline          2027-08-27 2027-08-28 2027-09-02
count             2027-08-21 2027-09-01 2027-09-01
last-fitting      2027-09-04 2027-09-07 2027-09-11
seating           2027-08-28 2027-09-08 2027-09-08
licence-in-hand   2027-08-19 2027-09-10 2027-09-17
confirm           2027-09-04 2027-09-11 2027-09-15
place-cards       2027-09-08 2027-09-14 2027-09-17
envelopes         2027-09-11 2027-09-15 2027-09-17
try-on            2027-09-16 2027-09-16 2027-09-17
licence-return    2027-09-20 2027-09-20 2027-09-28  within 10 days
thank-you-notes   2027-09-19 2027-10-16 2027-12-18
`
	// Planned from Sat 10 Jul 2027, and nothing is ordered yet: the dress and
	// the suits are only quoted. No engagement party and no save-the-dates:
	// there is no time for them. The proofs were due on 26 Jun, so they are
	// approved on the first day, and printed by 24 Jul.
	tenWeeks = `
guest-list        2027-07-13 2027-07-13 2027-07-28  a week before the addresses
attire            2027-07-17 2027-07-17 2027-03-20  119: off the rack
guest-addresses   2027-07-20 2027-07-20 2027-08-04  three days before the last day to post
party-attire      2027-07-24 2027-07-24 2027-06-19  35: off the rack
invitations       2027-07-27 2027-07-27 2027-08-07
rooms             2027-07-27 2027-07-31 2027-08-10
ceremony          2027-07-24 2027-08-07 2027-08-28
rings             2027-08-07 2027-08-07 2027-08-07  four weeks to make
rehearsal-call    2027-07-10 2027-08-14 2027-09-04
licence           2027-08-16 2027-08-27 2027-09-14
replies           2027-08-17 2027-08-28 2027-08-28  guests have three weeks
timeline          2027-08-27 2027-08-28 2027-09-02
count             2027-08-21 2027-09-01 2027-09-01
seating           2027-08-28 2027-09-08 2027-09-08
licence-in-hand   2027-08-19 2027-09-10 2027-09-17
confirm           2027-09-04 2027-09-11 2027-09-15
place-cards       2027-09-08 2027-09-14 2027-09-17
envelopes         2027-09-11 2027-09-15 2027-09-17
try-on            2027-09-16 2027-09-16 2027-09-17
licence-return    2027-09-20 2027-09-20 2027-09-28  within 10 days
thank-you-notes   2027-09-19 2027-10-16 2027-12-18
`
)

// engagement is the demo's plan with its countdown planned from another day,
// as it comes, and with more changes to the text of its file.
func engagement(t testing.TB, from string, changes ...string) (*milestones.Plan, milestones.Closures) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "testdata", "plans", "maren-and-theo.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	plan := string(text)
	if from != "" {
		head, rest, _ := strings.Cut(plan, "\ncountdown:\n")
		_, rest, found := strings.Cut(rest, "\nlicence:")
		if !found {
			t.Fatal("the demo's plan has no countdown before its licence")
		}
		plan = head + "\ncountdown: {planning from: " + from + "}\nlicence:" + rest
	}
	for n := 0; n < len(changes); n += 2 {
		if !strings.Contains(plan, changes[n]) {
			t.Fatalf("the demo's plan does not hold %q", changes[n])
		}
		plan = strings.Replace(plan, changes[n], changes[n+1], 1)
	}
	doc, err := store.ReadPlan("plan", []byte(plan))
	if err != nil {
		t.Fatal(err)
	}
	closures, _ := conflicts.ClosuresFor(doc.Plan.Wedding.Region)
	return doc.Plan, closures
}

// table is the countdown of p as the tables above write it.
func table(p *milestones.Plan, c milestones.Closures) []string {
	day := func(d milestones.Date) string {
		if d.IsZero() {
			return "-"
		}
		return d.String()
	}
	var rows []string
	for _, i := range milestones.CountDown(p, c).Items {
		late := ""
		if i.LateBy != nil {
			late = fmt.Sprint(" ", *i.LateBy)
		}
		_, key, _ := strings.Cut(i.ID, "/")
		rows = append(rows, fmt.Sprintf("%s %s %s %s%s", key, day(i.Aim.Earliest), day(i.Date), day(i.Aim.Latest), late))
	}
	return rows
}

// written are the rows of a table above, without what is said beside them.
func written(text string) []string {
	var rows []string
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		words := strings.Fields(line)
		row := strings.Join(words[:4], " ")
		if len(words) > 4 && strings.HasSuffix(words[4], ":") && words[4] != "done:" {
			row += " " + strings.TrimSuffix(words[4], ":")
		}
		rows = append(rows, row)
	}
	return rows
}

func compare(t *testing.T, got, want []string) {
	t.Helper()
	for _, row := range want {
		if !slices.Contains(got, row) {
			t.Errorf("by hand, and not from the code: %s", row)
		}
	}
	for _, row := range got {
		if !slices.Contains(want, row) {
			t.Errorf("from the code, and not by hand: %s", row)
		}
	}
	if !t.Failed() && !slices.Equal(got, want) {
		t.Errorf("in another order:\n%s", strings.Join(got, "\n"))
	}
}

// quoted are the changes that take back the orders of the dress and the suits.
var quoted = []string{
	"service: dress\n    standing: signed", "service: dress\n    standing: quoted",
	"service: suits\n    standing: signed", "service: suits\n    standing: quoted",
}

func TestThreeEngagements(t *testing.T) {
	for _, row := range []struct {
		name, from, want string
		changes          []string
	}{
		{"fourteen months", "2026-07-18", fourteenMonths, nil},
		{"ten months", "2026-11-18", tenMonths, nil},
		{"ten weeks", "2027-07-10", tenWeeks, quoted},
	} {
		t.Run(row.name, func(t *testing.T) {
			p, c := engagement(t, row.from, row.changes...)
			compare(t, table(p, c), written(row.want))
		})
	}
}
