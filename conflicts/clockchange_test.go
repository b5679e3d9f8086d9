package conflicts

import (
	"fmt"
	"testing"
	"time"

	"banns/milestones"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return loc
}

// last is the last such weekday of a month.
func lastOf(w time.Weekday, year int, m time.Month) milestones.Date {
	return nth(1, w, year, m+1).AddDays(-7)
}

// The laws that set the changes, year by year.
func TestClockChangesAgainstTheLaw(t *testing.T) {
	laws := []struct {
		zone, forward, back string
		days                func(year int) [2]milestones.Date
	}{
		// 15 USC 260a: at 2 a.m. on the second Sunday of March and the first
		// of November.
		{"America/Detroit", "02:00", "02:00", func(year int) [2]milestones.Date {
			return [2]milestones.Date{nth(2, time.Sunday, year, time.March), nth(1, time.Sunday, year, time.November)}
		}},
		// Directive 2000/84/EC: at 1 a.m. Greenwich time on the last Sundays
		// of March and October.
		{"Europe/Berlin", "02:00", "03:00", func(year int) [2]milestones.Date {
			return [2]milestones.Date{lastOf(time.Sunday, year, time.March), lastOf(time.Sunday, year, time.October)}
		}},
	}
	for _, law := range laws {
		for year := 2007; year <= 2200; year++ {
			all := ClockChanges(zone(t, law.zone), d(year, 1, 1), d(year, 12, 31))
			days := law.days(year)
			want := fmt.Sprintf("%s clocks go forward an hour at %s, %s clocks go back an hour at %s",
				days[0], law.forward, days[1], law.back)
			if len(all) != 2 {
				t.Fatalf("%s %d: %+v", law.zone, year, all)
			}
			if got := fmt.Sprintf("%s %s, %s %s", all[0].From, all[0].What, all[1].From, all[1].What); got != want {
				t.Errorf("%s: %s, want %s", law.zone, got, want)
			}
		}
	}
}

func TestClockChanges(t *testing.T) {
	rows := []struct {
		zone       string
		year       int
		what, note string // of the year's first change
		day        milestones.Date
		start      milestones.Clock
	}{
		{"America/Detroit", 2027, "clocks go forward an hour at 02:00", "02:00 becomes 03:00; the night after Sat 13 Mar 2027 is shorter",
			d(2027, 3, 14), milestones.Clock{Hour: 3}},
		// At midnight: Saturday 3 April has 25 hours, and Sunday none more.
		{"America/Santiago", 2027, "clocks go back an hour at 24:00", "24:00 becomes 23:00; the night after Sat 3 Apr 2027 is longer",
			d(2027, 4, 3), milestones.Clock{Hour: 23, Again: true}},
		{"Australia/Lord_Howe", 2027, "clocks go back half an hour at 02:00", "02:00 becomes 01:30; the night after Sat 3 Apr 2027 is longer",
			d(2027, 4, 4), milestones.Clock{Hour: 1, Minute: 30, Again: true}},
		// Newfoundland changed at a minute past midnight, back into Saturday.
		{"America/St_Johns", 2008, "clocks go forward an hour at 00:01", "00:01 becomes 01:01; the night after Sat 8 Mar 2008 is shorter",
			d(2008, 3, 9), milestones.Clock{Hour: 1, Minute: 1}},
		// Samoa moved over the date line, and had no 30 December.
		{"Pacific/Apia", 2011, "clocks go back an hour at 04:00", "04:00 becomes 03:00; the night after Fri 1 Apr 2011 is longer",
			d(2011, 4, 2), milestones.Clock{Hour: 3, Again: true}},
	}
	for _, r := range rows {
		all := ClockChanges(zone(t, r.zone), d(r.year, 1, 1), d(r.year, 12, 31))
		if len(all) == 0 {
			t.Errorf("%s: no change", r.zone)
			continue
		}
		e := all[0]
		if e.What != r.what || e.Note != r.note || e.From != r.day || e.To != r.day || *e.Start != r.start || e.Kind != Clocks {
			t.Errorf("%s: %+v %+v\nwant %+v", r.zone, e, *e.Start, r)
		}
	}
	samoa := ClockChanges(zone(t, "Pacific/Apia"), d(2011, 12, 1), d(2012, 1, 31))
	if len(samoa) != 1 || samoa[0].From != d(2011, 12, 31) || samoa[0].Note != "24:00 becomes 00:00" {
		t.Errorf("Samoa: %+v", samoa)
	}
}

func TestClockChangesOnlyWhereAsked(t *testing.T) {
	detroit := zone(t, "America/Detroit")
	rows := []struct {
		zone        *time.Location
		first, last milestones.Date
		n           int
	}{
		{detroit, d(2027, 3, 14), d(2027, 3, 14), 1},
		{detroit, d(2027, 3, 15), d(2027, 11, 6), 0},
		{detroit, d(2027, 3, 1), d(2027, 3, 13), 0},
		{detroit, d(2026, 1, 1), d(2027, 12, 31), 4},
		{detroit, d(2027, 12, 31), d(2027, 1, 1), 0},
		{zone(t, "America/Santiago"), d(2027, 4, 3), d(2027, 4, 3), 1},
		{zone(t, "America/Santiago"), d(2027, 4, 4), d(2027, 4, 4), 0},
		{zone(t, "Asia/Tokyo"), d(2026, 1, 1), d(2200, 12, 31), 0},
		{zone(t, "America/Phoenix"), d(2026, 1, 1), d(2200, 12, 31), 0},
		{time.UTC, d(1900, 1, 1), d(2200, 12, 31), 0},
	}
	for _, r := range rows {
		if all := ClockChanges(r.zone, r.first, r.last); len(all) != r.n {
			t.Errorf("%s %s to %s: %d changes, want %d: %+v", r.zone, r.first, r.last, len(all), r.n, all)
		}
	}
}
