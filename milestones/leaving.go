package milestones

import (
	"slices"
	"time"
)

// rung is a CancelStep with its first and last minute.
type rung struct {
	*CancelStep
	begins, ends time.Time // zero where the step names none, or it has no day yet
	vague        bool      // an edge of it has no day yet
	since, until result    // the first and the last day
	written      result    // the last day as the contract has it; until may be that of signing, by an answer
}

// ladder is what leaving one agreement costs, step by step.
type ladder struct {
	*account
	agreement *Agreement
	rungs     []rung
	zone      *time.Location
}

func (r *reckoning) ladder(a *Agreement, acc *account) ladder {
	l := ladder{account: acc, agreement: a, zone: r.zone}
	for i := range a.Cancel {
		s := &a.Cancel[i]
		g, to := rung{CancelStep: s}, termRef(a, s.Key)
		if s.From != nil {
			g.since = r.day(to + "/from")
			g.begins, g.vague = r.minute(g.since), g.since.waits != ""
		}
		if s.Until != nil {
			g.written = r.day(to)
			g.until = s.lasts(a, g.written)
			g.vague = g.vague || g.until.waits != ""
			g.ends = r.lastMinute(g.until)
		}
		l.rungs = append(l.rungs, g)
	}
	return l
}

// lasts is the last day of a step that ends as written: a step that ended
// before signing never held, unless somebody answered that it holds until then.
func (s *CancelStep) lasts(a *Agreement, written result) result {
	answer := answerTo(s.Answers, DoubtSigning, false)
	if written.waits == "" && written.Before(a.Signed) && answer != nil && answer.Reads == readsOnSigning {
		written.Moment = Moment{Date: a.Signed}
	}
	return written
}

// lastMinute is the last minute that belongs to res.
func (r *reckoning) lastMinute(res result) time.Time {
	if res.waits == "" && res.Clock == nil {
		return Clock{}.On(res.AddDays(1), r.zone).Add(-time.Minute)
	}
	return r.minute(res)
}

// minute is the moment that res names; of a day without an hour, its first.
func (r *reckoning) minute(res result) time.Time {
	switch {
	case res.waits != "":
		return time.Time{}
	case res.Clock == nil:
		return Clock{}.On(res.Date, r.zone)
	}
	loc, err := Zone(res.Zone)
	if err != nil {
		loc = r.zone
	}
	return res.Clock.On(res.Date, loc)
}

// cost is what leaving costs at one moment. Where steps leave a gap or
// overlap, or have no day yet, it lies between what either side of the doubt
// would cost; where somebody answered, it is what they said.
func (l ladder) cost(at time.Time) Amount {
	held, maybe := l.holding(at)
	var all Amount
	switch {
	case len(held) == 1:
		all = l.step(held[0], at)
	case len(maybe) == 0:
		all = l.fork(at, held).cost()
	default:
		all = l.fork(at, held).span()
	}
	for _, g := range maybe {
		all = all.Or(l.step(g, at))
	}
	return all
}

// sure reports whether one cost and no other holds at one moment.
func (l ladder) sure(at time.Time) bool {
	held, maybe := l.holding(at)
	return len(maybe) == 0 && (len(held) == 1 || l.fork(at, held).answer != nil)
}

// ending is l with one step ending at another minute.
func (l ladder) ending(step *CancelStep, ends time.Time) ladder {
	l.rungs = slices.Clone(l.rungs)
	for i := range l.rungs {
		if l.rungs[i].CancelStep == step {
			l.rungs[i].ends = ends
		}
	}
	return l
}

// step is what g costs at one moment.
func (l ladder) step(g rung, at time.Time) Amount {
	return l.account.cost(g.Cost, DateOf(at.In(l.zone)))
}

// holding are the steps that hold at one moment, and those that might, for
// all that is known. Of the steps that say only "until", the earliest that
// has not run out holds; of those that say only "from", the latest begun.
func (l ladder) holding(at time.Time) (held, maybe []rung) {
	var next, latest, last time.Time
	for _, g := range l.rungs {
		if g.ends.After(last) {
			last = g.ends
		}
		if g.From == nil && !g.ends.Before(at) && (next.IsZero() || g.ends.Before(next)) {
			next = g.ends
		}
		if g.Until == nil && !g.begins.After(at) && g.begins.After(latest) {
			latest = g.begins
		}
	}
	for _, g := range l.rungs {
		switch {
		case g.vague:
			maybe = append(maybe, g)
		case g.Then && at.After(last),
			g.From == nil && g.Until != nil && g.ends.Equal(next),
			g.From != nil && g.Until == nil && g.begins.Equal(latest),
			g.From != nil && g.Until != nil && !g.begins.After(at) && !g.ends.Before(at):
			held = append(held, g)
		}
	}
	return held, maybe
}

// doubt is a stretch of time, both minutes included, in which the steps do
// not say one thing.
type doubt struct {
	from, to time.Time // zero: since ever, and for good
	steps    int       // how many hold
	fork     fork
}

// doubts are the stretches in which no step holds, or several, and it makes a
// difference. All edges have to have days.
func (l ladder) doubts() []doubt {
	var found []doubt
	turns := l.turns()
	for i := range len(turns) + 1 {
		var d doubt
		var at time.Time
		if i < len(turns) {
			d.to = turns[i].Add(-time.Minute)
			at = d.to
		}
		if i > 0 {
			d.from = turns[i-1]
			at = d.from
		}
		held, _ := l.holding(at)
		if len(held) == 1 {
			continue
		}
		if d.steps, d.fork = len(held), l.fork(at, held); d.fork.differ() {
			found = append(found, d)
		}
	}
	return found
}

// turns are the minutes at which a step begins or has just ended, in order.
func (l ladder) turns() []time.Time {
	var all []time.Time
	for _, g := range l.rungs {
		if !g.begins.IsZero() {
			all = append(all, g.begins)
		}
		if !g.ends.IsZero() {
			all = append(all, g.ends.Add(time.Minute))
		}
	}
	slices.SortFunc(all, time.Time.Compare)
	return slices.CompactFunc(all, time.Time.Equal)
}

// vague reports whether some step has no day yet.
func (l ladder) vague() bool {
	return slices.ContainsFunc(l.rungs, func(g rung) bool { return g.vague })
}
