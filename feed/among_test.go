package feed_test

import (
	"strings"
	"testing"

	"banns/feed"
	"banns/milestones"
)

// TestAmongOthers has entries say which wedding they are of, once, and whose
// hours they keep, where they stand among those of other weddings.
func TestAmongOthers(t *testing.T) {
	among := func(e feed.Entry, change func(*feed.Entry)) feed.Entry {
		e.Wedding, e.Among = "Maren and Theo", true
		change(&e)
		return e
	}
	as := func(*feed.Entry) {}
	bill := feed.Entry{Kind: milestones.KindPayment, Agreement: "catering", Title: "Pay Hollow Oak Table: balance", With: "Hollow Oak Table",
		Date: d(2027, 9, 4), HomeZone: detroit, Currency: "USD", Amount: milestones.Exactly(518_000), Standing: milestones.Signed}
	headcount := deadline(d(2027, 9, 2), hm(17, 0), detroit)
	for _, row := range []struct {
		entry         feed.Entry
		summary, what string
	}{
		{among(bill, as), "Pay Hollow Oak Table $5,180.00: balance (Maren and Theo)", "Pay Hollow Oak Table $5,180.00: balance"},
		{among(bill, func(e *feed.Entry) { e.Of = feed.Notice }),
			"By Sat 4 Sep: Pay Hollow Oak Table $5,180.00: balance (Maren and Theo)", "By Sat 4 Sep: Pay Hollow Oak Table $5,180.00: balance"},
		{among(bill, func(e *feed.Entry) { e.Standing = milestones.Quoted }),
			"Pay Hollow Oak Table $5,180.00: balance (Maren and Theo, only quoted)", "Pay Hollow Oak Table $5,180.00: balance (only quoted)"},
		{among(bill, func(e *feed.Entry) { e.Vendor, e.Title, e.With = true, "Payment from Maren and Theo", "Maren and Theo" }),
			"Payment from Maren and Theo $5,180.00", "Payment from Maren and Theo $5,180.00"},
		{among(bill, func(e *feed.Entry) { e.Vendor, e.Title = true, "Floor plan" }), "Floor plan $5,180.00 (Maren and Theo)", "Floor plan $5,180.00"},
		{among(headcount, as), "Hollow Oak Table: final headcount by 17:00 Detroit time (Maren and Theo)", "Hollow Oak Table: final headcount by 17:00 Detroit time"},
		{among(headcount, func(e *feed.Entry) { e.Clock = hm(0, 0) }),
			"Hollow Oak Table: final headcount by the end of the day Detroit time (Maren and Theo)", "Hollow Oak Table: final headcount by the end of the day Detroit time"},
		{among(meeting(d(2027, 9, 18), hm(20, 0), hm(1, 0), detroit), as), "Fitting (Maren and Theo)", "Fitting"},
		{among(feed.Entry{Kind: milestones.KindWedding, Title: "Maren and Theo", Date: d(2027, 9, 18)}, as), "Maren and Theo: the wedding", "Maren and Theo: the wedding"},
	} {
		if got := row.entry.Summary(); got != row.summary {
			t.Errorf("says %q, want %q", got, row.summary)
		}
		if got := row.entry.What(); got != row.what {
			t.Errorf("beside its wedding says %q, want %q", got, row.what)
		}
		off := published(row.entry)
		off.Withdrawn = true
		if got := vevent(t, off)["SUMMARY"]; !strings.Contains(got, "Maren and Theo") {
			t.Errorf("withdrawn it says %q", got)
		}
	}
	meet := among(meeting(d(2027, 9, 18), hm(20, 0), hm(1, 0), detroit), as)
	if got, want := meet.Hours(), "20:00 to 01:00 Detroit time"; got != want {
		t.Errorf("hours are %q, want %q", got, want)
	}
	if got, want := headcount.Text(), "Due by Thu 2 Sep 2027, 17:00."; !strings.HasPrefix(got, want) {
		t.Errorf("alone it says %q, want %q", got, want)
	}
}

// TestRenamedWedding raises the stamps of what names the wedding, and of
// nothing else.
func TestRenamedWedding(t *testing.T) {
	for _, among := range []bool{true, false} {
		plan := due("plan", "Floor plan", d(2027, 8, 19))
		plan.Wedding, plan.Among = "Maren and Theo", among
		first := revise(nil, stamp, plan)
		plan.Wedding = "Theo and Maren"
		want := 0
		if among {
			want = 1
		}
		if row := rowOf(t, revise(first, stamp.AddDate(0, 0, 1), plan), "plan"); row.Sequence != want {
			t.Errorf("among others: %v; sequence %d, want %d", among, row.Sequence, want)
		}
	}
}
