package milestones

import (
	"fmt"
	"slices"
	"strings"
)

// why says in sentences why st has its day.
func (st *task) why() []string {
	if !st.toDo() || st.lacks != "" {
		return nil
	}
	var all []string
	if st.pinned && st.added == nil {
		all = append(all, "The plan sets it: "+st.rule+".")
	}
	switch {
	case st.fixed != "":
		all = append(all, st.fixed)
	case st.usual != "" && st.added == nil:
		all = append(all, "Usually "+st.usual+".")
	}
	if waits := st.waitsFor(); len(waits) > 0 {
		all = append(all, "It waits for "+listed(waits)+".")
	}
	switch end, _ := st.serving(); {
	case end == nil || end.what == "":
	case end == st.latest.at:
		all = append(all, "It comes before "+end.what+".")
	default:
		all = append(all, "It leaves time for "+end.what+".")
	}
	return all
}

// waitsFor is what must come before st and is not done, in words; of what else
// the plan holds, only that which sets the day.
func (st *task) waitsFor() []string {
	var all []string
	for _, first := range st.before {
		if first.toDo() {
			all = append(all, first.noun)
		}
	}
	if at := st.ready.at; at != nil && at.what != "" {
		all = append(all, at.what)
	}
	return all
}

// serving is what sets st's last day, through whatever comes in between: a
// deadline of the plan, or a milestone that somebody gave its day; neither
// where it is st's own lead.
func (st *task) serving() (at *bound, set *task) {
	for st.latest.step != nil {
		if st = st.latest.step; st.pinned {
			return nil, st
		}
	}
	return st.latest.at, nil
}

// lateSays is what a task that comes too late waits for, and what would give.
func (st *task) lateSays() string {
	early := st.pinned && st.ready.day.After(st.day)
	says := fmt.Sprintf("It comes %s too late: ", days(st.late))
	if early {
		says = "It is set too early: "
	}
	switch first := st.ready; {
	case st.pinned && !early:
		says = fmt.Sprintf("It is set %s too late", days(st.late))
	case first.step != nil:
		says += "it waits for " + first.step.noun
	case first.at != nil && first.at.what != "":
		says += "it waits for " + first.at.what
	case st.takes > 0:
		says += "it takes " + span(st.takes) + " from the first day of planning"
	default:
		says += "planning begins too late for it"
	}
	if early {
		says += fmt.Sprintf(", and cannot be before %s, %s later", st.ready.day.Words(), days(st.ready.day.DaysSince(st.day)))
	}
	if give := st.givesWay(); len(give) > 0 {
		says += ". What would give: " + strings.Join(give, "; or ")
	}
	return says + "."
}

// givesWay is what could be done about a task that comes too late.
func (st *task) givesWay() (all []string) {
	if st.gives != "" {
		all = append(all, st.gives)
	}
	if end, set := st.serving(); st.latest.day.Before(st.day) {
		more := days(st.day.DaysSince(st.latest.day))
		switch {
		case set != nil:
			all = append(all, fmt.Sprintf("move %s by %s", set.noun, more))
		case end != nil && end.with != "":
			all = append(all, fmt.Sprintf("ask %s for %s more", end.with, more))
		}
	}
	if st.pinned && len(all) == 0 {
		all = append(all, "give it another day")
	}
	return all
}

func days(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// span is a number of days as people say it: 3 days, 2 weeks.
func span(n int) string {
	if n%week == 0 {
		return Timing{N: n / week, Unit: Week}.span()
	}
	return days(n)
}

// linksLeast is how many milestones make a chain worth naming.
const linksLeast = 3

// chained finds the chain that holds everything up: of what waits for each
// other, that which has the fewest days to spare.
func (d *drawing) chained(sorted []*task) {
	if d.plan.Countdown.From.IsZero() || d.plan.Wedding.Date.IsZero() {
		return
	}
	var found []*task
	for _, st := range sorted {
		if !st.toDo() || st.pinned || st.latest.day.IsZero() || st.lead.latest < 0 {
			continue
		}
		chain := st.chainTo()
		room := st.latest.day.DaysSince(st.soonest.day)
		if len(chain) >= linksLeast && (found == nil || room < d.room || room == d.room && len(chain) > len(found)) {
			found, d.room = chain, room
		}
	}
	if found == nil {
		return
	}
	if at := found[0].soonest.at; at != nil && at.what != "" {
		d.schedule.chain = append(d.schedule.chain, at.what)
	}
	for _, st := range found {
		if st.chain = true; !st.latest.day.IsZero() {
			d.room = min(d.room, st.latest.day.DaysSince(st.soonest.day))
		}
		d.schedule.chain = append(d.schedule.chain, st.noun)
	}
	if end, _ := found[len(found)-1].serving(); end != nil && end.what != "" {
		d.schedule.chain = append(d.schedule.chain, end.what)
	}
}

// chainTo are the steps that set the soonest day of st, and st.
func (st *task) chainTo() []*task {
	chain := []*task{st}
	for first := st.soonest.step; first != nil && first.toDo(); first = first.soonest.step {
		chain = append(chain, first)
	}
	slices.Reverse(chain)
	return chain
}
