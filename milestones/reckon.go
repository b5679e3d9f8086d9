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
	bare     bool // nobody asks what is doubtful
}

// result is a day, or what it waits for, and what is doubtful about it.
type result struct {
	Moment
	waits  string
	doubts []Question
}

func newReckoning(p *Plan, c Closures) *reckoning {
	r := &reckoning{plan: p, closures: c, zone: p.Wedding.Location(), nodes: p.nodes(), found: map[ref]result{}}
	r.given()
	return r
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
	as := n.reads()
	res := r.timing(n, as)
	if res.waits == "" && n.shift == 0 && !r.bare { // of equal payments, the first asks
		res.doubts = r.doubts(n, as, res)
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

// timing is the day of n, read in one way.
func (r *reckoning) timing(n node, as reads) result {
	t := as.of(*n.when)
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
		c := r.counting(n.owner)
		c.kind = as.days
		res.Date = t.count(base.Date, c)
	}
	res.Date = res.AddMonths(n.shift)
	r.hour(&res.Moment, t.Clock, t.Zone)
	r.hour(&res.Moment, n.at, "")
	return res
}

// hour gives m its hour, if there is one, in the wedding's zone or another.
func (r *reckoning) hour(m *Moment, at *Clock, zone string) {
	if at == nil {
		return
	}
	if m.Clock, m.Zone = at, zone; zone == "" {
		m.Zone = r.zoneName()
	}
}

func anchorWords(t Timing) string {
	if t.Anchor.Says == "" {
		return t.Anchor.Date.Words()
	}
	return "the " + t.Anchor.Says
}

// count counts t's units from day and settles the bound.
func (t Timing) count(day Date, c counting) Date {
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
		day = c.count(day, t.N, step)
	}
	return t.Bound.of(day)
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

// hours counts elapsed time from the anchor's clock. "More than 48 hours
// before" ends the minute before.
func (r *reckoning) hours(t Timing, base Moment) Moment {
	loc, err := Zone(base.Zone)
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
