package milestones

import (
	"cmp"
	"fmt"
)

// licenceCustoms are the milestones that come of the office's rule.
func (p *Plan) licenceCustoms(c Closures) []custom {
	l, day := p.Licence, p.Wedding.Date
	office := cmp.Or(l.Office, "the office that issues it")
	apply := custom{key: licenceKey, title: "Apply for the marriage licence at " + office, noun: "the licence",
		lead: lead{12 * week, 3 * week, 1}, open: officeDays, needs: []string{string(Couple)}, note: LicenceCaution,
		gives: "ask the office whether a judge can waive the wait, or whether another office is quicker"}
	inHand := custom{key: licenceInHand, title: "Have the marriage licence in hand", noun: "the licence in hand",
		lead: lead{12 * week, 1 * week, 1}, open: officeDays, after: []string{licenceKey}, note: LicenceCaution,
		gives: "ask the office to keep it ready at the counter"}
	back := custom{key: licenceReturn, title: "Return the signed licence to " + office, noun: "the return of the licence",
		lead: lead{-1, -1, -1}, open: officeDays, who: []string{string(Officiant)}, note: LicenceCaution,
		gives: "telephone the office at once"}
	if w, ok := LicenceWindow(p, c); ok {
		l.dated(day, w, c, &apply, &inHand, &back)
	}
	return []custom{apply, inHand, back}
}

// dated puts the days of the window into the milestones.
func (l *Licence) dated(day Date, w Window, c Closures, apply, inHand, back *custom) {
	office := counting{kind: Federal, closures: c}
	before := func(d Date) int { return day.DaysSince(d) }
	apply.lead.latest, inHand.lead.latest = before(w.Last), before(w.InHand)
	by := w.Last.Words()
	if w.Hour != nil {
		by = w.Hour.String() + " on " + by
	}
	apply.fixed = "By the office's rule the last day to apply is " + w.Last.Words() + "."
	if w.Hour != nil {
		apply.fixed = "By the office's rule the licence must be issued by " + by + "."
	}
	if !w.First.IsZero() {
		apply.lead.earliest = before(w.First)
		apply.fixed += " Before " + w.First.Words() + " is too soon: it would run out."
	}
	apply.lead.ideal = min(max(apply.lead.ideal, apply.lead.latest), apply.lead.earliest)
	inHand.lead.earliest = apply.lead.earliest
	inHand.lead.ideal = min(max(inHand.lead.ideal, inHand.lead.latest), inHand.lead.earliest)
	inHand.fixed = "The last day on which the office is open before the wedding is " + w.InHand.Words() + "."
	if l.waits.from != fromIssue && l.waits.n > 0 {
		inHand.takes = l.waits.after(w.Last, office).DaysSince(w.Last)
		inHand.fixed = fmt.Sprintf("The office issues it %s after the application. %s", l.waits.span(), inHand.fixed)
	}
	next := day.AddDays(1)
	for office.shut(next) != "" {
		next = next.AddDays(1)
	}
	back.lead.ideal, back.lead.latest = before(next), before(next)
	back.fixed = "Whoever marries you signs it and sends it back. Ask the office how many days it gives."
	if !w.Return.IsZero() {
		back.lead.latest = min(before(w.Return), before(next))
		back.fixed = "Whoever marries you signs it and sends it back. The office wants it by " + w.Return.Words() + "."
	}
	apply.asks = w.Doubt
}
