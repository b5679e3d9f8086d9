package feed

import (
	"fmt"
	"slices"

	"banns/milestones"
)

// Change is one thing that changed, told to somebody.
type Change struct {
	ID        string // of the item, or empty
	Agreement string // key of the agreement, or empty
	Aspects   []milestones.Aspect
	Says      string   // one sentence, without a full stop
	Each      []Change // what Says counts, one by one

	// Whom it concerns, where everything is told and not what one person
	// sees: keys of those who see it or saw it, in the order of the plan, and
	// of those of the couple and the planners from whom it is hidden.
	For, Hidden []string
}

// about reports whether aspect alone changed.
func (c *Change) about(aspect milestones.Aspect) bool {
	return len(c.Aspects) == 1 && c.Aspects[0] == aspect
}

// between tells one reader what changed in the entries that they see against
// those that they saw before. It says nothing but what is in the entries.
// Early notices are left out: the thing itself is there.
func between(was, is []Entry) []Change {
	pairs := pairUp(was, is)
	days := weddingMoved(pairs)
	var wide, all []told
	for _, p := range pairs {
		wide = append(wide, p.wide()...)
		if c := p.change(); len(c.Aspects) > 0 {
			all = append(all, told{c, p, p.follows(days)})
		}
	}
	all = sumUp(all)
	at := 0
	for at < len(all) && all[at].ofWedding() {
		at++
	}
	var changes []Change
	for _, t := range slices.Insert(all, at, once(wide)...) {
		changes = append(changes, t.Change)
	}
	return changes
}

// told is a change, what it is the change of, and whether it moved because
// the wedding did.
type told struct {
	Change
	pair
	follows bool
}

// ofWedding reports whether t tells of the wedding, or counts what follows.
func (t told) ofWedding() bool { return t.Agreement == "" && (t.ID == "" || t.pair.wedding()) }

// pair is an entry as it was and as it is; nil where there was none.
type pair struct{ was, is *Entry }

// pairUp puts the entries of one item together: the wedding's own first, then
// what is there in its order, then what went.
func pairUp(was, is []Entry) []pair {
	before := map[string]*Entry{}
	for i := range was {
		if was[i].Of == Itself {
			before[was[i].ID] = &was[i]
		}
	}
	var pairs []pair
	for i := range is {
		if is[i].Of == Itself {
			pairs = append(pairs, pair{before[is[i].ID], &is[i]})
			delete(before, is[i].ID)
		}
	}
	for i := range was {
		if before[was[i].ID] == &was[i] {
			pairs = append(pairs, pair{was: &was[i]})
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return b.rank() - a.rank() })
	return pairs
}

// one is the entry of p that is there.
func (p pair) one() *Entry {
	if p.is != nil {
		return p.is
	}
	return p.was
}

func (p pair) wedding() bool { return p.one() != nil && p.one().Kind == milestones.KindWedding }

func (p pair) rank() int {
	if p.wedding() {
		return 1
	}
	return 0
}

// dated reports whether p had a day and has one.
func (p pair) dated() bool {
	return p.was != nil && p.is != nil && !p.was.Date.IsZero() && !p.is.Date.IsZero()
}

// shift is by how many days p stands later in a calendar than it did.
func (p pair) shift() int { return p.is.Day().DaysSince(p.was.Day()) }

// weddingMoved is by how many days the wedding is later than it was.
func weddingMoved(pairs []pair) int {
	if len(pairs) > 0 && pairs[0].wedding() && pairs[0].dated() {
		return pairs[0].shift()
	}
	return 0
}

// follows reports whether p moved because the wedding did, by so many days:
// by as many, or in the same direction with its words as they were. Nobody
// has touched it.
func (p pair) follows(days int) bool {
	if days == 0 || p.wedding() || !p.dated() || p.was.Rule != p.is.Rule {
		return false
	}
	shift := p.is.Date.DaysSince(p.was.Date)
	return shift == days || p.is.Rule != "" && shift*days > 0
}

// few is how many changes of one kind are still told one by one.
const few = 3

// sumUp counts what follows from one thing instead of telling it over and
// over: what moved with the wedding, what has a day since the wedding has
// one, the lines of an agreement that came or went, and what leaving costs.
func sumUp(all []told) []told {
	if len(all) > 0 && all[0].pair.wedding() {
		all = counted(all, 1, func(t told) bool { return t.follows && t.about(milestones.AspectMoved) }, moveWords)
		switch all[0].Aspects[0] {
		case milestones.AspectDated, milestones.AspectCame:
			all = counted(all, 1, func(t told) bool {
				return t.about(milestones.AspectDated) || t.about(milestones.AspectCame)
			}, plural("%d dates have their day with it"))
		case milestones.AspectUndated, milestones.AspectWent:
			all = counted(all, 1, func(t told) bool {
				return t.about(milestones.AspectUndated) || t.about(milestones.AspectWent)
			}, plural("%d dates have no day without it"))
		}
	}
	var seen []string
	for _, t := range slices.Clone(all) {
		if t.Agreement == "" || slices.Contains(seen, t.Agreement) {
			continue
		}
		seen = append(seen, t.Agreement)
		of := func(aspect milestones.Aspect, kinds ...milestones.Kind) func(told) bool {
			return func(o told) bool {
				return o.Agreement == t.Agreement && o.about(aspect) && (len(kinds) == 0 || slices.Contains(kinds, o.one().Kind))
			}
		}
		with := t.one().With
		all = counted(all, -1, of(milestones.AspectCame), plural("New: %d dates of "+with))
		all = counted(all, -1, of(milestones.AspectWent), plural("Withdrawn: %d dates of "+with))
		all = counted(all, -1, of(milestones.AspectSum, milestones.KindCancelBy), plural("What leaving "+with+" costs changes on %d days"))
	}
	return all
}

// counted puts one change in place of those that which picks, where they are
// more than a few: at that place, or, of one agreement's, where the first of
// them stood.
func counted(all []told, at int, which func(told) bool, says func([]told) string) []told {
	var each, rest []told
	first := -1
	for n, t := range all {
		if n < at || t.Each != nil || !which(t) {
			rest = append(rest, t)
			continue
		}
		if first < 0 {
			first = len(rest)
		}
		each = append(each, t)
	}
	if len(each) <= few {
		return all
	}
	sum := told{Change: Change{Aspects: each[0].Aspects, Says: says(each)}}
	for _, t := range each {
		sum.Each = append(sum.Each, t.Change)
	}
	if at < 0 {
		at, sum.Agreement, sum.pair = first, each[0].Agreement, each[0].pair
	}
	return slices.Insert(rest, at, sum)
}

func plural(format string) func([]told) string {
	return func(each []told) string { return fmt.Sprintf(format, len(each)) }
}

// once are changes of whole agreements, each told once.
func once(wide []told) []told {
	var all []told
	for _, t := range wide {
		if !slices.ContainsFunc(all, func(o told) bool { return o.Says == t.Says }) {
			all = append(all, t)
		}
	}
	return all
}
