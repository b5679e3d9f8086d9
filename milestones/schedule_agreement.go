package milestones

import (
	"fmt"
	"strings"
	"time"
)

// agreement adds the items of a, and asks what a leaves open.
func (s *schedule) agreement(a *Agreement) {
	acc := s.r.account(a)
	s.payments(a, &acc)
	s.cancel(a, &acc)
	for _, t := range a.Change {
		i := s.item(a, t.Line, KindChangeBy)
		i.Title = a.With + ": " + t.label(t.Label)
		s.term(a, i, &t.When)
	}
	for _, t := range a.Papers {
		i := s.item(a, t.Line, KindPaper)
		i.Title = a.With + ": " + t.label(t.Label)
		s.term(a, i, &t.When)
	}
	if t := a.Postpone; t != nil && t.Notice.Says != "" {
		i := s.item(a, t.Line, KindChangeBy)
		i.ID, i.Term = a.Key+"/"+Postponing, Postponing
		i.Title = a.With + ": last day to ask for another date"
		s.term(a, i, &t.Notice)
	}
	if !a.Over() {
		s.sums(a, &acc)
	}
}

// item is what all items of an agreement have in common.
func (s *schedule) item(a *Agreement, l Line, kind Kind) Item {
	return Item{ID: a.Key + "/" + l.Key, Kind: kind, Agreement: a.Key, Term: l.Key, With: a.With,
		For: l.For, Hide: append(append([]string(nil), a.Hide...), l.Hide...),
		Standing: a.Standing, Owed: l.Owed, Rule: l.Says, Wording: l.Wording, Note: l.Note, Done: l.Done}
}

// term dates i, not before signing, and adds it.
func (s *schedule) term(a *Agreement, i Item, t *Timing) {
	s.place(&i, s.r.day(ref(i.ID)))
	if !i.Undated() && i.Kind != KindRefund && i.Date.Before(a.Signed) {
		i.Questions = append(i.Questions, Question{i.ID, fmt.Sprintf(
			"%q falls on %s, before the agreement was signed; it is taken as due on signing", t.Says, i.Date.Words())})
		i.Moment = Moment{Date: a.Signed}
	}
	s.actBy(a, &i)
	s.add(i)
}

// actBy sets the last open day on which i can be acted upon, not before
// signing. What ends at 00:00 ends with the day before.
func (s *schedule) actBy(a *Agreement, i *Item) {
	if i.Undated() || !i.Deadline() {
		return
	}
	day := i.Date
	if i.Clock != nil && *i.Clock == (Clock{}) {
		day = day.AddDays(-1)
	}
	i.ActBy, i.Shut = s.r.counting(a).lastOpen(day)
	if i.ActBy.Before(a.Signed) {
		i.ActBy, i.Shut = a.Signed, ""
	}
}

func (s *schedule) payments(a *Agreement, acc *account) {
	sums := map[ref]Amount{}
	for _, p := range acc.parts {
		sums[p.ref] = p.sum
	}
	for n := range a.Pay {
		p := &a.Pay[n]
		i := s.item(a, p.Line, KindPayment)
		i.Title = "Pay " + a.With
		if p.What != "" {
			i.Title += ": " + p.What
		}
		switch p.Form {
		case Security:
			s.security(a, p, i)
		case Equal:
			for times := range p.Times {
				each := i
				each.ID = string(partRef(a, *p, times+1))
				each.Amount, each.Done = sums[ref(each.ID)], p.doneOn(times+1)
				s.term(a, each, &p.When)
			}
		default:
			i.Amount = sums[ref(i.ID)]
			s.term(a, i, &p.When)
		}
	}
}

func (s *schedule) security(a *Agreement, p *Payment, i Item) {
	i.Amount = Exactly(p.Sum)
	if p.Amount != nil {
		i.Amount = Exactly(*p.Amount)
	}
	if p.What == "" {
		i.Title += ": security deposit"
	}
	s.term(a, i, &p.When)
	if p.Back == nil {
		return
	}
	back := s.item(a, p.Line, KindRefund)
	back.ID += "/back"
	back.Title, back.Amount, back.Done = "Security deposit back from "+a.With, i.Amount, p.CameBack
	s.term(a, back, p.Back)
}

func (s *schedule) cancel(a *Agreement, acc *account) {
	l := s.r.ladder(a, acc)
	for _, g := range l.rungs {
		if g.Until == nil {
			continue
		}
		i := s.item(a, g.Line, KindCancelBy)
		i.Title = "Last day to cancel " + a.With
		if g.What != "" {
			i.Title += ": " + g.What
		}
		if g.until.waits == "" {
			if g.until.Before(a.Signed) {
				s.ended(a, g)
				continue
			}
			next := g.ends.Add(time.Minute)
			i.Amount, i.Later = l.cost(g.ends), l.cost(next)
			if l.sure(g.ends) && l.sure(next) {
				i.Saves = i.Later.Over(i.Amount)
			}
		}
		s.term(a, i, g.Until)
	}
	if !a.Over() {
		s.leaving(a, l)
	}
}

// ended asks about a step that was over before the agreement was signed.
func (s *schedule) ended(a *Agreement, g rung) {
	if !a.Over() {
		s.ask(a.Key+"/"+g.Key, "%q ended on %s, before the agreement was signed on %s; does it still hold?",
			g.Says, g.until.Words(), a.Signed.Words())
	}
}

// sums asks where the payments do not make the price.
func (s *schedule) sums(a *Agreement, acc *account) {
	path, c := "agreements/"+a.Key, s.plan.Wedding.Currency
	if !acc.price.Known {
		var unknown []string
		for _, p := range acc.parts {
			if !p.sum.Known {
				unknown = append(unknown, p.Says)
			}
		}
		if len(unknown) > 0 {
			s.ask(path, "the price of %s is not known yet, so these have no sum: %s", a.With, strings.Join(unknown, "; "))
		}
		return
	}
	switch spare := acc.spare; {
	case len(acc.parts) == 0 && acc.price.High > 0:
		s.ask(path, "no payment of %s is written down: %s has no day", a.With, c.Range(acc.price))
	case spare.High > 0:
		s.ask(path, "the payments of %s come to less than the price: %s has no day", a.With, c.Range(spare.Over(Exactly(0))))
	case spare.High < 0:
		s.ask(path, "what was paid to %s, and is still to be paid, is more than the price by %s", a.With, c.Words(-spare.High))
	}
}
