package feed

import (
	"cmp"
	"slices"

	"banns/milestones"
)

// LatelyDays is how many days a reader is told of a change: some look at
// their page once in a few weeks.
const LatelyDays = 28

// Turn is how one entry stood with its reader before it was published anew,
// and after; nil where it was not there.
type Turn struct {
	UID           string
	Before, After *Published
	// Less: its reader sees less of it than before, or nothing. What was told
	// of it in earlier turns is not to be told any more.
	Less bool
}

// Turns are the entries that one person sees otherwise in a ledger than in
// the one before. Other stamps, another link and other reminders make no
// turn; nor does what was over and went without a word, but that it is Less.
func Turns(was, is []Row) []Turn {
	before := map[string]*Row{}
	for i := range was {
		before[was[i].UID] = &was[i]
	}
	var all []Turn
	for i := range is {
		old := before[is[i].UID]
		if is[i].Of != Itself || old != nil && old.Hash == is[i].Hash && old.Went.Equal(is[i].Went) {
			continue
		}
		t := Turn{UID: is[i].UID, Before: old.shown(), After: is[i].shown()}
		t.Less = t.Before != nil && (t.After == nil || t.Before.more(&t.After.Entry))
		switch {
		case t.Before == nil && t.After == nil:
		case t.Before != nil && is[i].Gone:
			all = append(all, Turn{UID: t.UID, Less: true})
		case t.Less || len(t.Changes()) > 0:
			all = append(all, t)
		}
	}
	return all
}

// shown is what stands in a feed of r, unless it is withdrawn.
func (r *Row) shown() *Published {
	if r == nil || !r.Went.IsZero() {
		return nil
	}
	return &r.Published
}

// more reports whether e shows sums or phrases that other does not.
func (e *Entry) more(other *Entry) bool {
	return e.Currency != "" && other.Currency == "" || e.Rule != "" && other.Rule == ""
}

// Changes tell of t alone.
func (t Turn) Changes() []Change { return Lately([]Turn{t}) }

// Lately tells a reader of turns.
func Lately(turns []Turn) []Change {
	var was, is []Entry
	for _, t := range turns {
		if t.Before != nil {
			was = append(was, t.Before.Entry)
		}
		if t.After != nil {
			is = append(is, t.After.Entry)
		}
	}
	for _, entries := range [][]Entry{was, is} {
		slices.SortStableFunc(entries, func(a, b Entry) int { return cmp.Or(a.Day().Compare(b.Day()), cmp.Compare(a.hourOf(), b.hourOf())) })
	}
	return between(was, is)
}

// Then is t, and what came of the same entry later that day, as one.
func (t Turn) Then(later Turn) Turn {
	return Turn{UID: t.UID, Before: t.Before, After: later.After, Less: later.Less}
}

// Reworded reports whether t tells of other words alone.
func (t Turn) Reworded() bool {
	for _, c := range t.Changes() {
		for _, aspect := range c.Aspects {
			if aspect != milestones.AspectTitle && aspect != milestones.AspectWords {
				return false
			}
		}
	}
	return true
}
