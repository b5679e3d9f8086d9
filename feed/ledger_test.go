package feed_test

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"banns/feed"
	"banns/milestones"
)

// TestLedger wants this and that over years, by a clock that is set back now
// and then, and watches every row: stamps never fall, no UID is there twice,
// and no row is lost.
func TestLedger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now, rows := stamp, []feed.Row(nil)
		for range rapid.IntRange(1, 12).Draw(t, "revisions") {
			now = now.Add(time.Duration(rapid.IntRange(-48, 24*40).Draw(t, "hours")) * time.Hour)
			var wanted []feed.Published
			for key := range 4 {
				if rapid.Bool().Draw(t, "wanted") {
					title := rapid.SampledFrom([]string{"Floor plan", "Meal list"}).Draw(t, "title")
					day := d(2027, 1, 1).AddDays(rapid.IntRange(0, 300).Draw(t, "day"))
					wanted = append(wanted, due(fmt.Sprint(key), title, day))
				}
			}
			next := feed.Revise(rows, wanted, now, milestones.DateOf(now), time.Time{})
			if fault := fell(rows, next); fault != "" {
				t.Fatal(fault)
			}
			if fault := unlike(next, wanted); fault != "" {
				t.Fatal(fault)
			}
			rows = next
		}
	})
}

// fell is what went back between two states of a ledger.
func fell(old, rows []feed.Row) string {
	now := map[string]feed.Row{}
	for _, r := range rows {
		if _, twice := now[r.UID]; twice {
			return "two rows have the UID " + r.UID
		}
		now[r.UID] = r
	}
	for _, was := range old {
		is, there := now[was.UID]
		switch {
		case !there:
			return "the ledger lost " + was.UID
		case is.Sequence < was.Sequence || is.Changed.Before(was.Changed):
			return fmt.Sprintf("%s fell from %d of %v to %d of %v", was.UID, was.Sequence, was.Changed, is.Sequence, is.Changed)
		case (is.Sequence == was.Sequence) != is.Changed.Equal(was.Changed):
			return fmt.Sprintf("%s raised only one of its stamps", was.UID)
		case is.Hash != was.Hash && is.Sequence == was.Sequence:
			return fmt.Sprintf("%s changed, and nobody can tell", was.UID)
		}
	}
	return ""
}

// unlike is where the rows do not show just what is wanted.
func unlike(rows []feed.Row, wanted []feed.Published) string {
	there := 0
	for _, r := range rows {
		if r.Went.IsZero() {
			if r.Withdrawn || r.Gone || there == len(wanted) || r.UID != wanted[there].UID || r.Title != wanted[there].Title {
				return fmt.Sprintf("the row %+v is not as wanted", r)
			}
			there++
		}
	}
	if there != len(wanted) {
		return fmt.Sprintf("%d rows are there, %d are wanted", there, len(wanted))
	}
	return ""
}
