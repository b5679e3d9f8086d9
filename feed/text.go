package feed

import (
	"fmt"
	"slices"
	"strings"

	"banns/milestones"
)

// Text is the entry in full, a sentence or two a line, for somebody tired:
// when, then why that day, then what it costs and whom to ask. It does not
// say again what Summary says.
func (e *Entry) Text() string {
	lines := filled(e.byWhen(), e.ContractDay(offices), e.otherZone(), e.costs(), e.Missed(), e.whoPays())
	lines = append(lines, e.reasons()...)
	for _, l := range []struct{ lead, text, end string }{
		{"Your contact at " + e.With + ": ", e.Contact, ""},
		{"Note: ", e.Note, ""},
		{"The contract’s own words: “", e.Wording, "”"},
	} {
		if l.text != "" {
			lines = append(lines, l.lead+l.text+l.end)
		}
	}
	if e.Agreement != "" && e.Rule != "" {
		lines = append(lines, "The agreement, in short: "+e.Rule)
	}
	for _, q := range e.Questions {
		lines = append(lines, "Question: "+q+".")
	}
	if e.Agreement != "" {
		lines = append(lines, filled(e.advice())...)
	}
	return strings.Join(lines, "\n")
}

// brief is what of Text cannot be left for the reader's page: the day, what
// is doubtful about it, and what governs. An early notice has said all it has
// to in its summary, and so has a milestone that comes in time.
func (e *Entry) brief() string {
	if e.Of == Notice || e.Kind == milestones.KindMilestone && e.LateBy == nil && len(e.Questions) == 0 {
		return ""
	}
	lines := filled(e.byWhen(), e.ContractDay(offices))
	if e.LateBy != nil && e.Aim != nil {
		lines = append(lines, e.Aim.Late)
	}
	for _, q := range e.Questions {
		lines = append(lines, "Question: "+q+".")
	}
	switch {
	case e.Agreement != "" && e.Standing == milestones.Quoted:
		lines = append(lines, e.advice())
	case e.Agreement != "" && e.Done.IsZero():
		lines = append(lines, "The signed contract governs.")
	}
	return strings.Join(lines, "\n")
}

// byWhen says by when, or on which day and where.
func (e *Entry) byWhen() string {
	switch {
	case !e.Done.IsZero() && e.Kind == milestones.KindPayment:
		return "Paid on " + e.Done.Words() + "."
	case !e.Done.IsZero():
		return "Done on " + e.Done.Words() + "."
	}
	by := e.at(e.itself().Day().Words())
	switch e.Kind {
	case milestones.KindChangeBy, milestones.KindPayment, milestones.KindPaper:
		switch {
		case e.Term == milestones.Postponing && e.Vendor:
			return "They may ask until " + by + "."
		case e.Term == milestones.Postponing:
			return "Ask by " + by + "."
		}
		return "Due by " + by + "."
	case milestones.KindRefund:
		return "Due back by " + by + "."
	case milestones.KindCancelBy:
		return "To cancel, tell " + e.With + " by " + by + "."
	case milestones.KindMilestone:
		return "Best done by " + by + "."
	}
	if e.Clock != nil && e.Until != nil {
		by = e.itself().Day().Words() + ", " + e.Hours()
	}
	return strings.Join(filled(by, e.Place.String()), ", ") + "."
}

// offices are who is closed on a day that does not count.
const offices = "offices"

// Closed is who is closed on a day that does not count by the agreement of an
// entry: offices, or banks.
func Closed(p *milestones.Plan, e *Entry) string {
	if a, ok := p.Agreement(e.Agreement); ok && a.BusinessDays == milestones.Banks {
		return "banks"
	}
	return offices
}

// Gives is what a term comes to, for whoever writes it down: when, why that
// day, and what leaving costs. Shut is Closed.
func (e *Entry) Gives(shut string) []string {
	if e.Date.IsZero() && e.Done.IsZero() {
		return []string{"No day yet: it waits for " + e.WaitsFor + "."}
	}
	return filled(e.byWhen(), e.ContractDay(shut), e.otherZone(), e.costs())
}

// ContractDay says the contract's day where the entry stands on another.
func (e *Entry) ContractDay(shut string) string {
	if e.ActBy.IsZero() || e.ActBy == e.Date || !e.Done.IsZero() {
		return ""
	}
	contract := "The contract says " + e.Date.Words()
	if e.Clock != nil {
		contract += ", " + e.hour()
	}
	switch e.Shut {
	case "": // 00:00 is the very start of its day
		return contract + ", which is the end of the day before."
	case "Saturday", "Sunday":
		return contract + "; " + shut + " are closed that day."
	case "closed by the agreement":
		return contract + "; they are closed that day."
	}
	return contract + "; " + shut + " are closed then for " + e.Shut + "."
}

