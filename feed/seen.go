package feed

import (
	"slices"

	"banns/milestones"
)

// Seen is the plan without what is hidden from the person with that key: for
// pages that show somebody of the couple what was written. It is not a plan
// to be scheduled: what is left may count from what was taken out.
func Seen(p *milestones.Plan, key string) *milestones.Plan {
	who, ok := p.Person(key)
	if !ok {
		return &milestones.Plan{Wedding: milestones.Wedding{Title: p.Wedding.Title, Zone: p.Wedding.Zone}}
	}
	return seenBut(p, who.Named)
}

// SeenByAll is the plan without what is hidden from anybody: for paper that may
// hang where everybody reads it.
func SeenByAll(p *milestones.Plan) *milestones.Plan {
	return seenBut(p, func(from []string) bool { return len(from) > 0 })
}

// seenBut is the plan without what is hidden, by those from whom it is.
func seenBut(p *milestones.Plan, hidden func(from []string) bool) *milestones.Plan {
	seen := *p
	seen.Agreements = nil
	for _, a := range p.Agreements {
		if hidden(a.Hide) {
			continue
		}
		a.Pay = leave(a.Pay, func(t milestones.Payment) bool { return hidden(t.Hide) })
		a.Cancel = leave(a.Cancel, func(t milestones.CancelStep) bool { return hidden(t.Hide) })
		a.Change = leave(a.Change, func(t milestones.ChangeBy) bool { return hidden(t.Hide) })
		a.Papers = leave(a.Papers, func(t milestones.Paper) bool { return hidden(t.Hide) })
		if a.Postpone != nil && hidden(a.Postpone.Hide) {
			a.Postpone = nil
		}
		seen.Agreements = append(seen.Agreements, a)
	}
	seen.Appointments = leave(p.Appointments, func(m milestones.Appointment) bool { return hidden(m.Hide) })
	seen.Occasions = leave(p.Occasions, func(m milestones.Occasion) bool { return hidden(m.Hide) })
	seen.Countdown.Add = leave(p.Countdown.Add, func(m milestones.Milestone) bool { return hidden(m.Hide) })
	secret := strangers(p, &seen)
	seen.People = leave(p.People, func(m milestones.Person) bool { return slices.Contains(secret, m.Key) })
	seen.Away = leave(p.Away, func(a milestones.Absence) bool { return slices.Contains(secret, a.Who) })
	return &seen
}

// strangers are the keys of those who stand in the plan for what is not in
// seen alone: the contacts of hidden agreements, whom nothing else names.
// That there is such a vendor would give the agreement away.
func strangers(p, seen *milestones.Plan) []string {
	var all []string
	for _, a := range p.Agreements {
		if _, ok := seen.Agreement(a.Key); !ok && a.Contact != "" {
			all = append(all, a.Contact)
		}
	}
	known := func(keys ...string) {
		all = slices.DeleteFunc(all, func(key string) bool { return slices.Contains(keys, key) })
	}
	for _, who := range p.People {
		if who.Part != milestones.Vendor {
			known(who.Key)
		}
	}
	for i := range seen.Agreements {
		a := &seen.Agreements[i]
		known(a.Contact, a.Payer)
		for _, l := range a.Lines() {
			known(l.For...)
		}
	}
	for _, m := range seen.Appointments {
		known(m.For...)
	}
	for _, m := range seen.Occasions {
		known(m.For...)
	}
	for _, m := range seen.Countdown.Add {
		known(m.For...)
	}
	return all
}

func leave[T any](all []T, drop func(T) bool) []T {
	return slices.DeleteFunc(slices.Clone(all), drop)
}
