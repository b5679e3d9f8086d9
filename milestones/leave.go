package milestones

import (
	"slices"
	"time"
)

// Leave is what leaving one agreement costs over a stretch of time, without
// its security deposit. Where it changes within the stretch, or the agreement
// leaves a doubt, the sums go from the lowest to the highest.
type Leave struct {
	Agreement string // its key, or empty for all together
	With      string
	Cost      Amount   // in all, paid or not
	Paid      Amount   // what has been paid by then: what was done, and what was due
	ToPay     Amount   // what of Cost would still have to be paid
	Back      Amount   // what of Paid would come back
	Questions []string // what is doubtful about Cost
}

// Leaving is what leaving each agreement costs that was signed by then and
// holds, between two minutes, both included.
func Leaving(p *Plan, c Closures, from, to time.Time) []Leave {
	return exitsOf(p, c).over(from, to)
}

// LeavingStep is a stretch of days, both included, over which leaving costs
// the same.
type LeavingStep struct {
	From, To Date
	Each     []Leave
}

// LeavingSteps is what leaving costs from one day to another, step by step.
func LeavingSteps(p *Plan, c Closures, from, to Date) []LeavingStep {
	x := exitsOf(p, c)
	var steps []LeavingStep
	days := x.days(from, to)
	for i, first := range days {
		step := LeavingStep{From: first, To: to}
		if i+1 < len(days) {
			step.To = days[i+1].AddDays(-1)
		}
		step.Each = x.over(x.minutes(step.From, step.To))
		if n := len(steps) - 1; n >= 0 && slices.EqualFunc(steps[n].Each, step.Each, sameCost) {
			step.From = steps[n].From
			step.Each = x.over(x.minutes(step.From, step.To))
			steps = steps[:n]
		}
		steps = append(steps, step)
	}
	return steps
}

func sameCost(a, b Leave) bool {
	return a.Agreement == b.Agreement && a.Cost == b.Cost && slices.Equal(a.Questions, b.Questions)
}

// Together is what leaving all of them comes to. A sum that is not known adds
// nothing and leaves the whole open; at least nothing is not known either.
func Together(each []Leave) Leave {
	sum := func(of func(Leave) Amount) Amount {
		all, gap := Exactly(0), false
		for _, one := range each {
			a := of(one)
			if !a.Known {
				a, gap = AtLeast(0), true
			}
			all = all.Plus(a)
		}
		all.Known = !gap || all.Low > 0
		return all
	}
	return Leave{
		Cost: sum(func(l Leave) Amount { return l.Cost }), Paid: sum(func(l Leave) Amount { return l.Paid }),
		ToPay: sum(func(l Leave) Amount { return l.ToPay }), Back: sum(func(l Leave) Amount { return l.Back }),
	}
}

// Minutes are the first and the last minute of day where the wedding is; of
// an hour, the one minute.
func (p *Plan) Minutes(day Date, at *Clock) (first, last time.Time) {
	zone := p.Wedding.Location()
	if at != nil {
		return at.On(day, zone), at.On(day, zone)
	}
	return Clock{}.On(day, zone), Clock{}.On(day.AddDays(1), zone).Add(-time.Minute)
}

// exits are the ways out of a plan's agreements.
type exits struct {
	plan *Plan
	zone *time.Location
	each []exit
}

type exit struct {
	*Agreement
	ladder
}

func exitsOf(p *Plan, c Closures) exits {
	r := newReckoning(p, c)
	x := exits{plan: p, zone: r.zone}
	for i := range p.Agreements {
		if a := &p.Agreements[i]; a.Binding() {
			acc := r.account(a)
			x.each = append(x.each, exit{a, r.ladder(a, &acc)})
		}
	}
	return x
}

// minutes are the first minute of one day and the last of another.
func (x exits) minutes(from, to Date) (first, last time.Time) {
	first, _ = x.plan.Minutes(from, nil)
	_, last = x.plan.Minutes(to, nil)
	return first, last
}

func (x exits) over(from, to time.Time) []Leave {
	var all []Leave
	for _, e := range x.each {
		if !e.Signed.After(DateOf(to.In(x.zone))) {
			all = append(all, e.over(from, to, x.plan.Wedding.Currency))
		}
	}
	return all
}

// over is what e costs between two minutes: whatever it costs at the first,
// and at each at which that changes.
func (e exit) over(from, to time.Time, c Currency) Leave {
	all := e.at(from)
	for _, at := range e.changes() {
		if !at.After(from) || at.After(to) {
			continue
		}
		one := e.at(at)
		all.Cost, all.Paid = all.Cost.Or(one.Cost), all.Paid.Or(one.Paid)
		all.ToPay, all.Back = all.ToPay.Or(one.ToPay), all.Back.Or(one.Back)
	}
	all.Questions = e.questions(all.Cost, from, to, c)
	return all
}

func (e exit) at(at time.Time) Leave {
	cost, paid := e.ladder.cost(at), e.paidBy(DateOf(at.In(e.zone)))
	return Leave{Agreement: e.Key, With: e.With, Cost: cost, Paid: paid, ToPay: cost.Over(paid), Back: paid.Over(cost)}
}

// changes are the minutes at which a cost can change: where a step begins or
// has ended, and where a day begins on which something is paid.
func (e exit) changes() []time.Time {
	all := e.turns()
	for _, p := range e.parts {
		for _, day := range []Date{p.done, p.res.Date} {
			if !day.IsZero() {
				all = append(all, Clock{}.On(day, e.zone))
			}
		}
	}
	slices.SortFunc(all, time.Time.Compare)
	return slices.CompactFunc(all, time.Time.Equal)
}

// days are the first days of stretches over which no cost changes, from one
// day to another. A day within which one changes is a stretch of its own.
func (x exits) days(from, to Date) []Date {
	all := []Date{from}
	add := func(day Date) {
		if day.After(from) && !day.After(to) {
			all = append(all, day)
		}
	}
	for _, e := range x.each {
		add(e.Signed)
		for _, at := range e.changes() {
			day := DateOf(at.In(x.zone))
			add(day)
			if !at.Equal(Clock{}.On(day, x.zone)) {
				add(day.AddDays(1))
			}
		}
	}
	slices.SortFunc(all, Date.Compare)
	return slices.Compact(all)
}
