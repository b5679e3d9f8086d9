package web

import (
	"slices"
	"strings"

	"banns/feed"
	"banns/milestones"
	"banns/store"
)

// change is one thing that the reader sees otherwise, as a page tells it.
type change struct {
	Day     milestones.Date
	When    string // the day in words, on the first of each day
	Says    string
	More    []string // what Says counts, one by one
	Wedding string   // where the page is of several
}

// lately is what a reader came to see otherwise, the newest first.
type lately struct {
	Newest []change
	Older  []change // folded away
}

// changesShown is how many changes stand before the dates themselves; the
// others are folded, since the dates are what most people come for.
const changesShown = 3

// tellLately tells of the turns of the last weeks, as book shows entries.
func tellLately(turned []store.Turned, book DayBook) lately {
	turned = slices.Clone(turned)
	slices.SortStableFunc(turned, func(a, b store.Turned) int { return b.Day.Compare(a.Day) }) // of several weddings
	var all []change
	for len(turned) > 0 {
		first, n := turned[0], 0
		var turns []feed.Turn
		for n < len(turned) && turned[n].Day == first.Day && turned[n].Wedding == first.Wedding {
			turns = append(turns, alone(turned[n].Turn, book.OneZone))
			n++
		}
		turned = turned[n:]
		if book.Today(homeZone(first.Turn)).DaysSince(first.Day) < feed.LatelyDays {
			all = append(all, newChanges(first, feed.Lately(turns), book.Joint)...)
		}
	}
	folds := len(all) > changesShown+1
	for n := range all {
		if n > 0 && !(folds && n == changesShown) && all[n].Day == all[n-1].Day {
			all[n].When = ""
		}
	}
	if !folds {
		return lately{Newest: all}
	}
	return lately{all[:changesShown], all[changesShown:]}
}

// alone is t with hours that do not say whose they are, where all are of one
// zone.
func alone(t feed.Turn, oneZone bool) feed.Turn {
	for _, p := range []**feed.Published{&t.Before, &t.After} {
		if *p != nil && oneZone {
			own := **p
			own.Among = false
			*p = &own
		}
	}
	return t
}

func homeZone(t feed.Turn) string {
	if t.After != nil {
		return t.After.HomeZone
	}
	return t.Before.HomeZone
}

// newChanges are the changes of one day and wedding.
func newChanges(of store.Turned, told []feed.Change, joint bool) []change {
	var all []change
	for _, c := range told {
		one := change{Day: of.Day, When: shortDay(of.Day), Says: c.Says + "."}
		for _, each := range c.Each {
			one.More = append(one.More, each.Says+".")
		}
		if joint {
			one.Wedding = of.Wedding
		}
		all = append(all, one)
	}
	return all
}

// shortDay is a day without its year: these weeks go without saying.
func shortDay(d milestones.Date) string {
	words := d.Words()
	return words[:strings.LastIndex(words, " ")]
}
