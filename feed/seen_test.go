package feed_test

import (
	"slices"
	"testing"

	"banns/feed"
	"banns/milestones"
)

// names are what stands in a plan, in its order.
func names(p *milestones.Plan) (all []string) {
	for _, who := range p.People {
		all = append(all, who.Key)
	}
	for i := range p.Agreements {
		a := &p.Agreements[i]
		all = append(all, a.Key)
		for _, l := range a.Lines() {
			all = append(all, a.Key+"/"+l.Key)
		}
	}
	for _, m := range p.Appointments {
		all = append(all, m.Key)
	}
	for _, m := range p.Occasions {
		all = append(all, m.Key)
	}
	return all
}

func TestSeen(t *testing.T) {
	p, _ := demo(t)
	whole := names(p)
	for who, hidden := range map[string][]string{
		"odile": nil,
		"maren": {"bram", "brass", "brass/pay-1", "brass/pay-2", "brass/cancel-1", "brass/cancel-2", "brass/change-1", "brass-run-through", "last-song"},
		"theo": {"bram", "dress/change-1", "brass", "brass/pay-1", "brass/pay-2", "brass/cancel-1", "brass/cancel-2", "brass/change-1",
			"priya-fitting", "dress-fitting", "priya-fitting-2", "dress-fitting-2", "brass-run-through", "getting-ready", "last-song"},
	} {
		want := slices.DeleteFunc(slices.Clone(whole), func(name string) bool { return slices.Contains(hidden, name) })
		if got := names(feed.Seen(p, who)); !slices.Equal(got, want) || len(want) != len(whole)-len(hidden) {
			t.Errorf("%s sees %q, want all but %q", who, got, hidden)
		}
	}
	if got := names(p); !slices.Equal(got, whole) {
		t.Errorf("looking has left of the plan %q", got)
	}
	if got := names(feed.Seen(p, "nobody")); got != nil {
		t.Errorf("nobody sees %q", got)
	}
}

// Whoever stands in the plan for something hidden alone is hidden with it;
// who has to do with anything else is not.
func TestHiddenContacts(t *testing.T) {
	for _, row := range []struct {
		name   string
		change func(*milestones.Plan)
		seen   bool
	}{
		{"as it is", func(*milestones.Plan) {}, false},
		{"no vendor", func(p *milestones.Plan) { find(p, "bram").Part = milestones.Helper }, true},
		{"of another agreement too", func(p *milestones.Plan) { p.Agreements[2].Contact = "bram" }, true},
		{"pays for another", func(p *milestones.Plan) { p.Agreements[2].Payer = "bram" }, true},
		{"asked to a line", func(p *milestones.Plan) { p.Agreements[0].Change[0].For = []string{"bram"} }, true},
		{"asked to an appointment", func(p *milestones.Plan) { p.Appointments[0].For = []string{"bram"} }, true},
		{"asked to an occasion", func(p *milestones.Plan) { p.Occasions[0].For = []string{"bram"} }, true},
		{"asked to a milestone", func(p *milestones.Plan) { p.Countdown.Add[0].For = []string{"bram"} }, true},
	} {
		p, _ := demo(t)
		p.Away = append(p.Away, milestones.Absence{Who: "bram"})
		row.change(p)
		seen := feed.Seen(p, "theo")
		_, got := seen.Person("bram")
		away := slices.ContainsFunc(seen.Away, func(a milestones.Absence) bool { return a.Who == "bram" })
		if got != row.seen || away != row.seen {
			t.Errorf("%s: Theo sees Bram: %t, and away: %t, want %t", row.name, got, away, row.seen)
		}
	}
}

func find(p *milestones.Plan, key string) *milestones.Person {
	who, _ := p.Person(key)
	return who
}
