package milestones

import (
	"fmt"
	"time"
)

// leaving asks about the days on which nobody knows what leaving a costs.
func (s *schedule) leaving(a *Agreement, l ladder) {
	path := "agreements/" + a.Key + "/cancel"
	switch {
	case len(a.Cancel) == 0:
		s.ask("agreements/"+a.Key, "the agreement with %s says nothing about leaving it: leaving could cost nothing, or the whole price; ask, and write it under cancel", a.With)
		return
	case l.vague():
		s.edges(a, path)
		return
	}
	wedding := s.plan.Wedding.Date
	for _, d := range l.doubts() {
		over := !d.to.IsZero() && DateOf(d.to.In(l.zone)).Before(a.Signed)
		idle := !wedding.IsZero() && DateOf(d.from.In(l.zone)).After(wedding)
		if over || idle {
			continue
		}
		could := ""
		if d.cost.Known {
			could = " (" + s.plan.Wedding.Currency.Range(d.cost) + ")"
		}
		switch {
		case d.steps > 1:
			s.ask(path, "%d steps hold %s, so leaving %s could cost what either says%s", d.steps, l.stretch(d), a.With, could)
		case d.from.IsZero():
			s.ask(path, beforeFirst+could, a.With)
		case d.to.IsZero():
			s.ask(path, afterLast+could, a.With)
		default:
			s.ask(path, "nothing is said of leaving %s %s: it could cost what the step before or the step after says%s", a.With, l.stretch(d), could)
		}
	}
}

const (
	beforeFirst = "nothing is said of leaving %s before the first step begins: it could cost nothing, or what that step costs"
	afterLast   = "nothing is said of leaving %s after the last step ends: it could cost the same, or the whole price; write \"100%% after that\" if it does"
)

// edges asks what can be asked before every step has its days.
func (s *schedule) edges(a *Agreement, path string) {
	begun, closed := false, true
	for _, step := range a.Cancel {
		begun = begun || step.From == nil && step.Until != nil
		closed = closed && !step.Then && step.Until != nil
	}
	if !begun {
		s.ask(path, beforeFirst, a.With)
	}
	if closed {
		s.ask(path, afterLast, a.With)
	}
}

// stretch puts a doubt's time into words. An hour is named only where the
// doubt does not begin or end with a day.
func (l ladder) stretch(d doubt) string {
	from, to := d.from.In(l.zone), d.to.In(l.zone)
	first, last := DateOf(from).Words(), DateOf(to).Words()
	if !from.Equal(Clock{}.On(DateOf(from), l.zone)) {
		first += from.Format(" 15:04")
	}
	if next := to.Add(time.Minute); !next.Equal(Clock{}.On(DateOf(next), l.zone)) {
		last += to.Format(" 15:04")
	}
	switch {
	case d.from.IsZero():
		return "until " + last
	case d.to.IsZero():
		return "from " + first
	case first == last:
		return "on " + first
	}
	return fmt.Sprintf("from %s to %s", first, last)
}
