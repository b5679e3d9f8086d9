package feed

import (
	"slices"

	"banns/milestones"
)

// Seen is the plan without what is hidden from the person with that key: for
// pages that show somebody of the couple what was written. It is not a plan
// to be scheduled: what is left may count from what was taken out.
func Seen(p *milestones.Plan, key string) *milestones.Plan {
	seen := *p
	who, ok := p.Person(key)
	if !ok {
		return &milestones.Plan{Wedding: milestones.Wedding{Title: p.Wedding.Title, Zone: p.Wedding.Zone}}
	}
	hidden := func(from []string) bool { return who.Named(from) }
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
	return &seen
}

func leave[T any](all []T, drop func(T) bool) []T {
	return slices.DeleteFunc(slices.Clone(all), drop)
}