// otherZone says the hour at home where the agreement names another zone.
func (e *Entry) otherZone() string {
	s := e.itself().span()
	if !s.allDay.IsZero() || e.Zone == e.HomeZone {
		return ""
	}
	at := s.start
	if e.Deadline() {
		at = s.end
	}
	home, err := milestones.Zone(e.HomeZone)
	if err != nil {
		return ""
	}
	here := at.In(home)
	says := fmt.Sprintf("%s in %s is %s in %s", e.Clock, city(e.Zone), here.Format("15:04"), city(e.HomeZone))
	if day := milestones.DateOf(here); day != milestones.DateOf(at) {
		says += ", on " + day.Words()
	}
	return says + "."
}

// reasons say why a milestone has its day, and how far it can slip.
func (e *Entry) reasons() []string {
	if e.Aim == nil || !e.Done.IsZero() {
		return nil
	}
	lines := append(slices.Clone(e.Aim.Why), filled(e.Aim.Late)...)
	switch {
	case e.LateBy != nil || e.Slack == nil:
	case *e.Slack == 0:
		lines = append(lines, "It cannot slip.")
	case *e.Slack == 1:
		lines = append(lines, "Up to 1 day later still works.")
	default:
		lines = append(lines, fmt.Sprintf("Up to %d days later still works.", *e.Slack))
	}
	return lines
}

func (e *Entry) costs() string {
	if e.Kind != milestones.KindCancelBy || e.Currency == "" || !e.Amount.Known || !e.Done.IsZero() {
		return ""
	}
	says := "Leaving by then costs nothing"
	if e.Amount != milestones.Exactly(0) {
		says = "Leaving by then costs " + e.Currency.Range(e.Amount) + " in all, counting what is already paid"
	}
	if e.Later.Known && e.Later != e.Amount {
		says += "; after that it costs " + e.Currency.Range(e.Later) + " in all"
	}
	says += "."
	if e.Saves.Known && e.Saves.High > 0 {
		says += " Leaving by then saves " + e.Currency.Range(e.Saves) + " against leaving later."
	}
	return says
}

// Missed says what happens to us if nothing is done in time.
func (e *Entry) Missed() string {
	switch risk := e.Risk(); {
	case risk == "":
		return ""
	case e.Kind == milestones.KindPayment:
		return "If it is late, " + risk + "; see what the contract says."
	case e.Kind == milestones.KindChangeBy:
		return "If it is missed, " + risk + "."
	default:
		return "If it is missing, " + risk + "."
	}
}

// Risk is what they may do where nothing is done in time, or empty.
func (e *Entry) Risk() string {
	if !e.Done.IsZero() || e.Vendor || e.Standing != milestones.Signed || e.Term == milestones.Postponing {
		return ""
	}
	switch e.Kind {
	case milestones.KindPayment:
		return "they may treat it as leaving"
	case milestones.KindChangeBy:
		return "they may hold you to what was last agreed"
	case milestones.KindPaper:
		return "they may refuse to work on the day"
	}
	return ""
}

func (e *Entry) whoPays() string {
	switch {
	case e.Payer == "":
	case e.Yours && e.Kind == milestones.KindPayment:
		return "You pay " + e.With + "."
	case e.Yours && e.Kind == milestones.KindRefund:
		return "It goes back to you."
	case e.Kind == milestones.KindPayment && e.Vendor:
		return e.Payer + " pays."
	case e.Kind == milestones.KindPayment:
		return e.Payer + " pays " + e.With + "."
	case e.Kind == milestones.KindRefund:
		return "It goes back to " + e.Payer + "."
	}
	return ""
}

// advice is what nobody should forget about entries of this kind.
func (e *Entry) advice() string {
	const governs = "The signed contract governs; this is not legal advice."
	switch {
	case e.Standing == milestones.Quoted:
		return "This is only a quote: nothing is owed until it is signed."
	case !e.Done.IsZero():
		return ""
	case e.Vendor:
	case e.Kind == milestones.KindPayment:
		return "Money takes days to arrive, so send it early. " + governs
	case e.Kind == milestones.KindCancelBy, e.Kind == milestones.KindChangeBy:
		return "Put it in writing; it often counts from when they receive it. " + governs
	}
	return governs
}
