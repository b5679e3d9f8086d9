package milestones

import (
	"strings"
	"time"
)

// fork is what leaving could cost at a moment for which the steps say nothing
// or more than one thing, and how that was answered, if it was.
type fork struct {
	doubt   Doubt
	line    *CancelStep // on whose line the answer stands; nil: with the agreement
	words   []string    // the steps' phrases
	options []option
	answer  *Answer
}

// option is one of the things that leaving could cost.
type option struct {
	reads string
	says  string
	cost  Amount
}

// differ reports whether it matters which option holds, for all that is known.
func (f fork) differ() bool {
	for _, o := range f.options {
		if !o.cost.Known || o.cost != f.options[0].cost {
			return true
		}
	}
	return false
}

// span is from the lowest option to the highest.
func (f fork) span() Amount {
	all := f.options[0].cost
	for _, o := range f.options[1:] {
		all = all.Or(o.cost)
	}
	return all
}

// cost is what was answered, or the span.
func (f fork) cost() Amount {
	for _, o := range f.options {
		if f.answer != nil && f.answer.Reads == o.reads {
			return o.cost
		}
	}
	return f.span()
}

// question is f as a question, without its sentence.
func (f fork) question(a *Agreement) Question {
	q := Question{Doubt: f.doubt, Agreement: a.Key, Words: strings.Join(f.words, "; "), Answer: f.answer}
	for _, o := range f.options {
		taken := f.answer != nil && f.answer.Reads == o.reads
		q.Readings = append(q.Readings, Reading{Key: o.reads, Says: o.says, Amount: o.cost, Taken: taken})
	}
	switch {
	case f.line != nil:
		q.Path, q.Line, q.Wording = a.Key+"/"+f.line.Key, f.line.Says, f.line.Wording
		return q
	case len(a.Cancel) > 0:
		q.Path = "agreements/" + a.Key + "/cancel"
	default:
		q.Path = "agreements/" + a.Key
	}
	q.Under = string(f.doubt)
	return q
}

// fork is what is open at one moment at which not one step holds, but none
// or several.
func (l ladder) fork(at time.Time, held []rung) fork {
	switch {
	case len(l.rungs) == 0:
		return l.silence()
	case len(held) > 0:
		return l.overlap(at, held)
	}
	return l.gap(at)
}

// silence is where the agreement says nothing of leaving.
func (l ladder) silence() fork {
	return fork{doubt: DoubtLeaving, answer: l.agreement.answer(DoubtLeaving), options: []option{
		{readsNothing, "leaving costs nothing", Exactly(0)},
		{readsWholePrice, "leaving costs the whole price", l.price},
	}}
}

// overlap is where several steps hold. The last of them in the agreement is
// the one that is asked about.
func (l ladder) overlap(at time.Time, held []rung) fork {
	last := held[len(held)-1].CancelStep
	f := fork{doubt: DoubtOverlap, line: last, answer: answerTo(last.Answers, DoubtOverlap, false)}
	lower, higher, known := held[0], held[0], true
	for _, g := range held {
		f.words = append(f.words, g.Says)
		cost := l.step(g, at)
		known = known && cost.Known
		if cost.Low < l.step(lower, at).Low {
			lower = g
		}
		if cost.High > l.step(higher, at).High {
			higher = g
		}
	}
	f.options = []option{{reads: readsLower, says: "the lower of what they say"}, {reads: readsHigher, says: "the higher of what they say"}}
	if known {
		f.options[0] = option{readsLower, l.as(lower), l.step(lower, at)}
		f.options[1] = option{readsHigher, l.as(higher), l.step(higher, at)}
	}
	return f
}

func (l ladder) as(g rung) string { return "as \"" + g.Says + "\" says" }

// gap is a moment that no step covers: from nothing, or the step before, to
// the step after, or the whole price.
func (l ladder) gap(at time.Time) fork {
	before, after := l.beside(at)
	low := option{readsNothing, beforeCostsNothing, Exactly(0)}
	high := option{readsWholePrice, "leaving costs the whole price", l.price}
	f := fork{}
	if before != nil {
		low = option{readsLastStep, l.as(*before), l.step(*before, before.ends)}
		f.doubt, f.words = DoubtLast, append(f.words, before.Says)
	}
	if after != nil {
		high = option{readsFirstStep, l.as(*after), l.step(*after, after.begins)}
		f.doubt, f.words = DoubtFirst, append(f.words, after.Says)
	}
	f.answer = l.agreement.answer(f.doubt)
	if before != nil && after != nil {
		low.reads, high.reads = readsStepBefore, readsStepAfter
		f.doubt, f.line = DoubtGap, after.CancelStep
		f.answer = answerTo(after.Answers, DoubtGap, false)
	}
	f.options = []option{low, high}
	return f
}

const beforeCostsNothing = "leaving before it costs nothing"

// beside are the last step to end before a moment, and the first to begin
// after it; nil where there is none.
func (l ladder) beside(at time.Time) (before, after *rung) {
	for i := range l.rungs {
		g := &l.rungs[i]
		if !g.ends.IsZero() && g.ends.Before(at) && (before == nil || g.ends.After(before.ends)) {
			before = g
		}
		if g.begins.After(at) && (after == nil || g.begins.Before(after.begins)) {
			after = g
		}
	}
	return before, after
}

// edges are what is open before the first step and after the last, while some
// step has no day yet.
func (l ladder) edges() []fork {
	var all []fork
	var first, last *rung
	begun, closed := false, true
	for i := range l.rungs {
		g := &l.rungs[i]
		begun = begun || g.From == nil && g.Until != nil
		closed = closed && !g.Then && g.Until != nil
		if first == nil && g.From != nil {
			first = g
		}
		last = g
	}
	if !begun {
		all = append(all, fork{doubt: DoubtFirst, words: []string{first.Says}, options: []option{
			{readsNothing, beforeCostsNothing, Exactly(0)},
			{readsFirstStep, l.as(*first), l.always(first.Cost)},
		}})
	}
	if closed {
		all = append(all, fork{doubt: DoubtLast, words: []string{last.Says}, options: []option{
			{readsLastStep, l.as(*last), l.always(last.Cost)},
			{readsWholePrice, "leaving costs the whole price", l.price},
		}})
	}
	for i := range all {
		all[i].answer = l.agreement.answer(all[i].doubt)
	}
	return all
}

// always is what c comes to on any day, where that does not depend on what
// has been paid by then.
func (l ladder) always(c Cost) Amount {
	first := len(l.parts) > 0 && l.parts[0].sum.Known
	if !c.known(l.price.Known, false, first) {
		return Amount{}
	}
	return l.account.cost(c, Date{})
}
