package feed

import (
	"strings"

	"banns/milestones"
)

// Summary is the entry in one line: what to do, with whom, for how much, and
// by which hour; who is asked, where the reader is not; among entries of other
// weddings, also of which it is.
func (e *Entry) Summary() string {
	var aside []string
	if e.For != "" {
		aside = append(aside, "for "+e.For)
	}
	if e.Among && !e.NamesWedding() {
		aside = append(aside, e.Wedding)
	}
	return e.line(aside)
}

// What is Summary for where the wedding and who is asked are told beside it.
func (e *Entry) What() string { return e.line(nil) }

// NamesWedding reports whether the entry says which wedding it is of without
// being asked to.
func (e *Entry) NamesWedding() bool {
	return (e.Vendor || e.Kind == milestones.KindWedding) && strings.Contains(e.Title, e.Wedding)
}

func (e *Entry) line(aside []string) string {
	s := e.headline()
	switch {
	case e.Of == Notice && e.Kind == milestones.KindCancelBy:
		s = "On " + e.shortDay() + ": " + s
	case e.Of == Notice:
		s = "By " + e.at(e.shortDay()) + ": " + s
	case e.Deadline() && e.Done.IsZero() && e.Clock != nil && e.endsDay():
		s += " by the end of the day" + e.elsewhere()
	case e.Deadline() && e.Done.IsZero() && e.Clock != nil:
		s += " by " + e.hour()
	}
	if e.Standing == milestones.Quoted {
		aside = append(aside, "only quoted")
	}
	if len(aside) > 0 {
		s += " (" + strings.Join(aside, ", ") + ")"
	}
	return s
}

// off is the summary of an entry that was withdrawn: its title, and no sum.
func (e *Entry) off() string {
	bare := *e
	bare.Currency = ""
	return "Withdrawn: " + bare.Summary()
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
	if e.Done.IsZero() {
		return s
	}
	for _, said := range [][2]string{{"Pay ", "Paid "}, {"Payment from ", "Paid by "}} {
		if rest, ok := strings.CutPrefix(s, said[0]); ok && e.Kind == milestones.KindPayment {
			return said[1] + rest
		}
	}
	return "Done: " + s
}

// withSum puts the sum behind the other side's name: "Pay Hollow Oak Table
// $500.00: security deposit".
func (e *Entry) withSum(s string) string {
	if e.Currency == "" || !e.Amount.Known {
		return s
	}
	at := len(s)
	if name := strings.Index(s, e.With); name >= 0 {
		at = name + len(e.With)
	}
	return s[:at] + " " + e.Currency.Range(e.Amount) + s[at:]
}

func (e *Entry) leavingCost() string {
	switch {
	case e.Currency == "" || !e.Amount.Known:
		return ""
	case e.Amount == milestones.Exactly(0):
		return " at no cost"
	}
	return " for " + e.Currency.Range(e.Amount)
}

// at is a day with the entry's hour, where it has one.
func (e *Entry) at(day string) string {
	switch {
	case e.Clock == nil:
		return day
	case e.endsDay():
		return "the end of " + day + e.elsewhere()
	}
	return day + ", " + e.hour()
}

// endsDay reports whether the entry is due at 00:00. It is to be done the
// day before, of which that is the end; no two people read "by 00:00" alike.
func (e *Entry) endsDay() bool {
	return e.Deadline() && *e.Clock == (milestones.Clock{})
}

// hour is the entry's hour, with its city where that is not the wedding's, or
// the wedding not the only one, and with the pass where clocks show it twice.
func (e *Entry) hour() string {
	s := e.Clock.String() + e.elsewhere()
	if e.Again {
		s += ", the second time that day"
	}
	return s
}

func (e *Entry) elsewhere() string {
	if e.Zone == e.HomeZone && !e.Among {
		return ""
	}
	return " " + city(e.Zone) + " time"
}

// shortDay is the day of the thing itself without its year.
func (e *Entry) shortDay() string {
	words := e.itself().Day().Words()
	return words[:strings.LastIndex(words, " ")]
}

// itself is what an early notice is the notice of.
func (e *Entry) itself() *Entry {
	thing := *e
	thing.Of = Itself
	return &thing
}

// city is the last part of a zone's name, as people say it.
func city(zone string) string {
	return strings.ReplaceAll(zone[strings.LastIndex(zone, "/")+1:], "_", " ")
}
