package store_test

import (
	"strings"
	"testing"

	"banns/feed"
)

// turned are the rows that are kept of what readers came to see otherwise.
const turned = "select count(*) from change"

// TestTurns keeps one row an entry and day, drops what was taken back, and
// keeps nothing for longer than pages tell of it.
func TestTurns(t *testing.T) {
	s := opened(t)
	const fitting = head + "appointments: {fitting: {what: Fitting, on: 2027-07-10, for: [june]}}\n"
	on := func(day string) string { return strings.Replace(fitting, "2027-07-10", day, 1) }
	for _, step := range []struct {
		days int
		text string
		want int // rows: maren and june see the fitting
	}{
		{0, head, 0},                   // to somebody new all is new
		{0, fitting, 2},                // it came
		{0, on("2027-07-11"), 2},       // it came, on another day than at first
		{0, head, 2},                   // it went, which calendars show too
		{1, fitting, 4},                // it came
		{2, on("2027-07-11"), 6},       // it moved
		{2, on("2027-07-12"), 6},       // and again
		{3, on("2027-07-11"), 8},       // and again
		{3, on("2027-07-12"), 6},       // back the same day: nothing to tell
		{4, head, 2},                   // it went, and nothing else is told of it
		{4 + feed.LatelyDays, head, 2}, // the last day
		{5 + feed.LatelyDays, head, 0},
	} {
		imported(t, s, step.text, start.AddDate(0, 0, step.days))
		if got := one[int](t, s.DB(), turned); got != step.want {
			t.Errorf("after %d days, %q: %d rows, want %d", step.days, step.text[len(head):], got, step.want)
		}
	}
}
