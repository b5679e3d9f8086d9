package feed_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/milestones"
)

// due is something to be done on a day, as it is wanted on a feed.
func due(key, title string, day milestones.Date) feed.Published {
	return feed.Published{Entry: feed.Entry{UID: key, ID: key, Kind: milestones.KindPaper, Title: title, Date: day, ActBy: day}}
}

// today is the day of stamp.
var today = milestones.DateOf(stamp)

func revise(ledger []feed.Row, now time.Time, wanted ...feed.Published) []feed.Row {
	return feed.Revise(ledger, wanted, now, milestones.DateOf(now), time.Time{})
}

// rowOf is the one row of a UID.
func rowOf(t *testing.T, rows []feed.Row, uid string) feed.Row {
	t.Helper()
	at := slices.IndexFunc(rows, func(r feed.Row) bool { return r.UID == uid })
	if at < 0 {
		t.Fatalf("the ledger has lost %s", uid)
	}
	return rows[at]
}

func TestUnchangedKeepsItsStamps(t *testing.T) {
	plan := due("plan", "Floor plan", d(2027, 8, 19))
	first := revise(nil, stamp, plan)
	if row := rowOf(t, first, "plan"); row.Sequence != 0 || !row.Changed.Equal(stamp) {
		t.Errorf("a new entry has sequence %d of %v", row.Sequence, row.Changed)
	}
	if diff := cmp.Diff(first, revise(first, stamp.AddDate(0, 1, 0), plan)); diff != "" {
		t.Errorf("nothing changed but:\n%s", diff)
	}
}

// TestWhatChanges has each thing that a client sees raise both stamps.
func TestWhatChanges(t *testing.T) {
	later := stamp.Add(time.Hour)
	first := revise(nil, stamp, due("plan", "Floor plan", d(2027, 8, 19)))
	for name, change := range map[string]func(*feed.Published){
		"title": func(p *feed.Published) { p.Title = "Signed floor plan" },
		"day":   func(p *feed.Published) { p.ActBy = d(2027, 8, 18) },
		"hour":  func(p *feed.Published) { p.Clock, p.Zone, p.HomeZone = hm(17, 0), detroit, detroit },
		"note":  func(p *feed.Published) { p.Note = "two copies" },
		"alarm": func(p *feed.Published) { p.Alarm = true },
		"link":  func(p *feed.Published) { p.Link = "https://banns.example/p/y" },
		"done":  func(p *feed.Published) { p.Done = d(2027, 8, 1) },
		"quote": func(p *feed.Published) { p.Standing = milestones.Quoted },
	} {
		wanted := first[0].Published
		change(&wanted)
		row := rowOf(t, revise(first, later, wanted), "plan")
		if row.Sequence != 1 || !row.Changed.Equal(later) || row.Hash == first[0].Hash {
			t.Errorf("%s: sequence %d of %v", name, row.Sequence, row.Changed)
		}
	}
}

// TestClockSetBack never lets a stamp fall: a client would think it has the
// newer one.
func TestClockSetBack(t *testing.T) {
	first := revise(nil, stamp, due("plan", "Floor plan", d(2027, 8, 19)))
	row := rowOf(t, revise(first, stamp.AddDate(0, 0, -9), due("plan", "Other plan", d(2027, 8, 19))), "plan")
	if want := stamp.Add(time.Second); row.Sequence != 1 || !row.Changed.Equal(want) {
		t.Errorf("sequence %d of %v, want 1 of %v", row.Sequence, row.Changed, want)
	}
}

func TestWithdrawnForSixtyDays(t *testing.T) {
	first := revise(nil, stamp, due("plan", "Floor plan", d(2027, 8, 19)))
	gone := revise(first, stamp.Add(time.Hour))
	row := rowOf(t, gone, "plan")
	if !row.Withdrawn || row.Gone || row.Sequence != 1 || !row.Went.Equal(stamp.Add(time.Hour)) || row.Title != "Floor plan" {
		t.Fatalf("withdrawn, it is %+v", row)
	}
	for _, step := range []struct {
		days  int
		shown int
	}{{1, 1}, {59, 1}, {60, 0}, {400, 0}} {
		rows := revise(gone, row.Went.AddDate(0, 0, step.days))
		if shown := feed.Shown(rows); len(shown) != step.shown {
			t.Errorf("after %d days %d are shown, want %d", step.days, len(shown), step.shown)
		}
		if r := rowOf(t, rows, "plan"); r.Sequence != 1 || !r.Changed.Equal(row.Changed) {
			t.Errorf("after %d days its stamps are %d of %v", step.days, r.Sequence, r.Changed)
		}
	}
}

// TestWithdrawnByAClockSetBack is shown for sixty days of what clients have
// seen, and not of the clock's own.
func TestWithdrawnByAClockSetBack(t *testing.T) {
	back := stamp.AddDate(0, 0, -50)
	rows := revise(revise(nil, stamp, due("plan", "Floor plan", d(2027, 8, 19))), back)
	rows = revise(rows, stamp.AddDate(0, 0, 59))
	if shown := feed.Shown(rows); len(shown) != 1 {
		t.Errorf("%d are shown on the fifty-ninth day", len(shown))
	}
	if shown := feed.Shown(revise(rows, stamp.AddDate(0, 0, 61))); len(shown) != 0 {
		t.Errorf("%d are shown after sixty days", len(shown))
	}
}

