package feed

import (
	"slices"
	"strings"

	"banns/milestones"
)

// subject is what p is called where these aspects of it are otherwise: by a
// sum that stays, or by the day that tells it from others like it.
func (p pair) subject(aspects []milestones.Aspect) string {
	was, is := p.was, p.is
	if p.wedding() {
		return "the wedding"
	}
	named := *was // as it was called, by the other side's name of today
	if was.With != "" {
		named.Title, named.With = strings.Replace(was.Title, was.With, is.With, 1), is.With
	}
	switch {
	case !was.money() || !is.money():
		return named.subject("")
	case was.Currency.Range(was.Amount) == is.Currency.Range(is.Amount):
		return named.subject(is.Currency.Range(is.Amount))
	}
	s := named.subject("")
	if !was.Date.IsZero() && !slices.Contains(aspects, milestones.AspectMoved) {
		s += " of " + was.Day().Words()
	}
	return s
}

// money reports whether e says a sum.
func (e *Entry) money() bool { return e.Currency != "" && e.Amount.Known }

// subject is what e is called within a sentence, with a sum where one is
// given.
func (e *Entry) subject(sum string) string {
	if !e.money() {
		sum = ""
	}
	of := ""
	if sum != "" {
		of = " of " + sum
	}
	label := ""
	if l := e.label(); l != "" && l != e.Title {
		label = " (" + l + ")"
	}
	switch e.Kind {
	case milestones.KindWedding:
		return "the wedding"
	case milestones.KindPayment:
		to := " to "
		if e.Vendor {
			to = " from "
		}
		return "the payment" + of + to + e.With + label
	case milestones.KindRefund:
		return strings.Replace(strings.Replace(e.Title, "Security deposit", "the security deposit"+of, 1), "  ", " ", 1)
	case milestones.KindCancelBy:
		if sum != "" {
			return "the last day to cancel " + e.With + e.leavingCost() + label
		}
		return "the last day to cancel " + e.With + label
	case milestones.KindMilestone:
		return "“" + e.Title + "”"
	}
	return e.Title
}

// label is what stands behind the other side's name in a title: of "Hollow
// Oak Table: menu choice", the menu choice.
func (e *Entry) label() string {
	if _, label, ok := strings.Cut(e.Title, e.With+": "); ok && e.With != "" {
		return label
	}
	if e.Agreement != "" {
		return ""
	}
	return e.Title
}

// newcomer tells of an entry that was not there.
func (e *Entry) newcomer() string {
	s := "New: " + e.subject(e.Currency.Range(e.Amount))
	switch {
	case e.Date.IsZero():
		return s + ", without a day yet" + e.waits()
	case !e.Done.IsZero() && e.Kind == milestones.KindPayment:
		return s + ", paid on " + e.Done.Words()
	case !e.Done.IsZero():
		return s + ", done on " + e.Done.Words()
	case e.Kind == milestones.KindCancelBy:
		return s + ", " + e.at(e.Day().Words()) + e.contracted()
	case e.Deadline(), e.Kind == milestones.KindMilestone, e.Kind == milestones.KindRefund:
		return s + ", by " + e.at(e.Day().Words()) + e.contracted()
	}
	s += " on " + e.Day().Words()
	return strings.Join(filled(s, e.Hours(), e.Place.String()), ", ")
}

// waits says what e waits for, to those who may know.
func (e *Entry) waits() string {
	if e.Rule == "" {
		return ""
	}
	return ": it waits for " + e.WaitsFor
}

// now tells on which day an entry stands that had none.
func (e *Entry) now() string {
	if e.Deadline() || e.Kind == milestones.KindMilestone || e.Kind == milestones.KindRefund {
		return "has its day now: " + e.at(e.Day().Words()) + e.contracted()
	}
	return "is on " + strings.Join(filled(e.Day().Words(), e.Hours()), ", ") + " now"
}

// contracted is the contract's day behind another on which to act.
func (e *Entry) contracted() string {
	if e.ActBy.IsZero() || e.ActBy == e.Date || !e.Done.IsZero() || e.ends() {
		return ""
	}
	return " (the contract says " + e.Date.Words() + ")"
}

// ends reports whether e is due at the very end of a day.
func (e *Entry) ends() bool { return e.Clock != nil && e.endsDay() }

// hourOf is e's hour in words, or nothing.
func (e *Entry) hourOf() string {
	switch {
	case e.Clock == nil:
		return ""
	case e.ends():
		return "the end of the day" + e.elsewhere()
	}
	return e.hour()
}

// on is a day with e's hour behind it.
func (e *Entry) on(day string) string {
	switch {
	case e.Clock == nil:
		return day
	case e.ends():
		return "the end of " + day + e.elsewhere()
	}
	return day + " at " + e.hour()
}
