package feed_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"banns/feed"
	"banns/milestones"
)

// many are so many entries of some 900 bytes, a month apart each twelve, the
// first of them in January 2025.
func many(n int, each func(i int, p *feed.Published)) feed.Calendar {
	c := feed.Calendar{Name: "Many"}
	for i := range n {
		day := d(2025, 1, 15).AddMonths(i / 12)
		p := due(fmt.Sprintf("uid-%04d", i), "Floor plan", day)
		p.Kind, p.Note, p.Changed = milestones.KindOccasion, strings.Repeat("words ", 110), stamp
		each(i, &p)
		c.Published = append(c.Published, p)
	}
	return c
}

func TestFit(t *testing.T) {
	as := func(int, *feed.Published) {}
	uids := func(body []byte) int { return strings.Count(string(body), "BEGIN:VEVENT") }
	small := many(100, as)
	if got, want := string(feed.Fit(small, today)), string(feed.Encode(small)); got != want {
		t.Error("what is short enough is not as it is")
	}
	// 1,150 entries until 2032: those of more than a year ago go, by months.
	long := many(1150, as)
	if n := len(feed.Encode(long)); n <= feed.MostBytes {
		t.Fatalf("the long calendar has %d bytes: nothing is proved", n)
	}
	body := feed.Fit(long, today) // 25 November 2026
	if len(body) > feed.MostBytes || strings.Contains(string(body), "uid-0119") || !strings.Contains(string(body), "uid-0120") {
		t.Errorf("%d bytes, %d entries; October 2025 and before should be gone", len(body), uids(body))
	}
	if got := feed.Fit(long, today.AddDays(5)); string(got) != string(body) {
		t.Error("it is another on another day of the month")
	}
	// What is late stays, and what is to come, whatever it comes to.
	late := func(i int, p *feed.Published) {
		if i < 10 {
			p.Kind, p.Standing = milestones.KindPaper, milestones.Signed
		}
	}
	body = feed.Fit(many(2000, late), today)
	for i := range 2000 {
		day := d(2025, 1, 15).AddMonths(i / 12)
		want := i < 10 || !day.Before(d(2026, 11, 1))
		if got := strings.Contains(string(body), fmt.Sprintf("uid-%04d", i)); got != want {
			t.Fatalf("entry %d of %s is there: %v", i, day, got)
		}
	}
	if len(body) <= feed.MostBytes {
		t.Error("all that is to come fits: nothing is proved")
	}
}

// TestShorten has entries leave to the page what they can, with their stamps
// raised; and those that had nothing to leave keep them.
func TestShorten(t *testing.T) {
	bill := published(feed.Entry{Kind: milestones.KindPayment, Agreement: "a", Title: "Pay Hollow Oak Table", With: "Hollow Oak Table",
		Date: d(2027, 9, 4), ActBy: d(2027, 9, 3), Shut: "Saturday", HomeZone: detroit, Currency: "USD", Amount: milestones.Exactly(50_000),
		Rule: "500 by then", Contact: "June", Standing: milestones.Signed, Questions: []string{"Is that so?"}})
	bill.Changed = time.Time{}
	gone := due("gone", "Floor plan", d(2027, 8, 19))
	rows := revise(revise(nil, stamp, bill, gone), stamp, bill)
	later := stamp.Add(time.Hour)
	short := feed.Shorten(rows, later)
	row := rowOf(t, short, "uid")
	if row.Sequence != 1 || !row.Changed.Equal(later) {
		t.Errorf("shortened, it has sequence %d of %v", row.Sequence, row.Changed)
	}
	if off := rowOf(t, short, "gone"); off.Sequence != rowOf(t, rows, "gone").Sequence {
		t.Error("what was withdrawn says no less, and has another sequence")
	}
	got := vevent(t, row.Published)
	want := `Due by Fri 3 Sep 2027.\nThe contract says Sat 4 Sep 2027\; offices are closed that day.\n` +
		`Question: Is that so?.\nThe signed contract governs.\nIn full: https://banns.example/p/x`
	if got["DESCRIPTION"] != want || got["URL"] != "" || got["SUMMARY"] != "Pay Hollow Oak Table $500.00" {
		t.Errorf("it says %q, want %q; URL %q", got["DESCRIPTION"], want, got["URL"])
	}
	if again := feed.Shorten(short, later.Add(time.Hour)); rowOf(t, again, "uid").Sequence != 1 {
		t.Error("what is short is shortened again")
	}
}