// TestPastGoesSilently has no client told of what is over anyhow.
func TestPastGoesSilently(t *testing.T) {
	for _, row := range []struct {
		day   milestones.Date
		shown int
	}{{today.AddDays(-1), 0}, {today, 1}, {today.AddDays(1), 1}} {
		rows := revise(revise(nil, stamp, due("plan", "Floor plan", row.day)), stamp)
		if shown := feed.Shown(rows); len(shown) != row.shown {
			t.Errorf("of %v, %d are shown, want %d", row.day, len(shown), row.shown)
		}
		if len(rows) != 1 {
			t.Errorf("of %v, the ledger has %d rows", row.day, len(rows))
		}
	}
}

// TestUndatedIsWithdrawn has what lost its day go like what was struck out.
func TestUndatedIsWithdrawn(t *testing.T) {
	first := revise(nil, stamp, due("plan", "Floor plan", d(2027, 8, 19)))
	row := rowOf(t, revise(first, stamp, due("plan", "Floor plan", milestones.Date{})), "plan")
	if !row.Withdrawn || row.Date != d(2027, 8, 19) {
		t.Errorf("without a day it is %+v", row)
	}
}

func TestReturnGoesOn(t *testing.T) {
	plan := due("plan", "Floor plan", d(2027, 8, 19))
	for _, away := range []int{1, 100} { // still shown as withdrawn, and long gone
		rows := revise(revise(nil, stamp, plan), stamp)
		back := stamp.AddDate(0, 0, away)
		rows = revise(rows, back.Add(-time.Hour))
		row := rowOf(t, revise(rows, back, plan), "plan")
		if row.Sequence != 2 || !row.Changed.Equal(back) || row.Withdrawn || row.Gone || !row.Went.IsZero() {
			t.Errorf("back after %d days it is %+v", away, row)
		}
	}
}

// TestPastComesBack has what went without a word come back as it was: nobody
// was told, so that nothing has changed.
func TestPastComesBack(t *testing.T) {
	over := due("plan", "Floor plan", today.AddDays(-1))
	first := revise(nil, stamp, over)
	if diff := cmp.Diff(first, revise(revise(first, stamp), stamp.Add(time.Hour), over)); diff != "" {
		t.Error(diff)
	}
}

// TestWithdrawnInOtherWords has a release that words a withdrawn entry
// otherwise raise its stamps as well.
func TestWithdrawnInOtherWords(t *testing.T) {
	went, later := stamp.Add(time.Minute), stamp.Add(time.Hour)
	rows := revise(revise(nil, stamp, due("plan", "Floor plan", d(2027, 8, 19))), went)
	rows[0].Hash = "as an older release had it"
	if row := rowOf(t, revise(rows, later), "plan"); row.Sequence != 2 || !row.Changed.Equal(later) || !row.Went.Equal(went) {
		t.Errorf("it is %+v", row)
	}
}

// TestUID is a name for good: not of the title, the day or the address.
func TestUID(t *testing.T) {
	p, items := demo(t)
	before := calendarOf(p, items, "bea", feed.ByBoth)
	p.Wedding.Title, p.Wedding.Date = "Theo and Maren", d(2027, 10, 2)
	for n := range p.Agreements {
		p.Agreements[n].With = "Another"
	}
	who, _ := p.Person("bea")
	who.Key, who.Was, who.Name = "mother", "bea", "Beatrix"
	for n := range items {
		items[n].Title, items[n].Date = "Other", items[n].Date.AddDays(14)
		for k := range items[n].For {
			if items[n].For[k] == "bea" {
				items[n].For[k] = "mother"
			}
		}
	}
	for n := range p.Agreements {
		if p.Agreements[n].Payer == "bea" {
			p.Agreements[n].Payer = "mother"
		}
	}
	after := calendarOf(p, items, "mother", feed.ByBoth)
	uids := func(c feed.Calendar) (all []string) {
		for _, e := range c.Published {
			all = append(all, e.UID)
		}
		slices.Sort(all)
		return all
	}
	if diff := cmp.Diff(uids(before), uids(after)); diff != "" {
		t.Error(diff)
	}
}

// TestUIDsDiffer has each part of what an entry is make another name.
func TestUIDsDiffer(t *testing.T) {
	seen := map[string]string{}
	for _, args := range [][4]string{{"w", "i", "p", ""}, {"w2", "i", "p", ""}, {"w", "i2", "p", ""}, {"w", "i", "p2", ""}, {"w", "i", "p", "notice"}} {
		uid := feed.UID(args[0], args[1], args[2], feed.Of(args[3]))
		if other, twice := seen[uid]; twice {
			t.Errorf("%v and %s have one UID", args, other)
		}
		seen[uid] = args[0]
	}
}
