package milestones

import (
	"fmt"
	"time"
)

// reckoning works out the day of every timing of one plan, each once.
type reckoning struct {
	plan     *Plan
	closures Closures
	zone     *time.Location
	nodes    map[ref]node
	found    map[ref]result
}

// result is a day, or what it waits for, and what is doubtful about it.
type result struct {
	Moment
	waits  string
	doubts []string
}

func newReckoning(p *Plan, c Closures) *reckoning {
	r := &reckoning{plan: p, closures: c, zone: zoneOf(p), nodes: p.nodes(), found: map[ref]result{}}
	r.given()
	return r
}

// zoneOf is the zone in which p's wedding is, or UTC where there is none.
func zoneOf(p *Plan) *time.Location {
	zone, err := time.LoadLocation(p.Wedding.Zone)
	if err != nil {
		return time.UTC
	}
	return zone
}

// given notes the days that nothing has to be counted for.
func (r *reckoning) given() {
	w := r.plan.Wedding
	r.found[weddingRef] = result{waits: "the wedding date"}
	if !w.Date.IsZero() {
		r.found[weddingRef] = result{Moment: Moment{w.Date, w.Start, r.zoneName()}}
	}
	for i := range r.plan.Agreements {
		a := &r.plan.Agreements[i]
		r.found[signingRef(a)] = known(a.Signed, "the signing of "+a.With)
		for _, d := range a.Dates {
			r.found[dateRef(a, d.Name)] = known(d.Date, fmt.Sprintf("the %s of %s", d.Name, a.With))
		}
	}
}

// day is the day that r stands for.
func (r *reckoning) day(to ref) result {
	if known, ok := r.found[to]; ok {
		return known
	}
	res := r.work(to)
	r.found[to] = res
	return res
}

func (r *reckoning) work(to ref) result {
	n, ok := r.nodes[to]
	if !ok {
		return result{waits: string(to)}
	}
	res := r.timing(*n.when, n.owner)
	if res.waits == "" && n.shift > 0 {
		res.Date, res.doubts = res.AddMonths(n.shift), nil // the first of them asks
	}
	if res.waits == "" && n.at != nil {
		res.Clock, res.Zone = n.at, r.zoneName()
	}
	return res
}

func known(d Date, waits string) result {
	if d.IsZero() {
		return result{waits: waits}
	}
	return result{Moment: Moment{Date: d}}
}

func (r *reckoning) zoneName() string { return r.zone.String() }

func (r *reckoning) counting(a *Agreement) counting {
	if a == nil {
		return counting{kind: Banks, closures: r.closures}
	}
	return counting{a.BusinessDays, r.closures, a.Closed}
}

// timing is the day of t, counted in the business days of a.
func (r *reckoning) timing(t Timing, a *Agreement) result {
	base := result{Moment: Moment{Date: t.Anchor.Date}}
	if t.Anchor.Date.IsZero() {
		if base = r.day(t.Anchor.ref); base.waits != "" {
			return result{waits: base.waits}
		}
	}
	res := result{Moment: Moment{Date: base.Date}}
	switch {
	case t.Unit == Hour && base.Clock == nil:
		return result{waits: "an hour for " + anchorWords(t)}
	case t.Unit == Hour:
		res.Moment = r.hours(t, base.Moment)
	case t.Weekday != nil:
		res.Date = weekdayBeside(base.Date, *t.Weekday, t.After)
	case t.With:
		res.Moment = base.Moment
	case t.N > 0:
		r.count(&res, t, base.Date, a)
	}
	if t.Clock != nil {
		res.Clock, res.Zone = t.Clock, t.Zone
		if res.Zone == "" {
			res.Zone = r.zoneName()
		}
	}
	r.doubt(&res, t)
	return res
}

func anchorWords(t Timing) string {
	if t.Anchor.Says == "" {
		return t.Anchor.Date.Words()
	}
	return "the " + t.Anchor.Says
}

// count counts calendar units from day and settles the bound.
func (r *reckoning) count(res *result, t Timing, day Date, a *Agreement) {
	step := -1
	if t.After {
		step = 1
	}
	switch n := step * t.N; t.Unit {
	case Day:
		day = day.AddDays(n)
	case Week:
		day = day.AddDays(7 * n)
	case Month:
		day = day.AddMonths(n)
	case Year:
		day = day.AddMonths(12 * n)
	case BusinessDay:
		r.business(res, t, day, step, r.counting(a))
		return
	}
	res.Date = t.Bound.of(day)
}

// business counts business days, and doubts where banks and government
// offices would count differently.
func (r *reckoning) business(res *result, t Timing, day Date, step int, c counting) {
	res.Date = t.Bound.of(c.count(day, t.N, step))
	other, swapped := c.swapped()
	if !swapped {
		return
	}
	if otherwise := t.Bound.of(other.count(day, t.N, step)); otherwise != res.Date {
		res.doubts = append(res.doubts, fmt.Sprintf("if %s business days are meant instead of %s ones, the day is %s, not %s",
			other.kind, c.kind, otherwise.Words(), res.Words()))
	}
}

// of is the edge of a count that ends on d.
func (b Bound) of(d Date) Date {
	switch b {
	case MoreThan:
		return d.AddDays(-1)
	case FewerThan:
		return d.AddDays(1)
	}
	return d
}

// swapped is c with Banks and Federal exchanged.
func (c counting) swapped() (counting, bool) {
	switch c.kind {
	case Banks:
		c.kind = Federal
	case Federal:
		c.kind = Banks
	default:
		return c, false
	}
	return c, true
}

// hours counts elapsed time from the anchor's clock. "More than 48 hours
// before" ends the minute before.
func (r *reckoning) hours(t Timing, base Moment) Moment {
	loc, err := time.LoadLocation(base.Zone)
	if err != nil {
		loc = r.zone
	}
	d := time.Duration(t.N) * time.Hour
	if !t.After {
		d = -d
	}
	switch t.Bound {
	case MoreThan:
		d -= time.Minute
	case FewerThan:
		d += time.Minute
	}
	at := base.Clock.On(base.Date, loc).Add(d).In(loc)
	clock := ClockOf(at)
	return Moment{DateOf(at), &clock, loc.String()}
}

func (r *reckoning) doubt(res *result, t Timing) {
	if t.Bound == WithinOf {
		res.doubts = append(res.doubts, fmt.Sprintf("%q does not say which side it means; it is read as %s at the latest",
			t.Says, res.Words()))
	}
	if t.Midnight {
		res.doubts = append(res.doubts, fmt.Sprintf("midnight may begin or end %s; it is read as its beginning", res.Words()))
	}
}

// weekdayBeside is the nearest day of that name before or after d, never d.
func weekdayBeside(d Date, day time.Weekday, after bool) Date {
	step := -1
	if after {
		step = 1
	}
	for d = d.AddDays(step); d.Weekday() != day; {
		d = d.AddDays(step)
	}
	return d
}
