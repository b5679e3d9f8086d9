package feed_test

import (
	"strings"
	"testing"

	"banns/feed"
	"banns/milestones"
)

// A last day to cancel says what leaving costs, and what leaving in time saves.
func TestLeavingInWords(t *testing.T) {
	exactly := milestones.Exactly
	rows := []struct {
		why               string
		now, later, saves milestones.Amount
		want              string
	}{
		{"a step", exactly(250_00), exactly(500_00), exactly(250_00),
			"Leaving by then costs $250.00 in all, counting what is already paid; after that it costs $500.00 in all. Leaving by then saves $250.00 against leaving later."},
		{"free until then", exactly(0), exactly(500_00), exactly(500_00),
			"Leaving by then costs nothing; after that it costs $500.00 in all. Leaving by then saves $500.00 against leaving later."},
		{"no count, no most", milestones.AtLeast(250_00), milestones.AtLeast(500_00), milestones.AtLeast(250_00),
			"Leaving by then costs at least $250.00 in all, counting what is already paid; after that it costs at least $500.00 in all. Leaving by then saves at least $250.00 against leaving later."},
		{"waiting is free", exactly(500_00), exactly(250_00), exactly(0),
			"Leaving by then costs $500.00 in all, counting what is already paid; after that it costs $250.00 in all."},
		{"a doubt", exactly(250_00), milestones.Between(250_00, 500_00), milestones.Amount{},
			"Leaving by then costs $250.00 in all, counting what is already paid; after that it costs $250.00 to $500.00 in all."},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			e := feed.Entry{Kind: milestones.KindCancelBy, Agreement: "hall", With: "The Hall", Standing: milestones.Signed,
				Date: milestones.Date{Year: 2027, Month: 5, Day: 3}, Currency: "USD", Amount: row.now, Later: row.later, Saves: row.saves}
			if text := e.Text(); !strings.Contains(text, "\n"+row.want+"\n") {
				t.Errorf("%s\nwant %s", text, row.want)
			}
		})
	}
}
