package feed

import (
	"fmt"
	"slices"

	"banns/milestones"
)

// Compare tells what is otherwise in one plan than in another: everything, or
// what the person with that lasting id sees of it. What was over by the day
// on is not told to have stayed.
func Compare(was, is milestones.Worked, person string, on milestones.Date) []Change {
	c := comparing{was: was, is: is, who: person}
	before, after := c.entries(was), c.entries(is)
	changes := between(unasked(before, after), after)
	facts := c.facts()
	changes = slices.DeleteFunc(changes, func(one Change) bool { return one.ID == "" && one.Each == nil && said(facts, one) })
	changes = c.join(facts, changes)
	if person == "" {
		changes = c.asked(facts, changes)
	}
	changes = c.stayed(changes, before, after, on)
	if person == "" {
		for i := range changes {
			c.concern(&changes[i])
		}
	}
	return changes
}

type comparing struct {
	was, is milestones.Worked
	who     string // lasting id, or empty for everything
}

// entries are what the reader sees of a plan.
func (c comparing) entries(w milestones.Worked) []Entry {
	if c.who == "" {
		var all []Entry
		for i := range w.Items {
			all = append(all, Whole(w.Plan, &w.Items[i]))
		}
		return all
	}
	if who := lasting(w.Plan, c.who); who != nil {
		return View(w.Plan, w.Items, who.Key)
	}
	return nil
}

// unasked is was without the questions that nobody asks of is any more: that
// they were settled is told as a fact.
func unasked(was, is []Entry) []Entry {
	settled := map[string]bool{}
	for i := range is {
		settled[is[i].ID] = len(is[i].Questions) == 0
	}
	was = slices.Clone(was)
	for i := range was {
		if settled[was[i].ID] {
			was[i].Questions = nil
		}
	}
	return was
}

// lasting is the person of that lasting id, or nil.
func lasting(p *milestones.Plan, id string) *milestones.Person {
	for i := range p.People {
		if p.People[i].ID() == id {
			return &p.People[i]
		}
	}
	return nil
}

// facts are what is otherwise beside the entries, so far as the reader may
// know of it.
func (c comparing) facts() []milestones.Change {
	return slices.DeleteFunc(milestones.Changes(c.was, c.is), func(one milestones.Change) bool {
		return c.who != "" && !(c.knows(c.was, one) && c.knows(c.is, one))
	})
}

// knows reports whether by w the reader may know of a change: of an agreement
// whoever may see its money, and of people and all else nobody, since a name
// alone can give away a surprise. Where w has no such agreement, or no such
// reader, it forbids nothing.
func (c comparing) knows(w milestones.Worked, one milestones.Change) bool {
	p := w.Plan
	who := lasting(p, c.who)
	switch {
	case one.Agreement == "":
		return false
	case who == nil:
		return true
	}
	a, ok := p.Agreement(one.Agreement)
	if !ok {
		return !who.Named(one.Hide)
	}
	if came := one.Aspect == milestones.AspectCame || one.Aspect == milestones.AspectWent; came && a.Over() && !c.sees(w, a.Key) {
		return false // it was over, and nothing of it was theirs
	}
	i := milestones.Item{Agreement: a.Key, Kind: milestones.KindPayment, Standing: a.Standing, Owed: true, Hide: one.Hide}
	have := ties(p, &i, who)
	return maySee(&i, who, have) && anyOf(have, seesMoney)
}

// sees reports whether the reader sees any item of an agreement.
func (c comparing) sees(w milestones.Worked, agreement string) bool {
	return slices.ContainsFunc(c.entries(w), func(e Entry) bool { return e.Agreement == agreement })
}

// said reports whether a fact tells already what one tells of a whole
// agreement. Who pays is told by facts alone: an entry has a name of theirs,
// and does not know whether it is another's.
func said(facts []milestones.Change, one Change) bool {
	return one.about(milestones.AspectPayer) || slices.ContainsFunc(facts, func(f milestones.Change) bool {
		return f.Agreement == one.Agreement && f.Agreement != "" && slices.Contains(one.Aspects, f.Aspect)
	})
}

// join puts facts before the changes of what is dated: those of an agreement
// with what follows from them under them, and last those that are about
// nobody's dates.
func (c comparing) join(facts []milestones.Change, changes []Change) []Change {
	at := 0
	for at < len(changes) && (changes[at].ID == weddingID || changes[at].ID == "" && changes[at].Agreement == "") {
		at++
	}
	all, rest := changes[:at:at], slices.Clone(changes[at:])
	var last []Change
	for _, f := range facts {
		one := Change{ID: f.Item, Agreement: f.Agreement, Aspects: []milestones.Aspect{f.Aspect}, Says: f.Says}
		if f.Agreement == "" {
			last = append(last, one)
			continue
		}
		if f.Aspect == milestones.AspectCame || f.Aspect == milestones.AspectWent || f.Aspect == milestones.AspectStanding {
			one.Each, rest = following(f, rest)
		}
		all = append(all, one)
	}
	return append(append(all, rest...), last...)
}

// weddingID is the id of the wedding's own item.
const weddingID = "wedding"

// following takes from changes what follows from f: that the agreement's
// lines came or went, or have a day.
func following(f milestones.Change, changes []Change) (each, rest []Change) {
	for _, one := range changes {
		follows := slices.ContainsFunc([]milestones.Aspect{milestones.AspectCame, milestones.AspectWent, milestones.AspectDated, milestones.AspectUndated}, one.about)
		switch {
		case one.Agreement != f.Agreement || !follows:
			rest = append(rest, one)
		case one.ID == "" && one.Each != nil:
			each = append(each, one.Each...)
		default:
			each = append(each, one)
		}
	}
	return each, rest
}

