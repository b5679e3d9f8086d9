package conflicts

import (
	"fmt"
	"slices"
	"strings"

	"banns/milestones"
)

// dates is how the plan's own dates come out if the wedding is on that day.
func (s *Scales) dates(day milestones.Date, told bool) (all []Clash, pro string) {
	plan, moved := s.trial(day)
	work := milestones.Dates
	if told {
		work = milestones.Schedule
	}
	items := work(plan, s.closures)
	var late, shut []*milestones.Item
	for n := range items {
		switch i := &items[n]; {
		case !i.Done.IsZero() || s.hidden(i.Hide):
		case i.LateBy != nil && *i.LateBy > 0:
			if !i.Date.Before(s.Today) || !s.isFixed(i) {
				late = append(late, i)
			}
		case i.Deadline() && day.DaysSince(i.Date) <= runUp && s.onHoliday(i):
			shut = append(shut, i)
		}
	}
	if s.Outside {
		shut = nil
	}
	all, pro = s.countdown(day, plan, late, told)
	if len(moved) > 0 {
		all = append(all, s.movedClash(day, moved))
	}
	if len(shut) > 0 {
		all = append(all, shutClash(day, shut))
	}
	return all, pro
}

// countdown is whether the countdown of a plan that is tried on a day still
// fits, and from when it is counted, where that is not as the plan has it.
func (s *Scales) countdown(day milestones.Date, plan *milestones.Plan, late []*milestones.Item, told bool) (all []Clash, pro string) {
	was := s.plan.Countdown.From
	switch today := plan.Countdown.From != was; {
	case len(late) > 0:
		c := s.lateClash(day, late)
		switch {
		case !today || !told || s.Outside:
		case was.IsZero():
			c.Note = sentences(c.Note, "Counted from today, for the plan does not say when planning begins.")
		case s.spent(plan, was, late):
			c.Note = sentences(c.Note, "Counted from today, since the time before it is spent: what was done and is not ticked off counts as undone.")
		}
		all = append(all, c)
	case today && was.IsZero():
		pro = "Counted from today, everything that is usual can be done in time."
	case !plan.Countdown.From.IsZero():
		pro = "Everything in the countdown can be done in time."
	}
	return all, pro
}

// spent reports whether any of what is late of a plan would be less so, had the
// time since planning began not passed.
func (s *Scales) spent(plan *milestones.Plan, began milestones.Date, late []*milestones.Item) bool {
	then := *plan
	then.Countdown.From = began
	was := map[string]int{}
	for _, i := range milestones.Dates(&then, s.closures) {
		if i.LateBy != nil {
			was[i.ID] = *i.LateBy
		}
	}
	return slices.ContainsFunc(late, func(i *milestones.Item) bool { return *i.LateBy > was[i.ID] })
}

// runUp is the days before the wedding in which a deadline on a holiday is
// felt, since everything else is due then too: common practice.
const runUp = 42

// trial is the plan with its wedding on that day. Appointments and occasions
// that have a day of their own, before the wedding as it is planned, and would
// be left behind it, move along with it: those are moved. What is undone is
// counted from today where planning began before, for nobody gets that time
// back; and a plan that does not say when it begins has the usual countdown
// from today, or a wedding in eleven days would look as good as any.
func (s *Scales) trial(day milestones.Date) (plan *milestones.Plan, moved []booked) {
	one := *s.plan
	one.Wedding.Date = day
	if from := &one.Countdown.From; from.Before(s.Today) && !day.Before(s.Today) {
		one.Countdown.Wanted = one.Countdown.Wanted || from.IsZero()
		*from = s.Today
	}
	was := s.plan.Wedding.Date
	if was.IsZero() {
		return &one, nil
	}
	one.Agreements = s.around(was, day)
	if !day.Before(was) {
		return &one, nil
	}
	along := func(list string, m *milestones.Meeting) {
		if on := m.When.Anchor.Date; m.When.Fixed() && on.Before(was) && !on.Before(day) {
			if !s.hidden(m.Hide) {
				moved = append(moved, booked{list + "/" + m.Key, *m})
			}
			m.When.Anchor.Date = on.AddDays(day.DaysSince(was))
		}
	}
	one.Appointments, one.Occasions = slices.Clone(one.Appointments), slices.Clone(one.Occasions)
	for n := range one.Appointments {
		along("appointments", &one.Appointments[n].Meeting)
	}
	for n := range one.Occasions {
		along("occasions", &one.Occasions[n].Meeting)
	}
	return &one, moved
}

