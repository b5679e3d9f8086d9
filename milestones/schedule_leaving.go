package milestones

import (
	"fmt"
	"slices"
	"time"
)

// leaving asks about the days on which nobody knows what leaving a costs.
func (s *schedule) leaving(a *Agreement, l ladder) {
	ask := func(f fork, says, mend string) {
		q := f.question(a)
		q.Says, q.Mend = says, mend
		s.ask(&q)
	}
	switch {
	case len(a.Cancel) == 0:
		ask(l.silence(), fmt.Sprintf(silent, a.With), `or add what leaving costs to the agreement, as "50% until 60 days before the wedding"`)
		return
	case l.vague():
		for i := range a.Cancel {
			s.wait(node{owner: a, answers: a.Cancel[i].Answers})
		}
		for _, f := range l.edges() {
			ask(f, fmt.Sprintf(map[Doubt]string{DoubtFirst: beforeFirst, DoubtLast: afterLast}[f.doubt], a.With), f.mend())
		}
		return
	}
	wedding := s.plan.Wedding.Date
	for _, d := range l.doubts() {
		over := !d.to.IsZero() && DateOf(d.to.In(l.zone)).Before(a.Signed)
		idle := !wedding.IsZero() && DateOf(d.from.In(l.zone)).After(wedding)
		if !over && !idle {
			ask(d.fork, l.asks(a, d, s.plan.Wedding.Currency), d.fork.mend())
		}
	}
}

// mend is what could be added to the agreement instead of an answer.
func (f fork) mend() string {
	if f.doubt == DoubtLast {
		return `or add what it costs then to the agreement, as "100% after that"`
	}
	return ""
}

// asks puts a doubt into words.
func (l ladder) asks(a *Agreement, d doubt, c Currency) string {
	could := ""
	if cost := d.fork.span(); cost.Known {
		could = " (" + c.Range(cost) + ")"
	}
	switch {
	case d.steps > 1:
		return fmt.Sprintf("%d steps hold %s, so leaving %s could cost what either says%s", d.steps, l.stretch(d), a.With, could)
	case d.from.IsZero():
		return fmt.Sprintf(beforeFirst+could, a.With)
	case d.to.IsZero():
		return fmt.Sprintf(afterLast+could, a.With)
	}
	return fmt.Sprintf("nothing is said of leaving %s %s: it could cost what the step before or the step after says%s", a.With, l.stretch(d), could)
}

// questions are what is doubtful about leaving e between two minutes.
func (e exit) questions(cost Amount, from, to time.Time, c Currency) []string {
	var all []string
	ask := func(format string, args ...any) {
		if says := fmt.Sprintf(format, args...); !slices.Contains(all, says) {
			all = append(all, says)
		}
	}
	switch {
	case len(e.Cancel) == 0:
		if e.silence().answer == nil {
			ask(silent, e.With)
		}
	case e.vague():
		for _, g := range e.rungs {
			for _, waits := range []string{g.since.waits, g.until.waits} {
				if waits != "" {
					ask("%q has no day yet: it waits for %s", g.Says, waits)
				}
			}
		}
	default:
		for _, d := range e.doubts() {
			if d.fork.answer == nil && (d.to.IsZero() || !d.to.Before(from)) && (d.from.IsZero() || !d.from.After(to)) {
				ask("%s", e.asks(e.Agreement, d, c))
			}
		}
	}
	for _, q := range e.edgesNear(from, to) {
		if q.Open() {
			ask("%s", q.Says)
		}
	}
	switch _, exact := e.price.Exact(); {
	case !e.price.Known && !cost.Known:
		ask("the price of %s is not known yet", e.With)
	case !exact && cost.Low != cost.High:
		ask("the price of %s waits for the number of guests", e.With)
	}
	return all
}

// edgesNear are the doubts about the first and last days of the steps that
// hold at either of two minutes, and about the end of the step before them.
func (l ladder) edgesNear(from, to time.Time) []Question {
	var doubts []Question
	var last time.Time
	for _, g := range l.rungs {
		if g.ends.Before(from) && g.ends.After(last) {
			doubts, last = g.until.doubts, g.ends
		}
	}
	first, maybe := l.holding(from)
	final, _ := l.holding(to) // what might hold is the same at any time
	for _, g := range slices.Concat(first, final, maybe) {
		doubts = slices.Concat(doubts, g.since.doubts, g.until.doubts)
	}
	return doubts
}

const (
	silent      = "the agreement with %s says nothing about leaving it: leaving could cost nothing, or the whole price; ask them, and have it in writing"
	beforeFirst = "nothing is said of leaving %s before the first step begins: it could cost nothing, or what that step costs"
	afterLast   = "nothing is said of leaving %s after the last step ends: it could cost the same, or the whole price"
)

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
