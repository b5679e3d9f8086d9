package milestones

import "slices"

// rung is a CancelStep with its days.
type rung struct {
	*CancelStep
	ref         ref
	from, until result // zero where the step names none
}

func (r *reckoning) rungs(a *Agreement) []rung {
	var all []rung
	for i := range a.Cancel {
		s := &a.Cancel[i]
		g := rung{CancelStep: s, ref: termRef(a, s.Key)}
		if s.From != nil {
			g.from = r.day(g.ref + "/from")
		}
		if s.Until != nil {
			g.until = r.day(g.ref)
		}
		all = append(all, g)
	}
	return all
}

// leaving is what leaving the agreement on d costs. Where steps leave a gap
// or overlap, it lies between what either side of the doubt would cost.
func (acc *account) leaving(rungs []rung, d Date) Amount {
	var costs []Amount
	for _, g := range covering(rungs, d) {
		costs = append(costs, acc.cost(g.Cost, d))
	}
	if len(costs) == 0 {
		return acc.gap(rungs, d)
	}
	return spread(costs)
}

// spread is the least to the most of several amounts.
func spread(costs []Amount) Amount {
	all := costs[0]
	for _, c := range costs[1:] {
		all = Amount{min(all.Low, c.Low), max(all.High, c.High), all.Known && c.Known}
	}
	return all
}

// covering are the steps that hold on d. Of the steps that say only "until",
// the earliest that has not run out holds.
func covering(rungs []rung, d Date) []rung {
	var held []rung
	var next *rung
	var last Date
	for i := range rungs {
		switch g := &rungs[i]; {
		case g.From != nil:
			begun := g.from.waits == "" && !g.from.After(d)
			if begun && (g.Until == nil || g.until.waits == "" && !g.until.Before(d)) {
				held = append(held, *g)
			}
		case g.Until != nil && g.until.waits == "":
			if g.until.After(last) {
				last = g.until.Date
			}
			if !g.until.Before(d) && (next == nil || g.until.Before(next.until.Date)) {
				next = g
			}
		}
	}
	if next != nil {
		return append(held, *next)
	}
	for _, g := range rungs {
		if g.Then && d.After(last) && !last.IsZero() {
			held = append(held, g)
		}
	}
	return held
}

// gap is what leaving costs on a day that no step covers: from nothing, or
// the step before, to the step after, or the whole price.
func (acc *account) gap(rungs []rung, d Date) Amount {
	before, after := Exactly(0), acc.price
	edges := slices.Clone(rungs)
	slices.SortStableFunc(edges, func(a, b rung) int { return a.edge().Compare(b.edge()) })
	for _, g := range edges {
		switch edge := g.edge(); {
		case edge.IsZero():
		case edge.Before(d):
			before = acc.cost(g.Cost, edge)
		case g.From != nil:
			after = acc.cost(g.Cost, edge)
			return Amount{min(before.Low, after.Low), max(before.High, after.High), before.Known && after.Known}
		}
	}
	return Amount{min(before.Low, after.Low), max(before.High, after.High), before.Known && after.Known}
}

// edge is a day that the step is known to hold on: its last, or its first.
func (g rung) edge() Date {
	if g.Until != nil {
		return g.until.Date
	}
	return g.from.Date
}