// asked adds who is asked to an item now, and who no longer is, where the
// item's own line says so and not its agreement.
func (c comparing) asked(facts []milestones.Change, changes []Change) []Change {
	before := map[string]*milestones.Item{}
	for i := range c.was.Items {
		before[c.was.Items[i].ID] = &c.was.Items[i]
	}
	for n := range c.is.Items {
		is := &c.is.Items[n]
		was := before[is.ID]
		if was == nil || slices.Equal(was.For, is.For) && slices.Equal(was.Hide, is.Hide) {
			continue
		}
		one := Change{ID: is.ID, Agreement: is.Agreement, Aspects: []milestones.Aspect{milestones.AspectAsked}, Says: c.askedWords(was, is)}
		if one.Says != "" && !said(facts, one) {
			changes = append(changes, one)
		}
	}
	return changes
}

func (c comparing) askedWords(was, is *milestones.Item) string {
	had, has := c.audience(c.was, was), c.audience(c.is, is)
	var more, fewer []string
	for _, who := range c.is.Plan.People {
		if lasting(c.was.Plan, who.ID()) == nil {
			continue // that they are new is told
		}
		switch now := slices.Contains(has, who.ID()); {
		case now == slices.Contains(had, who.ID()):
		case now:
			more = append(more, who.Name)
		default:
			fewer = append(fewer, who.Name)
		}
	}
	entry := Whole(c.is.Plan, is)
	says := upper(entry.subject(""))
	switch {
	case len(more) > 0 && len(fewer) > 0:
		return says + " is for " + and(more) + " now, no longer for " + and(fewer)
	case len(more) > 0:
		return says + " is for " + and(more) + " too"
	case len(fewer) > 0:
		return says + " is no longer for " + and(fewer)
	}
	return ""
}

// audience is who sees the item by w: lasting ids.
func (c comparing) audience(w milestones.Worked, i *milestones.Item) []string {
	var ids []string
	for _, key := range Audience(w.Plan, i) {
		who, _ := w.Plan.Person(key)
		ids = append(ids, who.ID())
	}
	return ids
}

// stayed adds, where the wedding moved, what did not move although it is
// still to come: its day is a date of the calendar.
func (c comparing) stayed(changes []Change, was, is []Entry, on milestones.Date) []Change {
	pairs := pairUp(was, is)
	if weddingMoved(pairs) == 0 {
		return changes
	}
	fixed, all := milestones.Fixed(c.is.Plan), Change{Aspects: []milestones.Aspect{milestones.AspectStayed}}
	for _, p := range pairs {
		if !p.dated() || !fixed[p.is.ID] || !p.stands() || p.is.Day().Before(on) {
			continue
		}
		all.Each = append(all.Each, Change{ID: p.is.ID, Agreement: p.is.Agreement, Aspects: all.Aspects,
			Says: upper(p.is.subject(p.is.Currency.Range(p.is.Amount))) + " is still on " + p.is.on(p.is.Day().Words())})
	}
	switch n := len(all.Each); n {
	case 0:
		return changes
	case 1:
		all = all.Each[0]
		all.Says += ": it did not move with the wedding"
	default:
		all.Says = fmt.Sprintf("%d dates did not move with it: they are fixed days of the calendar", n)
	}
	at := slices.IndexFunc(changes, func(one Change) bool { return one.ID != weddingID && (one.ID != "" || one.Agreement != "") })
	if at < 0 {
		at = len(changes)
	}
	return slices.Insert(changes, at, all)
}

// stands reports whether p is still to come and has the day that it had.
func (p pair) stands() bool {
	over := p.is.Standing == milestones.Replaced || p.is.Standing == milestones.Ended
	return p.was.Date == p.is.Date && p.is.Done.IsZero() && !over
}

// concern adds to a change whom it concerns.
func (c comparing) concern(one *Change) {
	ids, hidden := map[string]bool{}, map[string]bool{} // what holds now stands last
	mark := func(w milestones.Worked, i *milestones.Item) {
		for n := range w.Plan.People {
			who := &w.Plan.People[n]
			boss := who.Part == milestones.Couple || who.Part == milestones.Planner
			ids[who.ID()] = ids[who.ID()] || maySee(i, who, ties(w.Plan, i, who))
			hidden[who.ID()] = boss && who.Named(i.Hide)
		}
	}
	for _, w := range []milestones.Worked{c.was, c.is} {
		for i := range w.Items {
			if w.Items[i].ID == one.ID {
				mark(w, &w.Items[i])
			}
		}
		if a, ok := w.Plan.Agreement(one.Agreement); ok && one.ID == "" {
			mark(w, &milestones.Item{Agreement: a.Key, Kind: milestones.KindPayment, Standing: a.Standing, Owed: true, Hide: a.Hide})
		}
	}
	for i := range one.Each {
		each := &one.Each[i]
		c.concern(each)
		for _, key := range each.For {
			ids[c.id(key)] = true
		}
	}
	for _, p := range c.people() {
		switch {
		case hidden[p.ID()]:
			one.Hidden = append(one.Hidden, p.Key)
		case ids[p.ID()]:
			one.For = append(one.For, p.Key)
		}
	}
}

// people are all of the later plan, and those of the earlier who are gone.
func (c comparing) people() []milestones.Person {
	all := slices.Clone(c.is.Plan.People)
	for _, p := range c.was.Plan.People {
		if lasting(c.is.Plan, p.ID()) == nil {
			all = append(all, p)
		}
	}
	return all
}

// id is the lasting id of the person that people has by that key.
func (c comparing) id(key string) string {
	for _, p := range c.people() {
		if p.Key == key {
			return p.ID()
		}
	}
	return key
}
