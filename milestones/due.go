package milestones

import (
	"cmp"
	"slices"
	"time"
)

// Tally is a set of sums by how they stand on a day. A sum of which nothing
// is known counts as nothing at least.
type Tally struct {
	Paid    Amount // done
	Overdue Amount // its contract's day is over, and it is not done
	Open    Amount // still to come, on a day that is known
	Undated Amount // still to come, without a day
}

// Total is the whole tally.
func (t Tally) Total() Amount { return t.Paid.Plus(t.Overdue).Plus(t.Open).Plus(t.Undated) }

// Dues are what one group of payments comes to: the payments that make the
// prices, and the security deposits apart from them, going and coming back.
type Dues struct {
	Group    string
	Payments Tally
	Security Tally
	Back     Tally
}

// Grouping is what Dues are grouped by.
type Grouping string

// The groupings.
const (
	ByMonth     Grouping = "month"     // 2027-03: the day it was done, or else the contract's; empty without a day
	ByPayer     Grouping = "payer"     // a person's key, or "couple" where the plan names no payer
	ByAgreement Grouping = "agreement" // its key
)

// Owing is what is paid and to be paid of a plan, as it stands on a day.
type Owing struct {
	Groups []Dues // in order of month, of people, or of agreements
	All    Dues
	Quoted Dues // apart, for none of it is owed
}

// Due sums up the payments and refunds among the items of p. Of what was
// replaced or has ended, only lines that are still owed count, and what comes
// back. Without a grouping there are no groups.
func Due(p *Plan, items []Item, on Date, by Grouping) Owing {
	owing := Owing{All: noDues(""), Quoted: noDues("")}
	groups := map[string]*Dues{}
	for n := range items {
		i := &items[n]
		switch {
		case i.Kind != KindPayment && i.Kind != KindRefund:
		case i.Standing == Quoted:
			owing.Quoted.add(p, i, on)
		case i.duty():
			owing.All.add(p, i, on)
			key := by.of(p, i)
			if groups[key] == nil {
				one := noDues(key)
				groups[key] = &one
			}
			groups[key].add(p, i, on)
		}
	}
	if by == "" {
		return owing
	}
	for _, one := range groups {
		owing.Groups = append(owing.Groups, *one)
	}
	slices.SortFunc(owing.Groups, func(a, b Dues) int {
		return cmp.Or(cmp.Compare(by.place(p, a.Group), by.place(p, b.Group)), cmp.Compare(a.Group, b.Group))
	})
	return owing
}

func noDues(group string) Dues {
	none := Exactly(0)
	empty := Tally{none, none, none, none}
	return Dues{group, empty, empty, empty}
}

// add counts i as it stands on a day.
func (d *Dues) add(p *Plan, i *Item, on Date) {
	tally := &d.Payments
	switch {
	case i.Kind == KindRefund:
		tally = &d.Back
	case i.security(p):
		tally = &d.Security
	}
	sum := &tally.Open
	switch {
	case !i.Done.IsZero():
		sum = &tally.Paid
	case i.Undated():
		sum = &tally.Undated
	case i.Date.Before(on) && i.duty():
		sum = &tally.Overdue
	}
	amount := i.Amount
	if !amount.Known {
		amount = AtLeast(0)
	}
	*sum = sum.Plus(amount)
}

// security reports whether a payment is a deposit against damage.
func (i *Item) security(p *Plan) bool {
	a, _ := p.Agreement(i.Agreement)
	return slices.ContainsFunc(a.Pay, func(one Payment) bool { return one.Key == i.Term && one.Form == Security })
}

// of is the group that i belongs to.
func (by Grouping) of(p *Plan, i *Item) string {
	switch by {
	case ByMonth:
		day := i.Done
		if day.IsZero() {
			day = i.Date
		}
		if month := day.String(); month != "" {
			return month[:len("2027-03")]
		}
	case ByPayer:
		if a, _ := p.Agreement(i.Agreement); a.Payer != "" {
			return a.Payer
		}
		return string(Couple)
	case ByAgreement:
		return i.Agreement
	}
	return ""
}

// place is where a group stands among the others; months stand by their
// names, and what has none last.
func (by Grouping) place(p *Plan, group string) int {
	switch by {
	case ByMonth:
		return b2i(group == "")
	case ByPayer:
		return slices.IndexFunc(p.People, func(who Person) bool { return who.Key == group })
	}
	return slices.IndexFunc(p.Agreements, func(a Agreement) bool { return a.Key == group })
}

// Name is a group as people call it: a month, whoever pays, or a vendor.
func (by Grouping) Name(p *Plan, group string) string {
	switch by {
	case ByMonth:
		if month, err := time.Parse("2006-01", group); err == nil {
			return month.Format("January 2006")
		}
		return "No month yet"
	case ByPayer:
		if who, ok := p.Person(group); ok {
			return who.Name
		}
		return "The couple"
	}
	if a, ok := p.Agreement(group); ok {
		return a.With
	}
	return group
}
