package conflicts

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func wall(year int, m time.Month, day, hour, minute int) time.Time {
	return time.Date(year, m, day, hour, minute, 0, 0, time.UTC)
}

// expanded is what a rule comes to between two moments.
func expanded(t interface{ Fatal(...any) }, text string, start, first, last time.Time) (all []time.Time) {
	r, err := parseRule(text)
	if err != nil {
		t.Fatal(text, err)
	}
	var x repeater
	if err := x.expand(r, start, first, last, func(t time.Time) bool { all = append(all, t); return true }); err != nil {
		t.Fatal(text, err)
	}
	return all
}

// Where looking begins late, what comes before is skipped; what comes after
// must not differ.
func TestSkippingChangesNothing(t *testing.T) {
	rules := []string{"FREQ=DAILY", "FREQ=DAILY;BYMONTH=5,9", "FREQ=WEEKLY", "FREQ=WEEKLY;BYDAY=MO,SA,SU;WKST=SU", "FREQ=WEEKLY;BYDAY=MO,SA,SU", "FREQ=MONTHLY",
		"FREQ=MONTHLY;BYMONTHDAY=-1,31", "FREQ=MONTHLY;BYDAY=2SA", "FREQ=MONTHLY;BYDAY=SA;BYSETPOS=-1", "FREQ=YEARLY", "FREQ=YEARLY;BYMONTH=7;BYDAY=1SA",
		"FREQ=YEARLY;BYWEEKNO=1,53;BYDAY=MO", "FREQ=YEARLY;BYYEARDAY=1,366,-1", "FREQ=YEARLY;BYMONTHDAY=31"}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom(rules).Draw(t, "rule")
		interval := rapid.IntRange(1, 5).Draw(t, "interval")
		start := wall(1996, 1, 1, 19, 30).AddDate(0, 0, rapid.IntRange(0, 1500).Draw(t, "start"))
		first := start.AddDate(0, 0, rapid.IntRange(0, 9000).Draw(t, "first"))
		last := first.AddDate(3, 0, 0)
		text += fmt.Sprintf(";INTERVAL=%d", interval)
		want := slices.DeleteFunc(expanded(t, text, start, start, last), func(t time.Time) bool { return t.Before(first) })
		got := expanded(t, text, start, first, last)
		if !slices.Equal(got, want) {
			t.Errorf("%s from %s: %v, want %v", text, first, got, want)
		}
	})
}

// A rule by month that begins on the 31st has no day in a short month.
func TestLateDays(t *testing.T) {
	for _, row := range []struct {
		rule        string
		start, want time.Time
	}{
		{"FREQ=MONTHLY", wall(2020, 1, 31, 0, 0), wall(2027, 3, 31, 0, 0)},
		{"FREQ=YEARLY", wall(2020, 2, 29, 0, 0), wall(2028, 2, 29, 0, 0)},
	} {
		if got := expanded(t, row.rule, row.start, wall(2027, 2, 15, 0, 0), wall(2028, 3, 1, 0, 0)); got[0] != row.want {
			t.Errorf("%s from %s: %s is first, want %s", row.rule, row.start, got[0], row.want)
		}
	}
}

func TestRulesThatAreRefused(t *testing.T) {
	rows := []struct{ rule, says string }{
		{"", "the rule cannot be read"},
		{"COUNT=3", "the rule cannot be read: RRULE property FREQ is required"},
		{"FREQ=FORTNIGHTLY", "the rule cannot be read"},
		{"FREQ=DAILY;COUNT=0", `COUNT cannot be "0"`},
		{"FREQ=DAILY;COUNT=-1", `COUNT cannot be "-1"`},
		{"FREQ=DAILY;COUNT=", `COUNT cannot be ""`},
		{"FREQ=DAILY;INTERVAL=0", `INTERVAL cannot be "0"`},
		{"FREQ=DAILY;INTERVAL=10001", `INTERVAL cannot be "10001"`},
		{"FREQ=DAILY;BYEASTER=0", `"BYEASTER" is no part of a rule that is known`},
		{"FREQ=DAILY;DTSTART=20270101", `"DTSTART" is no part of a rule that is known`},
		{"FREQ=YEARLY;RSCALE=CHINESE", `"RSCALE" is no part of a rule that is known`},
		{"FREQ=WEEKLY;BYDAY=XX", "the rule cannot be read"},
		{"FREQ=WEEKLY;BYHOUR=1,2,3,4,5;BYMINUTE=1,2,3,4,5", "it takes place more than 24 times a day"},
		{"FREQ=DAILY;X-A=" + strings.Repeat("x", 1100), "the rule is longer than 1 KB"},
	}
	for _, r := range rows {
		if _, err := parseRule(r.rule); err == nil || !strings.HasPrefix(err.Error(), r.says) {
			t.Errorf("%.60s: %v, want %q", r.rule, err, r.says)
		}
	}
}

// What is refused only once it is held against the calendar.
func TestRulesOutOfBounds(t *testing.T) {
	for _, text := range []string{"FREQ=MONTHLY;BYMONTHDAY=0", "FREQ=MONTHLY;BYMONTHDAY=32", "FREQ=YEARLY;BYMONTH=13", "FREQ=YEARLY;BYDAY=99MO", "FREQ=DAILY;BYHOUR=24"} {
		r, err := parseRule(text)
		if err == nil {
			err = new(repeater).expand(r, wall(2027, 1, 1, 0, 0), wall(2027, 1, 1, 0, 0), wall(2028, 1, 1, 0, 0), func(time.Time) bool { return true })
		}
		if err == nil {
			t.Errorf("%s is taken", text)
		}
	}
}

// Rules that come seldom are not taken for those that never do, and the
// calendar of 400 years later agrees across a century without a leap day.
func TestSeldom(t *testing.T) {
	got := expanded(t, "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29;BYDAY=SU", wall(2004, 2, 29, 0, 0), wall(2004, 2, 29, 0, 0), wall(2110, 1, 1, 0, 0))
	// Sundays on 29 February by Zeller's congruence; 2100 has no such day.
	want := []time.Time{wall(2004, 2, 29, 0, 0), wall(2032, 2, 29, 0, 0), wall(2060, 2, 29, 0, 0), wall(2088, 2, 29, 0, 0)}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := expanded(t, "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29;BYDAY=SU", wall(2088, 2, 29, 0, 0), wall(2090, 1, 1, 0, 0), wall(2100, 1, 1, 0, 0)); got != nil {
		t.Errorf("%v, want none for forty years", got)
	}
}
