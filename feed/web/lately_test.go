package web_test

import (
	"strings"
	"testing"
	"time"

	"banns/feed"
)

// edits are what somebody changed in the demo plan, one a day.
var edits = [][2]string{
	{"date: 2027-09-18", "date: 2027-10-02"},
	{`what: First fitting, on: 2027-07-10, at: "11:00"`, `what: First fitting, on: 2027-07-12, at: "14:00"`},
	{"final headcount 10 business days before", "final headcount 12 business days before"},
	{"      - 40% 120 days before the wedding\n", "      - {says: 40% 120 days before the wedding, done: 2026-11-28, amount: \"6083.21\"}\n"},
}

// editedSite serves the demo plan after all edits, the first a day after it
// was filled.
func editedSite(t *testing.T) *site {
	t.Helper()
	s := demoSite(t)
	allAsked(t, s)
	plan := readFile(t, demoPlan)
	for i, edit := range edits {
		next := strings.Replace(plan, edit[0], edit[1], 1)
		if next == plan {
			t.Fatalf("nothing says %q", edit[0])
		}
		plan = next
		s.goTo(winter.AddDate(0, 0, i+1))
		s.take(t, s.store, plan)
	}
	s.serve(t, "")
	return s
}

// told is what somebody's page tells of lately, a line a change.
// allAsked has everybody's calendar asked for: to whom none was, all is new and
// nothing is.
func allAsked(t *testing.T, s *site) {
	t.Helper()
	openings, err := s.store.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range openings {
		if err := s.store.NoteAsked(t.Context(), []int64{o.Feed}, winter); err != nil {
			t.Fatal(err)
		}
	}
}

func told(t *testing.T, s *site, who string) []string {
	t.Helper()
	return read(t, get(t, s.page(who)).wants(t, 200)).all(".changes li")
}

func TestChangedLately(t *testing.T) {
	s := editedSite(t)
	for who, want := range map[string][]string{
		"bea": {
			"Sun 29 Nov Paid on Sat 28 Nov 2026: the payment of $6,083.21 to Hollow Oak Table.",
			"Sat 28 Nov Hollow Oak Table: final headcount moved from Mon 20 Sep to Thu 16 Sep 2027 at 17:00, and reads",
			"Thu 26 Nov The wedding moved from Sat 18 Sep to Sat 2 Oct 2027 at 16:30, 14 days later.",
			"16 dates moved with it: 15 of them 14 days later, 1 by 18 days, as their months, business days or open days fall. The last day to cancel Hollow Oak Table for $3,802.01 moved from",
		},
		"priya": {
			"Fri 27 Nov First fitting moved from Sat 10 Jul at 11:00 to Mon 12 Jul 2027 at 14:00.",
			"Thu 26 Nov The wedding moved from Sat 18 Sep to Sat 2 Oct 2027 at 16:30, 14 days later.",
			"7 dates moved with it, 14 days later. Comb and Sable: who is having hair and makeup moved from",
		},
		"june": {
			"Sun 29 Nov Paid on Sat 28 Nov 2026: the payment of $6,083.21 from Maren and Theo.",
			"Sat 28 Nov Maren and Theo: final headcount moved from",
		},
	} {
		got := told(t, s, who)
		for n, text := range want {
			if n >= len(got) || !strings.HasPrefix(got[n], text) {
				t.Errorf("%s is told %q, want %q at %d", who, got, text, n)
			}
		}
	}
	if got := told(t, s, "theo"); strings.Contains(strings.Join(got, " "), "fitting") {
		t.Errorf("theo is told of what is hidden from him: %q", got)
	}
	if d := read(t, get(t, s.page("maren"))); !strings.HasSuffix(d.one(t, ".lately > details > summary"), " more of the last four weeks") {
		t.Error("what is older is not folded")
	}
}

// A page tells of four weeks, and then of nothing.
func TestLatelyEnds(t *testing.T) {
	s := editedSite(t)
	for _, row := range []struct {
		days int // since the last edit
		want int
	}{{24, 3}, {25, 1}, {26, 0}} { // the wedding moved, and seven dates with it; and a day later the fitting
		s.goTo(winter.AddDate(0, 0, len(edits)).Add(time.Duration(row.days) * 24 * time.Hour))
		got := told(t, s, "priya")
		if len(got) != row.want {
			t.Errorf("%d days later priya is told %q, want %d", row.days, got, row.want)
		}
		if row.want == 0 && strings.Contains(get(t, s.page("priya")).body, "Changed lately") {
			t.Error("a heading stands over nothing")
		}
	}
}

