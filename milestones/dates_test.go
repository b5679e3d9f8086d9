package milestones_test

import (
	"os"
	"path/filepath"
	"testing"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

// A day is ranked by Dates and told by Schedule: both have the same items, on
// the same days, as late and as shut, whatever day the wedding is tried on.
func TestDatesAreThoseOfSchedule(t *testing.T) {
	us, _ := conflicts.ClosuresFor("US")
	plans, _ := filepath.Glob("../testdata/plans/*.yaml")
	if len(plans) < 8 {
		t.Fatalf("only %d plans are there", len(plans))
	}
	for _, path := range plans {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := store.ReadPlan(path, text)
		if err != nil {
			t.Fatal(err)
		}
		for n := range 40 {
			doc.Plan.Wedding.Date = milestones.Date{Year: 2027, Month: 1, Day: 1}.AddDays(17 * n)
			if n == 0 {
				doc.Plan.Wedding.Date = milestones.Date{}
			}
			type short struct {
				date        milestones.Date
				clock, zone string
				kind        milestones.Kind
				shut        string
				done, actBy milestones.Date
				late        int
			}
			of := func(items []milestones.Item) map[string]short {
				all := map[string]short{}
				for _, i := range items {
					one := short{date: i.Date, zone: i.Zone, kind: i.Kind, shut: i.Shut, done: i.Done, actBy: i.ActBy}
					if i.Clock != nil {
						one.clock = i.Clock.String()
					}
					if i.LateBy != nil {
						one.late = *i.LateBy
					}
					all[i.ID] = one
				}
				return all
			}
			dates, schedule := of(milestones.Dates(doc.Plan, us)), of(milestones.Schedule(doc.Plan, us))
			for id, one := range schedule {
				if dates[id] != one {
					t.Fatalf("%s on %s: %s is %+v by its dates, and %+v in the schedule", path, doc.Plan.Wedding.Date, id, dates[id], one)
				}
			}
			if len(dates) != len(schedule) {
				t.Fatalf("%s: %d items by their dates, %d in the schedule", path, len(dates), len(schedule))
			}
		}
	}
}
