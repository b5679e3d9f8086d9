package desk

import (
	"slices"

	"banns/feed"
	"banns/milestones"
)

// stakesDays is how far ahead a day that costs money is told.
const stakesDays = 60

// stake is a day after which something costs more.
type stake struct {
	duty
	Says string
}

// stakes are the days of the next weeks after which something costs more: the
// last days to leave more cheaply, and the numbers by which heads are charged.
// Where no such day is near, it is the next one.
func (s *sight) stakes(at string) []stake {
	var all []stake
	entries := s.live()
	for n := range entries {
		e := &entries[n]
		says := s.missing(e)
		if says == "" || e.StateOn(s.today) != milestones.Open {
			continue
		}
		all = append(all, stake{s.duty(at, e), says})
	}
	slices.SortStableFunc(all, func(a, b stake) int { return a.Date.Day.Compare(b.Date.Day) })
	near := slices.IndexFunc(all, func(one stake) bool { return one.Date.Day.DaysSince(s.today) > stakesDays })
	if near < 0 {
		return all
	}
	return all[:max(1, near)]
}

// missing is what it costs when the day of e goes by, or empty.
func (s *sight) missing(e *feed.Entry) string {
	if e.Standing != milestones.Signed || e.Currency == "" {
		return ""
	}
	switch e.Kind {
	case milestones.KindCancelBy:
		if e.Saves.Known && e.Saves.High > 0 {
			return "After that day leaving costs " + e.Currency.Range(e.Later) + " in all, " + e.Currency.Range(e.Saves) + " more."
		}
	case milestones.KindChangeBy:
		if a, ok := s.plan.Agreement(e.Agreement); ok && a.Price.Each != nil {
			return e.Missed()
		}
	}
	return ""
}
