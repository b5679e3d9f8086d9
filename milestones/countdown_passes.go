package milestones

import "slices"

// patience is how many days in a row can be closed, or somebody be away,
// before a day is taken all the same.
const patience = 180

// shut reports whether st cannot be done on a day: what it needs is closed, or
// somebody is away who must be there.
func (d *drawing) shut(st *task, day Date) bool {
	kind := map[openDays]BusinessDays{postDays: MonSat, officeDays: Federal}[st.open]
	if kind != "" && (counting{kind: kind, closures: d.r.closures}).shut(day) != "" {
		return true
	}
	return len(st.needs) > 0 && d.away(day, st.needs) != nil
}

// away is somebody of those who is away on that day, or nil.
func (d *drawing) away(day Date, whom []string) *Absence {
	for i := range d.plan.Away {
		a := &d.plan.Away[i]
		if who, ok := d.plan.Person(a.Who); ok && who.Named(whom) && !day.Before(a.From) && !day.After(a.To) {
			return a
		}
	}
	return nil
}

// roll is the nearest day on which st can be done, from day on in the
// direction of way.
func (d *drawing) roll(st *task, day Date, way int) Date {
	for n := range patience {
		if one := day.AddDays(n * way); !d.shut(st, one) {
			return one
		}
	}
	return day
}

// forward finds the first day on which each step can be done, from the first
// day of planning.
func (d *drawing) forward(sorted []*task) {
	for _, st := range sorted {
		if !st.toDo() {
			st.earliest, st.soonest = limit{day: st.done}, limit{day: st.done}
			continue
		}
		if from := d.plan.Countdown.From; !from.IsZero() {
			st.soonest.raise(limit{day: from.AddDays(st.takes)})
		}
		for i := range st.from {
			st.soonest.raise(limit{day: st.from[i].day.AddDays(st.takes), at: &st.from[i]})
		}
		st.earliest = st.soonest
		for _, first := range st.before {
			d.follow(st, first)
		}
		if !st.pinned {
			st.earliest.raise(limit{day: d.plan.Wedding.Date.AddDays(-st.lead.earliest)})
			st.earliest.day = d.roll(st, st.earliest.day, +1)
		}
	}
}

// follow keeps st behind what it waits for.
func (d *drawing) follow(st, first *task) {
	soonest, earliest := first.soonest.day, first.earliest.day
	if first.pinned && first.toDo() {
		soonest, earliest = first.day, first.day
	}
	if !soonest.IsZero() {
		st.soonest.raise(limit{day: soonest.AddDays(st.takes), step: first})
	}
	if !earliest.IsZero() {
		st.earliest.raise(limit{day: earliest.AddDays(st.takes), step: first})
	}
}

// backward finds the last day that still works for each step, from the
// wedding and from the deadlines that it serves. What somebody moved is held
// to those alone, not to when people usually do it.
func (d *drawing) backward(sorted []*task) {
	for _, st := range slices.Backward(sorted) {
		if !st.toDo() {
			continue
		}
		if !st.pinned {
			st.latest.lower(limit{day: d.plan.Wedding.Date.AddDays(-st.lead.latest)})
		}
		for i := range st.by {
			st.latest.lower(limit{day: st.by[i].day, at: &st.by[i]})
		}
		for _, next := range st.behind {
			day := next.latest.day
			if next.pinned {
				day = next.day
			}
			if next.toDo() && !day.IsZero() {
				st.latest.lower(limit{day: day.AddDays(-next.takes), step: next})
			}
		}
		if !st.latest.day.IsZero() {
			st.latest.day = d.roll(st, st.latest.day, -1)
		}
	}
}

// settle gives each step its day: as near to the usual lead as its order and
// its deadlines let it be, and as soon as can be where that is too late.
func (d *drawing) settle(sorted []*task) {
	for _, st := range sorted {
		st.ready = st.earliest
		for _, first := range st.before {
			if !first.day.IsZero() {
				st.ready.raise(limit{day: first.day.AddDays(st.takes), step: first})
			}
		}
		switch {
		case !st.toDo():
			st.day = st.done
			continue
		case st.day.IsZero() && st.pinned:
			continue
		case !st.pinned:
			st.day = d.aim(st)
		case !st.ready.day.IsZero():
			st.late = max(0, st.ready.day.DaysSince(st.day))
		}
		if !st.latest.day.IsZero() {
			st.late = max(st.late, st.day.DaysSince(st.latest.day))
		}
	}
}

// aim is the day for a step that nobody moved.
func (d *drawing) aim(st *task) Date {
	st.ready.day = d.roll(st, st.ready.day, +1)
	day := d.plan.Wedding.Date.AddDays(-st.lead.ideal)
	if day.After(st.latest.day) {
		day = st.latest.day
	}
	if day = d.roll(st, day, -1); day.Before(st.ready.day) {
		day = st.ready.day
	}
	return day
}

// spare leaves out what can be left out and cannot be met; it reports whether
// there was any.
func (d *drawing) spare(sorted []*task) (some bool) {
	for _, st := range sorted {
		if st.custom.spare != "" && st.toDo() && !st.pinned && st.earliest.day.After(st.latest.day) {
			d.spared[st.key], some = true, true
		}
	}
	return some
}
