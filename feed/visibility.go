package feed

import (
	"slices"

	"banns/milestones"
)

// tie is what somebody is to an item.
type tie string

const (
	couple  tie = "couple"
	planner tie = "planner"
	payer   tie = "payer"   // of the item's agreement
	contact tie = "contact" // at the item's vendor
	named   tie = "named"   // in "for", by key, group or part
)

// sees is the table of who sees which items unless the plan says otherwise.
var sees = map[milestones.Kind][]tie{
	milestones.KindPayment:     {couple, planner, payer, contact, named},
	milestones.KindRefund:      {couple, planner, payer, contact, named},
	milestones.KindCancelBy:    {couple, planner, payer, named},
	milestones.KindChangeBy:    {couple, planner, contact, named},
	milestones.KindPaper:       {couple, planner, contact, named},
	milestones.KindAppointment: {couple, planner, named},
	milestones.KindOccasion:    {couple, planner, named},
	milestones.KindMilestone:   {couple, planner, named},
	milestones.KindWedding:     {named}, // everybody is named
}

// seesMoney is who may see an agreement's sums, and with them its phrases,
// its words and its notes, since free text may hold a sum.
var seesMoney = []tie{couple, planner, payer, contact}

// seesQuoted is who sees an agreement that is only quoted.
var seesQuoted = []tie{couple, planner}

// seesOver is who sees what is still owed of an agreement that was replaced
// or has ended: the planner, and those who pay.
var seesOver = []tie{planner, payer}

// ties are what person is to item.
func ties(p *milestones.Plan, i *milestones.Item, who *milestones.Person) []tie {
	var all []tie
	switch who.Part {
	case milestones.Couple:
		all = append(all, couple)
	case milestones.Planner:
		all = append(all, planner)
	}
	if a, ok := p.Agreement(i.Agreement); ok {
		pays := a.Payer == who.Key || a.Payer == "" && who.Part == milestones.Couple
		if pays {
			all = append(all, payer)
		}
		if a.Contact == who.Key {
			all = append(all, contact)
		}
	}
	if who.Named(i.For) {
		all = append(all, named)
	}
	return all
}

func anyOf(have, may []tie) bool {
	return slices.ContainsFunc(have, func(t tie) bool { return slices.Contains(may, t) })
}

// maySee reports whether somebody with these ties sees the item at all.
// "hide from" always wins.
func maySee(i *milestones.Item, who *milestones.Person, have []tie) bool {
	if who.Named(i.Hide) {
		return false
	}
	switch i.Standing {
	case milestones.Quoted:
		return anyOf(have, seesQuoted)
	case milestones.Replaced, milestones.Ended:
		return (i.Owed || i.Kind == milestones.KindRefund) && anyOf(have, seesOver)
	}
	return anyOf(have, sees[i.Kind])
}

// Audience is who sees the item: keys of persons, sorted.
func Audience(p *milestones.Plan, i *milestones.Item) []string {
	keys := []string{}
	for n := range p.People {
		who := &p.People[n]
		if maySee(i, who, ties(p, i, who)) {
			keys = append(keys, who.Key)
		}
	}
	slices.Sort(keys)
	return keys
}