// What is new to a calendar and no change of a date is not told.
func TestNotTold(t *testing.T) {
	s := demoSite(t)
	for what, do := range map[string]func() error{
		"reminders": func() error { return s.store.SetReminders(t.Context(), s.tokens["bea"], feed.ByBoth, winter) },
		"address":   func() error { return s.store.SetPublic(t.Context(), "https://dates.example.org", winter) },
		"link":      func() error { return s.store.Revoke(t.Context(), s.name, "ada", true, winter) },
		"release":   func() error { return s.store.PublishAll(t.Context(), winter) },
		"file":      func() error { s.take(t, s.store, readFile(t, demoPlan)); return nil },
	} {
		if err := do(); err != nil {
			t.Fatal(err)
		}
		if got := told(t, s, "bea"); len(got) > 0 {
			t.Errorf("of the %s bea is told %q", what, got)
		}
	}
	// Early notices move with what they are notices of, and are not told.
	s.take(t, s.store, strings.Replace(readFile(t, demoPlan), "      - balance the Monday before the wedding\n", "      - balance the Tuesday before the wedding\n", 1))
	if got := told(t, s, "bea"); len(got) != 1 || !strings.Contains(got[0], "moved from Mon 13 Sep to Tue 14 Sep 2027") {
		t.Errorf("of one moved date bea is told %q", got)
	}
	s.take(t, s.store, readFile(t, demoPlan))
	if got := told(t, s, "bea"); len(got) > 0 {
		t.Errorf("of what was taken back the same day bea is told %q", got)
	}
}

// Whoever sees less than before is told no more of what they saw.
func TestLatelyForgets(t *testing.T) {
	s := editedSite(t)
	plan := readFile(t, demoPlan)
	for _, edit := range edits {
		plan = strings.Replace(plan, edit[0], edit[1], 1)
	}
	catering := plan[strings.Index(plan, "  catering:"):]
	payer := catering[strings.Index(catering, "    payer: bea"):]
	payer = payer[:strings.Index(payer, "\n")+1]
	s.take(t, s.store, strings.Replace(plan, payer, "    payer: ada\n", 1))
	for _, line := range told(t, s, "bea") {
		if strings.Contains(line, "$6,083.21") || strings.Contains(line, "business days before") {
			t.Errorf("bea no longer pays, and is told: %s", line)
		}
	}
	if got := strings.Join(told(t, s, "ada"), "\n"); !strings.Contains(got, "Hollow Oak Table") {
		t.Errorf("ada pays now, and is told %q", got)
	}
}

// A page of several weddings tells of each which it is; that one joined or
// left is no change of a date.
func TestLatelyOfSeveral(t *testing.T) {
	s := jointSite(t, elsewherePlan)
	if got := told(t, s, "joint"); len(got) > 0 {
		t.Errorf("of weddings that were put together it tells %q", got)
	}
	s.take(t, s.store, strings.Replace(readFile(t, demoPlan), `on: 2027-08-24, at: "10:00"`, `on: 2027-08-24, at: "09:00"`, 1))
	s.serve(t, "")
	want := "Wed 25 Nov Venue walkthrough is at 09:00 to 11:30 Detroit time, not at 10:00 to 11:30 Detroit time. Maren and Theo"
	if got := told(t, s, "joint"); len(got) != 1 || got[0] != want {
		t.Errorf("it tells %q, want %q", got, want)
	}
	if got := told(t, s, "odile"); len(got) != 1 || !strings.HasSuffix(got[0], "is at 09:00 to 11:30, not at 10:00 to 11:30.") {
		t.Errorf("the page of one wedding tells %q", got)
	}
	if _, err := s.store.Apart(t.Context(), "Odile’s weddings", []string{s.name}, winter); err != nil {
		t.Fatal(err)
	}
	if got := told(t, s, "joint"); len(got) > 0 {
		t.Errorf("of a wedding that left it tells %q", got)
	}
}
