package store_test

import (
	"strings"
	"testing"
	"time"

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

// What a calendar has fetched is known to its reader: a move of it is a move,
// though it came on the same day.
func TestTurnsAfterAFetch(t *testing.T) {
	s := opened(t)
	const fitting = head + "appointments: {fitting: {what: Fitting, on: 2027-07-10, for: [june]}}\n"
	moved := strings.Replace(fitting, "2027-07-10", "2027-07-11", 1)
	id := imported(t, s, head, start).Plan.ID
	tokens, err := s.Tokens(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	says := func() string {
		t.Helper()
		p, err := s.Page(t.Context(), tokens["june"])
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, turn := range p.Turned {
			for _, c := range turn.Changes() {
				all = append(all, c.Says)
			}
		}
		return strings.Join(all, "; ")
	}
	fetched := func(at time.Time) {
		t.Helper()
		if _, err := s.DB().ExecContext(t.Context(), "delete from asked"); err != nil {
			t.Fatal(err)
		}
		feeds, err := s.Openings(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range feeds {
			if err := s.NoteAsked(t.Context(), []int64{o.Feed}, at); err != nil {
				t.Fatal(err)
			}
		}
	}
	imported(t, s, fitting, start.Add(time.Minute))
	if got := says(); got != "" {
		t.Errorf("to whom all is new it says %q", got)
	}
	fetched(start.Add(2 * time.Minute))
	if got := says(); got != "New: Fitting on Sat 10 Jul 2027" {
		t.Errorf("once it was fetched it says %q", got)
	}
	imported(t, s, moved, start.Add(3*time.Minute))
	if got := says(); got != "Fitting moved from Sat 10 Jul to Sun 11 Jul 2027" {
		t.Errorf("once it moved it says %q", got)
	}
	imported(t, s, fitting, start.Add(4*time.Minute))
	if got := says(); got != "" {
		t.Errorf("once it moved back, before anybody fetched it, it says %q", got)
	}
}
