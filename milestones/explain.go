package milestones

import (
	"fmt"
	"slices"
	"strings"
)

// Explanation is how a timing comes to its day, in words.
type Explanation struct {
	// Steps are sentences without a full stop. What the timing counts from is
	// worked out before it, and the last ends in its day.
	Steps    []string
	Moment            // the contract's day, and its hour where there is one
	WaitsFor string   // why there is no day yet
	Doubts   []string // what is doubtful about the day
}

// explain spells out how t, read in a plan, is counted in the business days
// of its agreement a, which may be nil. What was answered holds.
func explain(p *Plan, c Closures, a *Agreement, t Timing) Explanation {
	e := explainer{newReckoning(p, c)}
	n := e.nodeOf(t, a)
	res := e.timing(n, n.reads())
	if res.waits != "" {
		return Explanation{WaitsFor: res.waits}
	}
	x := Explanation{Steps: e.steps(n), Moment: res.Moment}
	for _, q := range e.doubts(n, n.reads(), res) {
		if q.Open() {
			x.Doubts = append(x.Doubts, q.Says)
		}
	}
	return x
}

// nodeOf is the node of the plan whose timing t is, with its answers, or else
// one of its own.
func (r *reckoning) nodeOf(t Timing, a *Agreement) node {
	for _, to := range r.plan.refs() {
		if n := r.nodes[to]; n.owner == a && n.shift == 0 && *n.when == t {
			return n
		}
	}
	return node{when: &t, owner: a}
}

type explainer struct{ *reckoning }

// steps explain a timing that has its day.
func (e explainer) steps(n node) []string {
	as := n.reads()
	first := n
	first.shift = 0
	t, res := as.of(*n.when), e.timing(first, as)
	how := e.how(t, n.owner, as)
	if len(e.answered(n, res)) > 0 {
		how += ", as was answered"
	}
	return append(e.anchor(t.Anchor), how+": "+e.moment(res.Moment))
}

// answered are the doubts about n that somebody settled.
func (e explainer) answered(n node, res result) []Question {
	return slices.DeleteFunc(e.doubts(n, n.reads(), res), func(q Question) bool { return q.Open() })
}

// anchor explains the day of something that is itself counted.
func (e explainer) anchor(a Anchor) []string {
	n, counted := e.nodes[a.ref]
	if !a.Date.IsZero() || !counted {
		return nil
	}
	steps := e.steps(n)
	last := &steps[len(steps)-1]
	*last = a.String() + ", " + *last
	if n.shift > 0 {
		steps = append(steps, fmt.Sprintf("%s, %s after the first: %s", a, Timing{N: n.shift, Unit: Month}.span(), e.moment(e.day(a.ref).Moment)))
	}
	return steps
}

// how is what leads to the day of t, without the day.
func (e explainer) how(t Timing, a *Agreement, as reads) string {
	from := e.from(t.Anchor)
	switch {
	case t.Fixed():
		return "a date of its own, which does not move with the wedding"
	case t.With && e.day(t.Anchor.ref).Clock != nil:
		return "the same day and hour as " + t.Anchor.String()
	case t.With:
		return "the same day as " + t.Anchor.String()
	case t.Weekday != nil && t.After:
		return fmt.Sprintf("the first %s after %s", t.Weekday, from)
	case t.Weekday != nil:
		return fmt.Sprintf("the last %s before %s", t.Weekday, from)
	case t.N == 0:
		return "the day of " + t.Anchor.String()
	case t.Unit == Hour:
		return e.elapsed(t)
	}
	way := "back"
	if t.After {
		way = "on"
	}
	c := e.counting(a)
	c.kind = as.days
	return fmt.Sprintf("%s %s from %s%s", t.span(), way, from, e.counted(t, c))
}

// from is the day that is counted from, with the name of what stands on it.
func (e explainer) from(a Anchor) string {
	switch day := e.day(a.ref); {
	case !a.Date.IsZero():
		return a.Date.Words()
	case a.ref == weddingRef:
		return day.Words()
	default:
		return fmt.Sprintf("%s (%s)", a, day.Words())
	}
}

