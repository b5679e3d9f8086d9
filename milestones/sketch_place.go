package milestones

import (
	"slices"
	"strings"
)

// placed is the plan with the line in it, its agreement, the line itself, and
// whether it stands there already. Of the steps of leaving it stands alone,
// so that its cost is its own.
func (s *sketch) placed(in List) (p *Plan, a *Agreement, line *Line, stands bool) {
	p = new(*s.plan)
	p.Agreements = slices.Clone(p.Agreements)
	at := slices.IndexFunc(p.Agreements, func(a Agreement) bool { return a.Key == s.Key })
	if at < 0 {
		at = len(p.Agreements)
		p.Agreements = append(p.Agreements, Agreement{Key: s.Key, With: s.With, Standing: s.Standing, BusinessDays: s.BusinessDays})
	}
	a = &p.Agreements[at]
	line, stands = s.put(a, in)
	a.keys()
	return p, a, line, stands
}

// put puts the line of s into a.
func (s *sketch) put(a *Agreement, in List) (line *Line, stands bool) {
	switch in {
	case PayList:
		s.yield(a)
		return put(&a.Pay, s.Pay[0], func(p Payment) string { return p.Phrase(s.currency) }, func(p *Payment) *Line { return &p.Line })
	case CancelList:
		line, stands = put(&a.Cancel, s.Cancel[0], func(t CancelStep) string { return t.Phrase(s.currency) }, func(t *CancelStep) *Line { return &t.Line })
		a.Cancel = s.Cancel
		a.Cancel[0].Line = *line
		return &a.Cancel[0].Line, stands
	case PostponeList:
		old := a.Postpone
		a.Postpone = s.Postpone
		a.Postpone.Key = Postponing
		return &a.Postpone.Line, old != nil && old.Phrase(s.currency) == s.Postpone.Phrase(s.currency)
	case ChangeList:
		return put(&a.Change, s.Change[0], ChangeBy.String, func(t *ChangeBy) *Line { return &t.Line })
	}
	return put(&a.Papers, s.Papers[0], Paper.String, func(t *Paper) *Line { return &t.Line })
}

// yield takes out of a what the payment of s would share the rest with: only
// one line can take what remains.
func (s *sketch) yield(a *Agreement) {
	p := s.Pay[0]
	rests := func(q Payment) bool { return q.Form == Balance || q.Form == Equal }
	if rests(p) {
		a.Pay = slices.DeleteFunc(slices.Clone(a.Pay), func(q Payment) bool {
			return rests(q) && q.Phrase(s.currency) != p.Phrase(s.currency)
		})
	}
}

// put puts t into a copy of list: in place of what says the same, whose line
// it then keeps, or at the end.
func put[T any](list *[]T, t T, says func(T) string, line func(*T) *Line) (in *Line, stands bool) {
	with := slices.Clone(*list)
	n := slices.IndexFunc(with, func(other T) bool { return strings.EqualFold(says(other), says(t)) })
	if stands = n >= 0; stands {
		*line(&t) = *line(&with[n])
		with[n] = t
	} else {
		n = len(with)
		with = append(with, t)
	}
	*list = with
	return line(&with[n]), stands
}
