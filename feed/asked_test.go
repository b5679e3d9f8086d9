package feed_test

import (
	"slices"
	"testing"

	"banns/feed"
	"banns/milestones"
)

// TestOthersAppointments has the couple and the planner told whose an
// appointment is, and nobody who is asked to it: it must not look like one of
// their own. The words beside "for" are those of the plan.
func TestOthersAppointments(t *testing.T) {
	p := &milestones.Plan{ID: "w", People: []milestones.Person{
		{Key: "ana", Name: "Ana Reyes", Part: milestones.Couple}, {Key: "bo", Name: "Bo Lind", Part: milestones.Couple},
		{Key: "ida", Name: "Ida Falk", Part: milestones.Planner}, {Key: "walt", Name: "Walt Lind", Part: milestones.Family},
		{Key: "rue", Name: "Rue", Part: milestones.Vendor},
		{Key: "kay", Name: "Kay", Part: milestones.Attendant, Groups: []string{"maids"}}, {Key: "lu", Name: "Lu", Part: milestones.Attendant},
	}, Agreements: []milestones.Agreement{{Key: "band", With: "The Band", Contact: "rue", Hide: []string{"bo"}}}}
	for _, row := range []struct {
		asked []string
		who   string
		want  string
	}{
		{[]string{"walt"}, "ana", "Fitting (for Walt Lind)"},
		{[]string{"walt"}, "ida", "Fitting (for Walt Lind)"},
		{[]string{"walt"}, "walt", "Fitting"},
		{[]string{"ana", "walt"}, "ana", "Fitting"},
		{[]string{"ana", "walt"}, "bo", "Fitting (for Ana Reyes, Walt Lind)"},
		{[]string{"attendant"}, "ana", "Fitting (for the attendants)"},
		{[]string{"maids"}, "ana", "Fitting (for maids)"},
		{[]string{"couple"}, "bo", "Fitting"},
		{[]string{milestones.Everybody}, "ida", "Fitting"},
		{[]string{"walt", "kay", "lu", "officiant"}, "ana", "Fitting (for Walt Lind, Kay, Lu)"},
		{[]string{"walt", "kay", "lu", "officiant", "family"}, "ana", "Fitting (for Walt Lind, Kay, Lu, the family)"},
		{[]string{"rue"}, "ana", "Fitting (for Rue)"},
		{[]string{"rue"}, "bo", "Fitting (for Rue)"}, // as if no agreement were hidden
		{[]string{"walt", "kay", "lu", "maids", "family"}, "ana", "Fitting (for Walt Lind, Kay, Lu and 2 more)"},
		{[]string{"gone"}, "ana", "Fitting"}, // who left the plan
		{nil, "ana", "Fitting"},              // nobody is named: it is the couple's
	} {
		items := []milestones.Item{{ID: "appointments/fitting", Kind: milestones.KindAppointment, Title: "Fitting", For: row.asked,
			Moment: milestones.Moment{Date: d(2027, 7, 10)}}}
		seen := feed.View(p, items, row.who)
		if len(seen) != 1 || seen[0].Summary() != row.want {
			t.Errorf("%s sees of %q: %+v, not %q", row.who, row.asked, seen, row.want)
		}
		if i := slices.IndexFunc(seen, func(e feed.Entry) bool { return e.What() != "Fitting" }); i >= 0 {
			t.Errorf("%s: where it is told beside it, %q", row.who, seen[i].What())
		}
	}
}