// counted is what happened on the way: days that were skipped, a month that
// ended early, a bound.
func (e explainer) counted(t Timing, c counting) string {
	base, step := t.Anchor.Date, -1
	if base.IsZero() {
		base = e.day(t.Anchor.ref).Date
	}
	if t.After {
		step = 1
	}
	plain := t
	plain.Bound = OnTheDay
	end := plain.count(base, c)
	said := ""
	switch t.Unit {
	case BusinessDay:
		said = c.skipped(base, end, step)
	case Month, Year: // clamped to the month's end: New Mexico Stat. 12-2A-7
		if end.Day != base.Day {
			said = fmt.Sprintf(", where %s %d has no day %d, so its last", end.Month, end.Year, base.Day)
		}
	}
	switch t.Bound {
	case MoreThan:
		said += fmt.Sprintf(" is %s; more than that, so the day before", end.Words())
	case FewerThan:
		said += fmt.Sprintf(" is %s; fewer than that, so the day after", end.Words())
	}
	return said
}

// skippedMost is how many holidays are named; a long count meets many.
const skippedMost = 6

// skipped names the days between from and to that were not counted.
func (c counting) skipped(from, to Date, step int) string {
	var names []string
	weekends := false
	for d := from.AddDays(step); d != to; d = d.AddDays(step) {
		switch why := c.shut(d); why {
		case "":
		case d.Weekday().String():
			weekends = true
		default:
			names = append(names, d.utc().Format("Mon 2 Jan ")+why)
		}
	}
	if step < 0 {
		slices.Reverse(names)
	}
	if n := len(names) - skippedMost; n > 0 {
		names = append(names[:skippedMost:skippedMost], fmt.Sprintf("%d more closed days", n))
	}
	switch {
	case weekends && c.kind == MonSat:
		names = append(names, "Sundays")
	case weekends:
		names = append(names, "weekends")
	}
	if len(names) == 0 {
		return ""
	}
	return ", skipping " + listed(names)
}

// listed joins words as people do: a, b and c.
func listed(words []string) string {
	if n := len(words) - 1; n > 0 {
		return strings.Join(words[:n], ", ") + " and " + words[n]
	}
	return words[0]
}

// elapsed explains hours, which run by the clock: Fed. R. Civ. P. 6(a)(2).
func (e explainer) elapsed(t Timing) string {
	base := e.day(t.Anchor.ref)
	way, bound := "back", ""
	if t.After {
		way = "on"
	}
	switch t.Bound {
	case MoreThan:
		bound = ", and more than that, so a minute earlier"
	case FewerThan:
		bound = ", and fewer than that, so a minute later"
	}
	said := fmt.Sprintf("%s by the clock %s from %s%s", t.span(), way, e.moment(base.Moment), bound)
	_, before := e.minute(base).Zone()
	_, after := e.minute(result{Moment: e.hours(t, base.Moment)}).Zone()
	if before != after {
		said += ", across a change of the clocks"
	}
	return said
}

// moment is a day with its hour; in another zone than the wedding's, in both.
func (e explainer) moment(m Moment) string {
	says := m.Words()
	if m.Clock == nil {
		return says
	}
	says += ", " + m.Clock.String()
	if m.Zone == e.zoneName() {
		return says
	}
	at := e.minute(result{Moment: m}).In(e.zone)
	here := at.Format("15:04")
	if DateOf(at) != m.Date {
		here += " on " + DateOf(at).Words()
	}
	return fmt.Sprintf("%s %s, which is %s where the wedding is", says, m.Zone, here)
}

// WhyActBy is why i has to be acted on before the contract's day, or empty.
func (i *Item) WhyActBy() string {
	if i.ActBy.IsZero() || i.ActBy == i.Date {
		return ""
	}
	var why []string
	day := i.Date
	if i.Clock != nil && *i.Clock == (Clock{}) {
		why = append(why, "at 00:00 on "+day.Words()+" the day before is over")
		day = day.AddDays(-1)
	}
	switch i.Shut {
	case "":
	case day.Weekday().String():
		why = append(why, day.Words()+" is no business day")
	default:
		why = append(why, day.Words()+" is "+i.Shut)
	}
	return strings.Join(why, ", and ")
}