// around is the plan's agreements with the days that they name close to the
// wedding, such as the guests' arrival, as far from it as they were: they are
// agreed anew with it. Those of long before, as an invoice's, stay: common
// practice.
func (s *Scales) around(was, day milestones.Date) []milestones.Agreement {
	all := slices.Clone(s.plan.Agreements)
	for n := range all {
		a := &all[n]
		a.Dates = slices.Clone(a.Dates)
		for k := range a.Dates {
			on := &a.Dates[k].Date
			if near := max(was.DaysSince(*on), on.DaysSince(was)) <= runUp; near && !on.IsZero() && !on.Before(s.Today) {
				*on = on.AddDays(day.DaysSince(was))
			}
		}
	}
	return all
}

// onHoliday reports whether a deadline that goes by the wedding's day comes
// out on a holiday. On a Saturday or a Sunday they come out every week alike,
// and one that has a day of its own is there whatever day is chosen.
func (s *Scales) onHoliday(i *milestones.Item) bool {
	return i.Shut != "" && i.Shut != i.Date.Weekday().String() && !s.isFixed(i)
}

// isFixed reports whether an item has a day that does not go by the wedding's.
func (s *Scales) isFixed(i *milestones.Item) bool {
	if s.fixed == nil {
		s.fixed = s.fixedDates()
	}
	return s.fixed[i.ID] == i.Date
}

// fixedDates are the days of what does not move with the wedding, by id: they
// are the same for two days that lie weeks apart.
func (s *Scales) fixedDates() map[string]milestones.Date {
	const apart = 45 // days: more than any run of closed days
	on := map[string]milestones.Date{}
	for n := range 2 {
		plan := *s.plan
		plan.Wedding.Date = s.from.AddDays(n * apart)
		for _, i := range milestones.Dates(&plan, s.closures) {
			if n == 1 && on[i.ID] != i.Date {
				delete(on, i.ID)
			} else if n == 0 {
				on[i.ID] = i.Date
			}
		}
	}
	return on
}

// tight is by how many days something of the countdown may be late before it
// is serious: common practice.
const tight = 7

func (s *Scales) lateClash(day milestones.Date, late []*milestones.Item) Clash {
	worst := late[0]
	for _, i := range late {
		if *i.LateBy > *worst.LateBy {
			worst = i
		}
	}
	c := Clash{Event: Event{What: "the countdown", From: day, To: day, Status: Computed}, Effects: []Effect{Deadline}, Severity: Noticeable}
	if *worst.LateBy > tight {
		c.Severity = Serious
	}
	if s.Outside {
		c.Says = "The preparations could not all be done in time."
		return c
	}
	c.About = "countdown"
	c.Says = fmt.Sprintf("%q would come %s too late", worst.Title, plural(*worst.LateBy, "day", "days"))
	if n := len(late) - 1; n > 0 {
		c.Says += fmt.Sprintf(", and %s of the countdown would be late too", plural(n, "more step", "more steps"))
	}
	c.Says += "."
	if worst.Aim != nil {
		c.Note = worst.Aim.Late
	}
	return c
}

// booked is a meeting that has a day of its own, with its place in the plan.
type booked struct {
	at string
	milestones.Meeting
}

// movedClash is what was booked for after that day.
func (s *Scales) movedClash(day milestones.Date, moved []booked) Clash {
	c := Clash{Event: Event{What: "meetings that are booked", From: day, To: day, Status: Computed}, Effects: []Effect{Deadline}, Severity: Slight}
	if s.Outside {
		c.Says = "Something that is booked for later would have to move."
		return c
	}
	first := slices.MinFunc(moved, func(a, b booked) int { return a.When.Anchor.Date.Compare(b.When.Anchor.Date) })
	c.About = first.at
	c.Says = fmt.Sprintf("%s, booked for %s,", first.What, first.When.Anchor.Date.Words())
	if n := len(moved) - 1; n > 0 {
		c.Says += fmt.Sprintf(" and %s after it", plural(n, "more meeting", "more meetings"))
	}
	c.Says += " would have to move."
	return c
}

// shutClash is what would be due on a holiday.
func shutClash(day milestones.Date, shut []*milestones.Item) Clash {
	first := shut[0]
	says := fmt.Sprintf("%s would fall on %s, %s; act by %s.", first.Title, first.Shut, first.Date.Words(), first.ActBy.Words())
	if n := len(shut) - 1; n > 0 {
		says += fmt.Sprintf(" So would %s, on that holiday or another.", plural(n, "more thing", "more things"))
	}
	return Clash{Event: Event{What: "deadlines on holidays", From: day, To: day, Status: Computed}, Effects: []Effect{Deadline}, Severity: Slight, Says: says, About: "agreements/" + first.Agreement}
}

// sentences is what is not empty of some, one after the other.
func sentences(all ...string) string {
	var said []string
	for _, one := range all {
		if one != "" {
			said = append(said, strings.TrimSuffix(one, ".")+".")
		}
	}
	return strings.Join(said, " ")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
