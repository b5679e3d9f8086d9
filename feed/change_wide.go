package feed

import (
	"fmt"
	"slices"

	"banns/milestones"
)

// wide tells what is otherwise with an agreement as a whole, and shows in
// each of its entries.
func (p pair) wide() []told {
	if p.was == nil || p.is == nil || p.is.Agreement == "" {
		return p.zone()
	}
	var all []told
	was, is := p.was, p.is
	tell := func(aspect milestones.Aspect, format string, args ...any) {
		all = append(all, told{Change: Change{Agreement: is.Agreement, Aspects: []milestones.Aspect{aspect}, Says: fmt.Sprintf(format, args...)}})
	}
	if was.With != is.With && !is.Vendor && !was.Vendor {
		tell(milestones.AspectTitle, "%s is called %s now", was.With, is.With)
	}
	if was.Standing != is.Standing {
		tell(milestones.AspectStanding, "%s", standingNow(is))
	}
	if is.Kind == milestones.KindPayment && was.Payer != is.Payer && is.Payer != "" && is.sees() == was.sees() {
		switch {
		case is.Yours && was.Yours: // under another name of theirs
		case is.Yours:
			tell(milestones.AspectPayer, "You pay %s now", is.With)
		case was.Payer == "":
			tell(milestones.AspectPayer, "%s pays %s now", is.Payer, is.With)
		default:
			tell(milestones.AspectPayer, "%s pays %s now, no longer %s", is.Payer, is.With, was.Payer)
		}
	}
	if was.Contact != is.Contact && is.Contact != "" && is.sees() == was.sees() {
		tell(milestones.AspectContact, "Your contact at %s is %s now", is.With, is.Contact)
	}
	return all
}

// zone tells whose hours the wedding keeps now.
func (p pair) zone() []told {
	if !p.wedding() || p.was == nil || p.is == nil || p.was.HomeZone == p.is.HomeZone {
		return nil
	}
	says := fmt.Sprintf("Hours are those of %s now, no longer those of %s", p.is.Home(), p.was.Home())
	return []told{{Change: Change{ID: p.is.ID, Aspects: []milestones.Aspect{milestones.AspectPlan}, Says: says}}}
}

func standingNow(e *Entry) string {
	switch e.Standing {
	case milestones.Signed:
		return "The agreement with " + e.With + " is signed now"
	case milestones.Quoted:
		return "The agreement with " + e.With + " is only a quote again: nothing is owed until it is signed"
	case milestones.Replaced:
		return "Another vendor took the place of " + e.With + "; what stands here is still owed"
	}
	return "The agreement with " + e.With + " has ended; what stands here is still owed"
}

// moveWords count what moved with the wedding, and say how far.
func moveWords(each []told) string {
	days := map[int]int{}
	most := each[0].shift()
	for _, t := range each {
		n := t.shift()
		if days[n]++; days[n] > days[most] {
			most = n
		}
	}
	says := fmt.Sprintf("%d dates moved with it", len(each))
	if len(days) == 1 {
		return says + ", " + daysLater(most)
	}
	var others []int
	for n := range days {
		if n != most {
			others = append(others, max(n, -n))
		}
	}
	span := fmt.Sprintf("%d to %d days", slices.Min(others), slices.Max(others))
	if len(others) == 1 {
		span = fmt.Sprintf("%d days", others[0])
	}
	return fmt.Sprintf("%s: %d of them %s, %d by %s, as their months, business days or open days fall",
		says, days[most], daysLater(most), len(each)-days[most], span)
}
