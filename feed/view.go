package feed

import (
	"slices"
	"strings"

	"banns/milestones"
)

// View is what the person with that key sees of the items of p, in their
// order, undated ones included. Nobody of that key sees nothing.
func View(p *milestones.Plan, items []milestones.Item, key string) []Entry {
	who, ok := p.Person(key)
	if !ok {
		return nil
	}
	var entries []Entry
	for n := range items {
		i := &items[n]
		if have := ties(p, i, who); maySee(i, who, have) {
			entries = append(entries, see(p, i, who, have))
		}
	}
	return entries
}

// see copies into an entry what somebody with these ties may see of i.
func see(p *milestones.Plan, i *milestones.Item, who *milestones.Person, have []tie) Entry {
	e := Entry{
		UID:     UID(p.ID, i.ID, who.ID(), Itself),
		Wedding: p.Wedding.Title, HomeZone: p.Wedding.Zone,
		ID: i.ID, Kind: i.Kind, Agreement: i.Agreement, Term: i.Term,
		Title: i.Title, With: i.With,
		Date: i.Date, Clock: i.Clock, Until: i.Until, Zone: i.Zone, ActBy: i.ActBy, Shut: i.Shut,
		Place: i.Place, Standing: i.Standing, Owed: i.Owed, Done: i.Done,
	}
	if e.Clock == nil {
		e.Zone = ""
	} else {
		e.Clock, e.Again = &milestones.Clock{Hour: i.Clock.Hour, Minute: i.Clock.Minute}, i.Clock.Again
	}
	if who.Key != "" { // whoever holds the plan is nobody in it
		e.For = others(p, i, have)
	}
	if i.Undated() {
		e.WaitsFor = "something that is not known yet"
	}
	if e.Vendor = vendorSide(have); e.Vendor {
		e.Title, e.With = asVendor(p, i), p.Wedding.Title
	}
	switch {
	case i.Agreement != "" && anyOf(have, seesMoney):
		e.seeMoney(p, i, have)
	case i.Agreement == "":
		e.Note = i.Note
		if anyOf(have, []tie{couple, planner}) {
			e.seePhrases(i)
			e.seeAim(i)
		}
	}
	return e
}

// seePhrases adds how the day was reckoned.
func (e *Entry) seePhrases(i *milestones.Item) {
	e.Rule, e.WaitsFor = i.Rule, i.WaitsFor
	for _, q := range i.Questions {
		e.Questions = append(e.Questions, q.Says)
	}
}

// seeAim adds the room that a milestone has, and why. That names agreements
// and their days: as free text, it counts as money.
func (e *Entry) seeAim(i *milestones.Item) {
	e.Aim, e.LateBy = i.Aim, i.LateBy
	if slack, ok := i.Slack(); ok {
		e.Slack = &slack
	}
}

func (e *Entry) seeMoney(p *milestones.Plan, i *milestones.Item, have []tie) {
	e.seePhrases(i)
	e.Currency, e.Amount, e.Later, e.Saves = p.Wedding.Currency, i.Amount, i.Later, i.Saves
	e.Wording, e.Note = i.Wording, i.Note
	a, _ := p.Agreement(i.Agreement)
	if who, ok := p.Person(a.Payer); ok {
		e.Payer, e.Yours = who.Name, slices.Contains(have, payer)
	}
	if who, ok := p.Person(a.Contact); ok && !e.Vendor {
		e.Contact = strings.Join(filled(who.Name, who.Phone, who.Email), ", ")
	}
}

func filled(all ...string) []string {
	var some []string
	for _, s := range all {
		if s != "" {
			some = append(some, s)
		}
	}
	return some
}

// vendorSide reports whether somebody with these ties reads an item as the
// vendor does. Whoever pays, or marries, reads it from that side.
func vendorSide(have []tie) bool {
	return anyOf(have, []tie{contact}) && !anyOf(have, []tie{couple, planner, payer})
}

// asVendor is the item's title as the vendor would put it: the wedding's
// name stands where the vendor's own would.
func asVendor(p *milestones.Plan, i *milestones.Item) string {
	us := p.Wedding.Title
	switch i.Kind {
	case milestones.KindPayment:
		return strings.Replace(i.Title, "Pay "+i.With, "Payment from "+us, 1)
	case milestones.KindRefund:
		return strings.Replace(i.Title, " from "+i.With, " to "+us, 1)
	}
	return strings.Replace(i.Title, i.With, us, 1)
}

// Whole is the entry of somebody from whom nothing is hidden: what whoever
// holds the plan itself sees. It has no UID, since it is nobody's.
func Whole(p *milestones.Plan, i *milestones.Item) Entry {
	e := see(p, i, &milestones.Person{}, []tie{planner})
	e.UID = ""
	return e
}
