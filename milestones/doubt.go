package milestones

import (
	"fmt"
	"slices"
	"strings"
)

// reads is how a timing is read where its words leave it open.
type reads struct {
	side     string
	midnight string
	days     BusinessDays
}

// reads is how n is read: as somebody answered, or else with caution. Before
// is earlier than after, and a day's beginning than its end; but what counts
// from a day that leads comes after it.
func (n node) reads() reads {
	as := reads{side: readsBefore, midnight: readsStart, days: Banks}
	if n.owner != nil {
		as.days = n.owner.BusinessDays
	}
	if n.when.Anchor.leads() && !n.when.Sided {
		as.side = readsAfter
	}
	for _, d := range []Doubt{DoubtSide, DoubtMidnight, DoubtDays} {
		if a := n.answer(d); a != nil && (d != DoubtSide || n.when.sideless()) {
			as = as.with(d, strings.TrimPrefix(a.Reads, backWord))
		}
	}
	return as
}

// answer is what was answered to d on n's line, or for its whole agreement.
func (n node) answer(d Doubt) *Answer {
	if a := answerTo(n.answers, d, n.back); a != nil {
		return a
	}
	return n.owner.answer(d)
}

// key is a reading as an answer on n's line calls it.
func (n node) key(reads string) string {
	if n.back {
		return backWord + reads
	}
	return reads
}

// with is as, with d read otherwise. Business days that are neither of the
// two that may be confused stay what they are.
func (as reads) with(d Doubt, key string) reads {
	switch d {
	case DoubtSide:
		as.side = key
	case DoubtMidnight:
		as.midnight = key
	case DoubtDays:
		if slices.Contains(d.readings(), string(as.days)) {
			as.days = BusinessDays(key)
		}
	}
	return as
}

// of is t, read so.
func (as reads) of(t Timing) Timing {
	if t.Bound == WithinOf {
		t.Bound, t.After = OnTheDay, as.side == readsAfter
		if as.side == readsDuring {
			t.N = 0
		}
	}
	if t.Midnight && as.midnight == readsEnd {
		t.Clock = &Clock{Hour: 23, Minute: 59} // the day's last minute, so that the day stays the contract's
	}
	return t
}

// doubts are the questions that n's words leave open; res is n's day as read.
func (r *reckoning) doubts(n node, as reads, res result) []Question {
	var all []Question
	if n.when.Unit == BusinessDay {
		if q, differs := r.daysDoubt(n, as, res); differs {
			all = append(all, q)
		}
	}
	if n.when.sideless() {
		all = append(all, r.sideDoubt(n, as, res))
	}
	if n.when.Midnight {
		all = append(all, r.midnightDoubt(n, as, res))
	}
	for i := range all {
		all[i].Answer = n.answer(all[i].Doubt)
	}
	return all
}

// reading is what n would come to if d were read so.
func (r *reckoning) reading(n node, as reads, d Doubt, key, says string) Reading {
	other := as.with(d, key)
	return Reading{Key: n.key(key), Says: says, Moment: r.timing(n, other).Moment, Taken: other == as}
}

// whoseDays are whose business days a kind is, in words that hold in every
// country.
var whoseDays = map[BusinessDays]string{Banks: "banks", Federal: "government offices"}

// daysDoubt doubts where banks and government offices count differently.
func (r *reckoning) daysDoubt(n node, as reads, res result) (Question, bool) {
	q := Question{Doubt: DoubtDays}
	for _, kind := range []BusinessDays{Banks, Federal} {
		whose := whoseDays[kind]
		one := r.reading(n, as, DoubtDays, string(kind), "counted in the business days of "+whose)
		q.Readings = append(q.Readings, one)
		if one.Date != res.Date {
			q.Says = fmt.Sprintf("if the business days of %s are meant instead of those of %s, the day is %s, not %s",
				whose, whoseDays[as.days], one.Words(), res.Words())
		}
	}
	return q, q.Says != ""
}

// sideDoubt asks which side "within N of" means; what names its side may
// still mean the day that begins those days, or any of them.
func (r *reckoning) sideDoubt(n node, as reads, res result) Question {
	t, anchor := n.when, n.when.Anchor.words()
	before := r.reading(n, as, DoubtSide, readsBefore, "at the latest "+t.span()+" before "+anchor)
	if t.Sided {
		during := r.reading(n, as, DoubtSide, readsDuring, "at any time in the "+t.span()+" before "+anchor)
		return Question{Doubt: DoubtSide, Readings: []Reading{before, during}, Says: fmt.Sprintf(
			"%q may mean before that time begins, or at any point of it; it is read as %s at the latest", t.Says, res.Words())}
	}
	after := r.reading(n, as, DoubtSide, readsAfter, "at the latest "+t.span()+" after "+anchor)
	return Question{Doubt: DoubtSide, Readings: []Reading{before, after}, Says: fmt.Sprintf(
		"%q does not say which side it means; it is read as %s at the latest", t.Says, res.Words())}
}

func (r *reckoning) midnightDoubt(n node, as reads, res result) Question {
	end := "beginning"
	if as.midnight == readsEnd {
		end = "end"
	}
	return Question{Doubt: DoubtMidnight, Readings: []Reading{
		r.reading(n, as, DoubtMidnight, readsStart, "as the day begins"),
		r.reading(n, as, DoubtMidnight, readsEnd, "as the day ends"),
	}, Says: fmt.Sprintf("midnight may begin or end %s; it is read as its %s", res.Words(), end)}
}

// words is a as a sentence names it.
func (a Anchor) words() string {
	if !a.Date.IsZero() {
		return a.Date.Words()
	}
	return a.String()
}
