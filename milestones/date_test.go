package milestones

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestAddMonths(t *testing.T) {
	rows := []struct {
		from   Date
		n      int
		want   Date
		source string
	}{
		{d(2027, 8, 31), -6, d(2027, 2, 28), "New Mexico Stat. 12-2A-7"},
		{d(2028, 8, 31), -6, d(2028, 2, 29), "New Mexico Stat. 12-2A-7"},
		{d(2027, 3, 31), -1, d(2027, 2, 28), "New Mexico Stat. 12-2A-7"},
		{d(2027, 3, 31), 1, d(2027, 4, 30), "New Mexico Stat. 12-2A-7"},
		{d(2028, 2, 29), 12, d(2029, 2, 28), "New Mexico Stat. 12-2A-7"},
		{d(2028, 2, 29), -48, d(2024, 2, 29), "New Mexico Stat. 12-2A-7"},
		{d(2100, 3, 31), -1, d(2100, 2, 28), "2100 is no leap year"},
		{d(2000, 3, 31), -1, d(2000, 2, 29), "2000 is one"},
		{d(2027, 2, 28), 6, d(2027, 8, 28), "the day number stays: no month's end is sought"},
		{d(2027, 9, 18), -9, d(2026, 12, 18), "common practice"},
		{d(2027, 1, 15), -13, d(2025, 12, 15), "common practice"},
		{d(2026, 12, 31), 2, d(2027, 2, 28), "common practice"},
		{d(2027, 9, 18), 0, d(2027, 9, 18), "common practice"},
	}
	for _, row := range rows {
		if got := row.from.AddMonths(row.n); got != row.want {
			t.Errorf("%s %+d months = %s, want %s (%s)", row.from, row.n, got, row.want, row.source)
		}
	}
}

func TestAddDays(t *testing.T) {
	rows := []struct {
		from   Date
		n      int
		want   Date
		day    time.Weekday
		source string
	}{
		{d(2007, 8, 22), 10, d(2007, 9, 1), time.Saturday, "Fed. R. Civ. P. 6(a)"},
		{d(2002, 5, 15), 60, d(2002, 7, 14), time.Sunday, "Minn. Stat. 645.15"},
		{d(2027, 9, 18), -14, d(2027, 9, 4), time.Saturday, "common practice"},
		{d(2026, 9, 12), -365, d(2025, 9, 12), time.Friday, "UBC Cecil Green Park House"},
		{d(2026, 9, 12), -90, d(2026, 6, 14), time.Sunday, "UBC Cecil Green Park House"},
		{d(2028, 3, 1), -1, d(2028, 2, 29), time.Tuesday, "leap year"},
		{d(2027, 1, 1), -1, d(2026, 12, 31), time.Thursday, "common practice"},
	}
	for _, row := range rows {
		got := row.from.AddDays(row.n)
		if got != row.want || got.Weekday() != row.day {
			t.Errorf("%s %+d days = %s, a %s, want %s, a %s (%s)", row.from, row.n, got, got.Weekday(), row.want, row.day, row.source)
		}
		if back := got.DaysSince(row.from); back != row.n {
			t.Errorf("%s.DaysSince(%s) = %d, want %d", got, row.from, back, row.n)
		}
	}
}

// A time.Duration would end at 292 years.
func TestDaysSinceCenturies(t *testing.T) {
	if got := d(2400, 1, 1).DaysSince(d(2000, 1, 1)); got != 146_097 {
		t.Errorf("400 Gregorian years have %d days, want 146,097", got)
	}
}

func TestParseDate(t *testing.T) {
	rows := []struct {
		text string
		want Date // zero: refused
	}{
		{"2027-09-18", d(2027, 9, 18)},
		{"2028-02-29", d(2028, 2, 29)},
		{"2027-02-29", Date{}},
		{"2027-02-30", Date{}},
		{"2027-13-01", Date{}},
		{"2027-9-18", Date{}},
		{"18.9.2027", Date{}},
		{"2027-09-18T00:00", Date{}},
		{"", Date{}},
	}
	for _, row := range rows {
		got, err := ParseDate(row.text)
		if got != row.want || (err == nil) == row.want.IsZero() {
			t.Errorf("ParseDate(%q) = %v, %v, want %v", row.text, got, err, row.want)
		}
	}
}

func TestDateWords(t *testing.T) {
	rows := []struct {
		day        Date
		iso, words string
	}{
		{d(2027, 9, 18), "2027-09-18", "Sat 18 Sep 2027"},
		{d(2027, 3, 1), "2027-03-01", "Mon 1 Mar 2027"},
		{Date{}, "", ""},
	}
	for _, row := range rows {
		if row.day.String() != row.iso || row.day.Words() != row.words {
			t.Errorf("%q, %q, want %q, %q", row.day.String(), row.day.Words(), row.iso, row.words)
		}
		text, _ := row.day.MarshalText()
		var back Date
		if err := back.UnmarshalText(text); err != nil || back != row.day {
			t.Errorf("%q reads back as %v, %v", text, back, err)
		}
	}
}

func TestDateExists(t *testing.T) {
	for day, want := range map[Date]bool{
		d(2027, 2, 28): true, d(2027, 2, 29): false, d(2028, 2, 29): true, d(2100, 2, 29): false,
		d(2027, 4, 31): false, d(2027, 13, 1): false, d(2027, 1, 0): false,
	} {
		if day.Exists() != want {
			t.Errorf("%v exists: %t, want %t", day, !want, want)
		}
	}
}

func anyDate(from, to int) *rapid.Generator[Date] {
	return rapid.Custom(func(t *rapid.T) Date {
		first := d(from, 1, 1)
		return first.AddDays(rapid.IntRange(0, d(to, 12, 31).DaysSince(first)).Draw(t, "day"))
	})
}

// Three ways of ordering two days agree, and stepping undoes itself.
func TestDateOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyDate(1900, 2200).Draw(t, "a"), anyDate(1900, 2200).Draw(t, "b")
		n := a.DaysSince(b)
		if b.AddDays(n) != a {
			t.Fatalf("%s and %d days is %s, not %s", b, n, b.AddDays(n), a)
		}
		if a.After(b) != (n > 0) || a.Before(b) != (n < 0) || (a.Compare(b) == 0) != (a == b) {
			t.Fatalf("%s and %s compare as %d, and are %d days apart", a, b, a.Compare(b), n)
		}
		if a.After(b) != (a.String() > b.String()) {
			t.Fatalf("%s and %s sort otherwise as text", a, b)
		}
	})
}
