package desk

import (
	"slices"

	"banns/feed"
	"banns/milestones"
)

// stakesDays is how far ahead a day is told after which something costs more.
// What costs nothing yet if it is a day late is told when it is due soon.
const stakesDays = 60

// stake is a day that costs something if it is missed.
type stake struct {
	duty
	dearer bool // what follows costs more, by a sum or by heads
}

// stakes are the days of the next weeks that cost something if they are
// missed: the last days to leave more cheaply, the numbers by which heads are
// charged, and payments and papers that are due soon, without which a vendor
// may leave. Where nothing gets dearer so soon, the next day after which
// something does is among them.
func (s *sight) stakes(at string) []stake {
	var all []stake
	entries := s.live()
	for n := range entries {
		e := &entries[n]
		says, dearer := s.missing(e)
		if says == "" || e.StateOn(s.today) != milestones.Open {
			continue
		}
		one := stake{s.duty(at, e), dearer}
		one.Cost = says
		all = append(all, one)
	}
	slices.SortStableFunc(all, func(a, b stake) int { return a.Date.Day.Compare(b.Date.Day) })
	dearer, told := false, toldCosts{}
	all = slices.DeleteFunc(all, func(one stake) bool {
		ahead := one.Date.Day.DaysSince(s.today)
		if !one.dearer {
			return ahead > feed.SoonDays
		}
		far := ahead > stakesDays && dearer
		dearer = true
		return far
	})
	for n := range all {
		told.once(&all[n].duty)
	}
	return all
}

// missing is what it costs when the day of e goes by, or empty; dearer where
// what follows costs more.
func (s *sight) missing(e *feed.Entry) (says string, dearer bool) {
	if e.Standing != milestones.Signed || e.Currency == "" {
		return "", false
	}
	switch e.Kind {
	case milestones.KindCancelBy:
		if e.Saves.Known && e.Saves.High > 0 {
			return "After that day leaving costs " + e.Currency.Range(e.Later) + " in all, " + e.Currency.Range(e.Saves) + " more.", true
		}
	case milestones.KindChangeBy:
		if a, ok := s.plan.Agreement(e.Agreement); ok && a.Price.Each != nil {
			return e.Missed(), true
		}
	case milestones.KindPayment, milestones.KindPaper:
		return e.Missed(), false
	}
	return "", false
}
