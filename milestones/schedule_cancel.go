package milestones

import (
	"fmt"
	"slices"
	"time"
)

func (s *schedule) cancel(a *Agreement, acc *account) {
	l := s.r.ladder(a, acc)
	for _, g := range l.rungs {
		i := s.item(a, g.Line, KindCancelBy)
		i.Title = "Last day to cancel " + a.With
		if g.What != "" {
			i.Title += ": " + g.What
		}
		if g.Until != nil {
			s.place(&i, g.until)
		}
		if !s.bare {
			s.costs(a, l, g, &i)
			s.since(l, g, &i)
		}
		switch over := !i.Undated() && i.Date.Before(a.Signed); {
		case g.Until != nil && !over:
			s.actBy(a, &i)
			s.add(i)
		case !a.Over() && !s.bare: // it is no item, only what it leaves open
			s.askAll(&i)
		}
	}
	if !a.Over() && !s.bare {
		s.leaving(a, l)
	}
}

// costs says what leaving costs by the last day of a step, and after it.
func (s *schedule) costs(a *Agreement, l ladder, g rung, i *Item) {
	if g.Until == nil || i.Undated() {
		return
	}
	next := g.ends.Add(time.Minute)
	i.Amount, i.Later = l.cost(g.ends), l.cost(next)
	if l.sure(g.ends) && l.sure(next) {
		i.Saves = i.Later.Over(i.Amount)
	}
	i.worth(func(day Date) Amount { return l.account.cost(g.Cost, day) })
	if g.written.Before(a.Signed) && !a.Over() {
		i.ask(s.ended(a, l, g))
	}
}

// ended asks about a step that was over before the agreement was signed.
func (s *schedule) ended(a *Agreement, l ladder, g rung) Question {
	signing := result{Moment: Moment{Date: a.Signed}}
	holds := g.until.Date == a.Signed
	cost := func(last result) Amount { // on the day of signing
		return l.ending(g.CancelStep, s.r.lastMinute(last)).cost(s.r.lastMinute(signing))
	}
	return Question{Doubt: DoubtSigning, Answer: answerTo(g.Answers, DoubtSigning, false),
		Says: fmt.Sprintf("%q ended on %s, before the agreement was signed on %s; does it still hold?",
			g.Says, g.written.Words(), a.Signed.Words()),
		Readings: []Reading{
			{Key: readsAsWritten, Says: "it had ended, and leaving on the day of signing costs what the others say",
				Moment: g.written.Moment, Amount: cost(g.written), Taken: !holds},
			{Key: readsOnSigning, Says: "it holds until the end of the day of signing",
				Moment: signing.Moment, Amount: cost(signing), Taken: holds},
		}}
}

// since asks about the first day of a step what is not asked about its last:
// one answer on the line goes for both.
func (s *schedule) since(l ladder, g rung, i *Item) {
	if g.From == nil {
		return
	}
	first := Item{ID: i.ID, Agreement: i.Agreement, Rule: i.Rule, Wording: i.Wording}
	s.place(&first, g.since)
	first.worth(func(day Date) Amount { return l.account.cost(g.Cost, day) })
	for _, q := range first.Questions {
		if !slices.ContainsFunc(i.Questions, func(other Question) bool { return other.Doubt == q.Doubt }) {
			i.Questions = append(i.Questions, q)
		}
	}
}
