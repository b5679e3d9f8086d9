package milestones

import "fmt"

// Keys of the milestones that come of the licence's rule, and of the one that
// asks for it.
const (
	licenceRule   = "licence-rule"
	licenceKey    = "licence"
	licenceInHand = "licence-in-hand"
	licenceReturn = "licence-return"
)

// LicenceCaution stands beside whatever is worked out from the office's rule.
const LicenceCaution = "The office's word counts: ask it before you rely on these days."

// Window is when to apply for the marriage licence and when to have it.
type Window struct {
	First  Date   // the first day on which to apply: before, it would run out
	Last   Date   // the last day on which to apply, an open day of the office
	Hour   *Clock // on Last, where the rule counts hours
	InHand Date   // the last open day before the wedding
	Return Date   // the last open day on which it goes back; zero where the rule does not say
	// Doubt is what the rule leaves open, and was taken with caution: one
	// sentence without its full stop, or empty.
	Doubt string
}

// LicenceWindow is the window of p; ok is false while there is no rule or no
// date. What the rule does not say is taken so that it leaves fewer days.
func LicenceWindow(p *Plan, c Closures) (w Window, ok bool) {
	l, day := p.Licence, p.Wedding.Date
	if l == nil || day.IsZero() {
		return Window{}, false
	}
	office := counting{kind: Federal, closures: c}
	w.InHand, _ = office.lastOpen(day.AddDays(-1))
	w.Last, w.Hour = l.last(p, office, w.InHand)
	w.First = l.first(day)
	if l.back.n > 0 {
		w.Return, _ = office.lastOpen(l.back.after(day, office))
		if !w.Return.After(day) {
			w.Return = l.back.after(day, office)
		}
	}
	w.Doubt = l.doubt()
	return w, true
}

// last is the last open day on which to apply: after the wait, the licence is
// still to be fetched on an open day before the wedding, or, where the wait
// runs from its issue, the wedding may begin.
func (l *Licence) last(p *Plan, office counting, inHand Date) (Date, *Clock) {
	if l.waits.n == 0 {
		return inHand, nil
	}
	if l.waits.from != fromIssue {
		day := inHand
		for !l.ready(day, office).Before(inHand.AddDays(1)) || office.shut(day) != "" {
			day = day.AddDays(-1)
		}
		return day, nil
	}
	if l.waits.unit == Hour {
		r := newReckoning(p, office.closures)
		start := Clock{}
		if p.Wedding.Start != nil {
			start = *p.Wedding.Start
		}
		at := r.hours(Timing{N: l.waits.n}, Moment{p.Wedding.Date, &start, r.zoneName()})
		if day, _ := office.lastOpen(at.Date); day == at.Date && !day.After(inHand) {
			return day, at.Clock
		}
		day, _ := office.lastOpen(earlier(at.Date, inHand))
		return day, nil
	}
	day := inHand
	for l.waits.after(day, office).After(p.Wedding.Date) || office.shut(day) != "" {
		day = day.AddDays(-1)
	}
	return day, nil
}

// ready is the open day on which a licence applied for on day is issued.
func (l *Licence) ready(day Date, office counting) Date {
	if l.waits.from == fromIssue || l.waits.n == 0 {
		return day
	}
	day = l.waits.after(day, office)
	for office.shut(day) != "" {
		day = day.AddDays(1)
	}
	return day
}

// first is the first day on which to apply so that the licence still holds on
// the wedding day; zero where the rule does not say how long it lasts.
func (l *Licence) first(wedding Date) Date {
	if l.lasts.n == 0 {
		return Date{}
	}
	holds := func(day Date) bool {
		issued := day
		if l.lasts.from == fromIssue && l.waits.from == fromApplication {
			issued = l.waits.after(day, counting{kind: MonFri})
		}
		return !l.lasts.after(issued, counting{kind: MonFri}).Before(wedding)
	}
	day := wedding
	for holds(day.AddDays(-1)) {
		day = day.AddDays(-1)
	}
	return day
}

// after is the last day of p, which begins on day; hours fill days up.
func (p period) after(day Date, office counting) Date {
	if p.unit == Hour {
		return day.AddDays((p.n + 23) / 24)
	}
	day = Timing{N: p.n, Unit: p.unit, After: true}.count(day, office)
	if p.short {
		day = day.AddDays(-1)
	}
	return day
}

func earlier(a, b Date) Date {
	if b.Before(a) {
		return b
	}
	return a
}

// doubt is what the rule does not say, and matters.
func (l *Licence) doubt() string {
	waits, lasts := l.waits.n > 0 && l.waits.from == fromEither, l.lasts.n > 0 && l.waits.n > 0 && l.lasts.from == fromEither
	const taken = "run from the application or from the issue; what leaves fewer days is taken"
	switch {
	case waits && lasts:
		return fmt.Sprintf("the rule does not say whether the %s of waiting and the %s of its life %s", l.Waits, l.Lasts, taken)
	case waits:
		return fmt.Sprintf("the rule does not say whether the %s of waiting %s", l.Waits, taken)
	case lasts && l.waits.from == fromApplication:
		return fmt.Sprintf("the rule does not say whether the %s of its life %s", l.Lasts, taken)
	}
	return ""
}
