package feed

import (
	"fmt"
	"strings"
	"time"

	"banns/milestones"
)

// Summary is the entry in one line: what to do, with whom, for how much.
func (e *Entry) Summary() string {
	s := e.headline()
	if e.Standing == milestones.Quoted {
		s += " (only quoted)"
	}
	if e.Of == Notice {
		s = "By " + e.shortDay() + ": " + s
	}
	return s
}

func (e *Entry) headline() string {
	s := e.Title
	switch e.Kind {
	case milestones.KindWedding:
		return s + ": the wedding"
	case milestones.KindCancelBy:
		s += e.leavingCost()
	case milestones.KindPayment, milestones.KindRefund:
		s = e.withSum(s)
	}
	if !e.Done.IsZero() {
		if paid, ok := strings.CutPrefix(s, "Pay "); ok {
			return "Paid: " + paid
		}
		return "Done: " + s
	}
	if e.Clock != nil && e.Deadline() {
		s += " by " + e.Clock.String()
	}
	return s
}

// withSum puts the sum behind the vendor: "Pay Hollow Oak Table $500.00:
// security deposit".
func (e *Entry) withSum(s string) string {
	if e.Currency == "" || !e.Amount.Known {
		return s
	}
	head, what, cut := strings.Cut(s, ": ")
	head += " " + e.Currency.Range(e.Amount)
	if cut {
		head += ": " + what
	}
	return head
}

func (e *Entry) leavingCost() string {
	if e.Currency == "" || !e.Amount.Known {
		return ""
	}
	if e.Amount == milestones.Exactly(0) {
		return " at no cost"
	}
	return " for " + e.Currency.Range(e.Amount)
}

// Text is the entry in full, a sentence or two a line, for somebody tired:
// what to do, then why, then what it costs.
func (e *Entry) Text() string {
	lines := filled(e.toDo(), e.contractDay(), e.otherZone(), e.costs(), e.missed())
	if e.Payer != "" && (e.Kind == milestones.KindPayment || e.Kind == milestones.KindRefund) {
		lines = append(lines, e.Payer+" pays this agreement.")
	}
	if e.Contact != "" {
		lines = append(lines, "Ask "+e.With+": "+e.Contact+".")
	}
	if e.Note != "" {
		lines = append(lines, "Note: "+e.Note)
	}
	if e.Agreement != "" && e.Rule != "" {
		lines = append(lines, "The agreement's term: "+e.Rule+".")
	}
	if e.Wording != "" {
		lines = append(lines, "The contract's own words: “"+e.Wording+"”")
	}
	for _, q := range e.Questions {
		lines = append(lines, "Question: "+q+".")
	}
	if e.Agreement != "" {
		lines = append(lines, caution(e.Kind))
	}
	return strings.Join(lines, "\n")
}

func (e *Entry) toDo() string {
	day := e.Day()
	if e.Of == Notice {
		itself := *e
		itself.Of = Itself
		day = itself.Day()
	}
	switch {
	case !e.Done.IsZero():
		return "Done on " + e.Done.Words() + "."
	case e.Kind == milestones.KindPayment || e.Kind == milestones.KindChangeBy || e.Kind == milestones.KindPaper || e.Kind == milestones.KindCancelBy:
		s := e.headlineWithoutHour() + " by " + day.Words()
		if e.Clock != nil {
			s += ", " + e.Clock.String()
		}
		return s + "."
	}
	s := day.Words()
	if e.Clock != nil {
		s += ", " + e.Clock.String()
		if e.Until != nil {
			s += " to " + e.Until.String()
		}
	}
	if place := e.Place.String(); place != "" {
		s += ", " + place
	}
	return s + "."
}

func (e *Entry) headlineWithoutHour() string {
	bare := *e
	bare.Clock = nil
	s := bare.headline()
	if e.Kind == milestones.KindCancelBy {
		return "To cancel " + e.With + e.leavingCost() + ", tell them"
	}
	return s
}

// contractDay says the contract's day where the entry stands on another.
func (e *Entry) contractDay() string {
	if e.ActBy.IsZero() || e.ActBy == e.Date || !e.Done.IsZero() {
		return ""
	}
	contract := e.Date.Words()
	if e.Clock != nil {
		contract += ", " + e.Clock.String()
	}
	switch e.Shut {
	case "":
		return "The contract says " + contract + "."
	case "Saturday", "Sunday":
		return fmt.Sprintf("The contract says %s; offices are closed that day.", contract)
	case "closed by the agreement":
		return fmt.Sprintf("The contract says %s; they are closed that day.", contract)
	}
	return fmt.Sprintf("The contract says %s; closed that day for %s.", contract, e.Shut)
}

// otherZone says the hour at home where the agreement names another zone.
func (e *Entry) otherZone() string {
	if e.Clock == nil || e.Zone == e.HomeZone {
		return ""
	}
	there, err := time.LoadLocation(e.Zone)
	home, err2 := time.LoadLocation(e.HomeZone)
	if err != nil || err2 != nil {
		return ""
	}
	here := e.clock().On(e.Date, there).In(home)
	return fmt.Sprintf("%s in %s is %s in %s.", e.Clock, city(e.Zone), here.Format("15:04"), city(e.HomeZone))
}

// city is the last part of a zone's name, as people say it.
func city(zone string) string {
	return strings.ReplaceAll(zone[strings.LastIndex(zone, "/")+1:], "_", " ")
}

func (e *Entry) costs() string {
	if e.Kind != milestones.KindCancelBy || e.Currency == "" || !e.Amount.Known {
		return ""
	}
	s := "Leaving by then costs " + e.Currency.Range(e.Amount) + " in all, paid or not"
	if e.Later.Known && e.Later != e.Amount {
		s += "; from the next day it costs " + e.Currency.Range(e.Later)
	}
	return s + "."
}

func (e *Entry) missed() string {
	if !e.Done.IsZero() {
		return ""
	}
	switch e.Kind {
	case milestones.KindPayment:
		return "If it is missed, the vendor may treat the agreement as left."
	case milestones.KindChangeBy:
		return "If it is missed, what was last agreed stands, and is charged."
	case milestones.KindPaper:
		return "If it is missed, they may turn the work away on the day."
	}
	return ""
}

// caution is what nobody should forget about entries of this kind.
func caution(k milestones.Kind) string {
	const governs = "The signed contract governs; this is not legal advice."
	switch k {
	case milestones.KindPayment:
		return "Payments must clear, so send it some days before. " + governs
	case milestones.KindCancelBy, milestones.KindChangeBy:
		return "Notice often counts when it is received, and in writing. " + governs
	}
	return governs
}

func (e *Entry) shortDay() string {
	itself := *e
	itself.Of = Itself
	words := itself.Day().Words()
	return words[:strings.LastIndex(words, " ")]
}

// clock is the entry's hour with the pass it is in.
func (e *Entry) clock() milestones.Clock {
	c := *e.Clock
	c.Again = e.Again
	return c
}
