package milestones

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := Zone(name)
	if err != nil {
		t.Fatal(err)
	}
	return loc
}

// TestNoLocalZone refuses the names by which Go calls wherever the program
// runs.
func TestNoLocalZone(t *testing.T) {
	for _, name := range []string{"Local", "", "local", "Detroit", "../UTC"} {
		if loc, err := Zone(name); err == nil {
			t.Errorf("%q is %v", name, loc)
		}
		if loc := ZoneOrUTC(name); loc != time.UTC {
			t.Errorf("%q is taken for %v", name, loc)
		}
	}
}

// The changes are those of the IANA time zone database.
func TestClockOn(t *testing.T) {
	rows := []struct {
		zone  string
		day   Date
		clock Clock
		want  string // RFC 3339, so with the offset
		why   string
	}{
		{"America/Detroit", d(2027, 9, 18), Clock{16, 30, false}, "2027-09-18T16:30:00-04:00", "an ordinary hour"},
		{"America/Detroit", d(2027, 11, 7), Clock{0, 59, false}, "2027-11-07T00:59:00-04:00", "before clocks go back"},
		{"America/Detroit", d(2027, 11, 7), Clock{1, 30, false}, "2027-11-07T01:30:00-04:00", "repeated: the first pass"},
		{"America/Detroit", d(2027, 11, 7), Clock{1, 30, true}, "2027-11-07T01:30:00-05:00", "repeated: the second"},
		{"America/Detroit", d(2027, 11, 7), Clock{2, 0, false}, "2027-11-07T02:00:00-05:00", "after clocks went back"},
		{"America/Detroit", d(2027, 11, 7), Clock{2, 0, true}, "2027-11-07T02:00:00-05:00", "no second pass to be had"},
		{"America/Detroit", d(2027, 3, 14), Clock{1, 59, false}, "2027-03-14T01:59:00-05:00", "before clocks go forward"},
		{"America/Detroit", d(2027, 3, 14), Clock{2, 30, false}, "2027-03-14T03:30:00-04:00", "skipped: the offset from before, RFC 5545 3.3.5"},
		{"America/Detroit", d(2027, 3, 14), Clock{3, 0, false}, "2027-03-14T03:00:00-04:00", "after clocks went forward"},
		{"America/Santiago", d(2026, 9, 6), Clock{0, 0, false}, "2026-09-06T01:00:00-03:00", "the day has no midnight"},
		{"America/Santiago", d(2026, 9, 6), Clock{0, 30, false}, "2026-09-06T01:30:00-03:00", "skipped"},
		{"America/Santiago", d(2026, 4, 4), Clock{23, 30, false}, "2026-04-04T23:30:00-03:00", "repeated across midnight: the first pass"},
		{"America/Santiago", d(2026, 4, 4), Clock{23, 30, true}, "2026-04-04T23:30:00-04:00", "repeated across midnight: the second"},
		{"America/Santiago", d(2026, 4, 5), Clock{0, 0, false}, "2026-04-05T00:00:00-04:00", "the midnight after"},
		{"Europe/Dublin", d(2027, 3, 28), Clock{1, 30, false}, "2027-03-28T02:30:00+01:00", "skipped, where summer time is the standard"},
		{"Europe/Dublin", d(2027, 10, 31), Clock{1, 30, false}, "2027-10-31T01:30:00+01:00", "repeated: the first pass"},
		{"Europe/Dublin", d(2027, 10, 31), Clock{1, 30, true}, "2027-10-31T01:30:00Z", "repeated: the second"},
		{"Australia/Lord_Howe", d(2027, 4, 4), Clock{1, 45, true}, "2027-04-04T01:45:00+10:30", "half an hour is repeated"},
		{"Pacific/Apia", d(2011, 12, 30), Clock{12, 0, false}, "2011-12-31T12:00:00+14:00", "a day that was skipped"},
	}
	for _, row := range rows {
		got := row.clock.On(row.day, zone(t, row.zone)).Format(time.RFC3339)
		if got != row.want {
			t.Errorf("%s on %s in %s = %s, want %s (%s)", row.clock, row.day, row.zone, got, row.want, row.why)
		}
	}
}

// Whatever minute it is anywhere, its clock and day lead back to it.
func TestClockOfRoundTrip(t *testing.T) {
	zones := []string{"UTC", "America/Detroit", "America/Santiago", "America/Havana", "Europe/Dublin",
		"Asia/Kolkata", "Asia/Beirut", "Australia/Lord_Howe", "Pacific/Auckland", "Pacific/Chatham"}
	var changes []time.Time // whole hours near which clocks change somewhere
	for _, name := range zones {
		for at := time.Date(2026, 1, 1, 0, 0, 0, 0, zone(t, name)); at.Year() < 2029; {
			_, end := at.ZoneBounds()
			if end.IsZero() {
				break
			}
			changes, at = append(changes, end), end
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		loc, err := Zone(rapid.SampledFrom(zones).Draw(t, "zone"))
		if err != nil {
			t.Fatal(err)
		}
		near := rapid.SampledFrom(changes).Draw(t, "change")
		want := near.Add(time.Duration(rapid.IntRange(-2880, 2880).Draw(t, "minutes")) * time.Minute).In(loc)
		c := ClockOf(want)
		if got := c.On(DateOf(want), loc); !got.Equal(want) {
			t.Fatalf("%s reads back as %s", want, got)
		}
		if c.Hour != want.Hour() || c.Minute != want.Minute() {
			t.Fatalf("%s shows %s", want, c)
		}
	})
}

func TestParseClock(t *testing.T) {
	for text, want := range map[string]Clock{"00:00": {}, "16:30": {Hour: 16, Minute: 30}, "23:59": {Hour: 23, Minute: 59}} {
		got, err := ParseClock(text)
		if err != nil || got != want || got.String() != text {
			t.Errorf("ParseClock(%q) = %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"24:00", "12:60", "noon", "4pm", "1630", "16:3", ""} {
		if got, err := ParseClock(text); err == nil {
			t.Errorf("%q is taken for %s", text, got)
		}
	}
}
