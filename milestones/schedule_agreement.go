package milestones

import "fmt"

// agreement adds the items of a, and asks what a leaves open.
func (s *schedule) agreement(a *Agreement) {
	var acc account
	if !s.bare {
		acc = s.r.account(a)
	}
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
	if !a.Over() && !s.bare {
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
	if i.Kind != KindRefund && !i.Undated() {
		s.signing(a, &i, t)
	}
	if i.Kind == KindPayment || i.Kind == KindRefund {
		i.worth(func(Date) Amount { return i.Amount })
	}
	s.actBy(a, &i)
	s.add(i)
}

// signing asks about a day that comes before the agreement was signed. It is
// due on signing, unless somebody answered that it stands as written.
func (s *schedule) signing(a *Agreement, i *Item, t *Timing) {
	answer := s.r.nodes[ref(i.ID)].answer(DoubtSigning)
	stands := answer != nil && answer.Reads == readsAsWritten
	written, due := i.Moment, Moment{Date: a.Signed}
	for _, q := range i.Questions {
		for n := range q.Readings {
			if one := &q.Readings[n]; one.Before(a.Signed) && !stands {
				one.Moment = due
			}
		}
	}
	if !written.Before(a.Signed) {
		return
	}
	taken := "stands as written"
	if !stands {
		i.Moment, taken = due, "is taken as due on signing"
	}
	i.ask(Question{Doubt: DoubtSigning, Answer: answer,
		Says: fmt.Sprintf("%q falls on %s, before the agreement was signed; it %s", t.Says, written.Words(), taken),
		Readings: []Reading{
			{Key: readsOnSigning, Says: "due on signing", Moment: due, Taken: !stands},
			{Key: readsAsWritten, Says: "on the day as written", Moment: written, Taken: stands},
		}})
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
