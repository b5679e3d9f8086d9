package conflicts

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"banns/milestones"
)

// prayerBookEaster finds Easter as the table of the Book of Common Prayer
// tells its reader to, for the years 1900 to 2199: the golden number is the
// remainder of the year and 1, divided by 19; the Sunday letter of 1900 to
// 2099 is that of the year, its fourth part and 6, and from 2100 on 5, divided
// by 7, where 0 is A, 1 is G and so on.
func prayerBookEaster(t *testing.T, year int) milestones.Date {
	t.Helper()
	more := 6
	if year >= 2100 {
		more = 5
	}
	golden, letter := (year+1)%19, "AGFEDCB"[(year+year/4+more)%7]
	if golden == 0 {
		golden = 19
	}
	moon := false
	for _, row := range lines(t, "easter_prayer_book.txt") {
		var number, day int
		var month, name string
		if _, err := fmt.Sscan(row, &number, &month, &day, &name); err != nil {
			t.Fatalf("%s: %v", row, err)
		}
		if moon && name[0] == letter {
			return d(year, map[string]time.Month{"March": time.March, "April": time.April}[month], day)
		}
		moon = moon || number == golden
	}
	t.Fatalf("%d: no such day in the table", year)
	return milestones.Date{}
}

func TestEasterAgainstThePrayerBook(t *testing.T) {
	for year := 1900; year <= 2199; year++ {
		if got, want := Easter(year), prayerBookEaster(t, year); got != want {
			t.Errorf("%d: %s, the prayer book has %s", year, got.Words(), want.Words())
		}
	}
}

func TestEasterAgainstTheNavalObservatory(t *testing.T) {
	seen := 0
	for _, row := range lines(t, "easter_usno.txt") {
		for f := strings.Fields(row); len(f) >= 3; f = f[3:] {
			on, err := time.Parse("2006 January 2", strings.Join(f[:3], " "))
			if err != nil {
				t.Fatal(err)
			}
			seen++
			if want := milestones.DateOf(on); Easter(want.Year) != want {
				t.Errorf("%s, published %s", Easter(want.Year).Words(), want.Words())
			}
		}
	}
	if seen != 45 {
		t.Errorf("%d years were compared, not 45", seen)
	}
}

func TestEastersAgainstDateutil(t *testing.T) {
	rows := outside(t, ".", "apt-get install python3-dateutil", "/usr/bin/python3", "testdata/easter.py", "1583", "2200")
	for i, row := range rows {
		year := 1583 + i
		if got := fmt.Sprint(Easter(year), " ", Pascha(year)); got != row {
			t.Errorf("%d: %s, there %s", year, got, row)
		}
	}
	if len(rows) != 2200-1583+1 {
		t.Errorf("%d years were compared", len(rows))
	}
}

// Years in which the two are the same, and the one where they are furthest
// apart, as the churches kept them: from memory of the tables. 2027: the check
// values of the trade's facts.
func TestPascha(t *testing.T) {
	rows := []milestones.Date{
		d(2010, 4, 4), d(2011, 4, 24), d(2014, 4, 20), d(2017, 4, 16), d(2025, 4, 20),
		d(2021, 5, 2), d(2024, 5, 5), d(2027, 5, 2),
	}
	for _, want := range rows {
		if got := Pascha(want.Year); got != want {
			t.Errorf("%s, want %s", got.Words(), want.Words())
		}
	}
	if got := Easter(2027); got != d(2027, 3, 28) {
		t.Errorf("Easter 2027: %s", got.Words())
	}
}
