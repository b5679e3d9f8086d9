package conflicts

import (
	"fmt"
	"strings"
	"time"

	"banns/milestones"
)

// own is what the plan itself says against a day, and for it.
func (s *Scales) own(day milestones.Date) (against []Clash, pro []string) {
	for _, part := range []func(milestones.Date) ([]Clash, string){s.away, s.dates, s.light} {
		clashes, says := part(day)
		against = append(against, clashes...)
		if says != "" {
			pro = append(pro, says)
		}
	}
	return against, pro
}

// needed is how much it matters that somebody of a part cannot be there:
// common practice. A vendor may send another; an officiant or one of the two
// cannot.
var needed = map[milestones.Part]Severity{
	milestones.Couple:    Blocking,
	milestones.Officiant: Blocking,
	milestones.Planner:   Serious,
	milestones.Vendor:    Serious,
	milestones.Family:    Serious,
	milestones.Attendant: Serious,
	milestones.Helper:    Noticeable,
}

// away is who cannot be there, or not the day before.
func (s *Scales) away(day milestones.Date) (all []Clash, pro string) {
	for _, a := range s.plan.Away {
		who, ok := s.plan.Person(a.Who)
		if !ok {
			continue
		}
		c := Clash{Event: Event{What: who.Name + " is away", From: a.From, To: a.To, Status: Announced}, Effect: Absence}
		switch {
		case !day.Before(a.From) && !day.After(a.To):
			c.Severity = needed[who.Part]
			c.Says = fmt.Sprintf("%s (%s) is away until %s.", who.Name, who.Part, a.To.Words())
		case day.AddDays(-1) == a.To:
			c.Severity = needed[who.Part].lighter().lighter()
			c.Says = fmt.Sprintf("%s (%s) is away until the day before, and misses a rehearsal.", who.Name, who.Part)
		}
		if c.Severity > 0 {
			all = append(all, c)
		}
	}
	for i := range s.plan.Agreements {
		all = append(all, shut(&s.plan.Agreements[i], day)...)
	}
	if len(all) == 0 && len(s.plan.Away) > 0 {
		pro = "Nobody who is needed is known to be away."
	}
	return all, pro
}

// shut is a day on which a vendor under agreement is closed.
func shut(a *milestones.Agreement, day milestones.Date) []Clash {
	if a.Over() {
		return nil
	}
	for _, d := range a.Closed {
		if d == day {
			return []Clash{{Event: Event{What: a.With + " is closed", From: d, To: d, Status: Announced},
				Effect: Absence, Severity: Serious, Says: a.With + " is closed on that day."}}
		}
	}
	return nil
}

// dates is how the plan's own dates come out if the wedding is on that day.
func (s *Scales) dates(day milestones.Date) (all []Clash, pro string) {
	plan := *s.plan
	plan.Wedding.Date = day
	var closed, late []milestones.Item
	for _, i := range milestones.Schedule(&plan, s.closures) {
		switch {
		case !i.Done.IsZero():
		case i.LateBy != nil && *i.LateBy > 0:
			late = append(late, i)
		case i.Deadline() && i.Shut != "":
			closed = append(closed, i)
		}
	}
	if c, ok := lateClash(day, late); ok {
		all = append(all, c)
	} else if !s.plan.Countdown.From.IsZero() {
		pro = "Everything in the countdown can be done in time."
	}
	if len(closed) > 0 {
		first := closed[0]
		all = append(all, Clash{Event: Event{What: "deadlines on closed days", From: day, To: day, Status: Computed},
			Effect: Deadline, Severity: Slight,
			Says: fmt.Sprintf("%s would fall on a closed day, the first on %s (%s): act before.",
				things(len(closed), "deadline"), first.Date.Words(), first.Title)})
	}
	return all, pro
}

// tight is by how many days something of the countdown may be late before it
// is serious: common practice.
const tight = 7

func lateClash(day milestones.Date, late []milestones.Item) (Clash, bool) {
	if len(late) == 0 {
		return Clash{}, false
	}
	worst := late[0]
	for _, i := range late {
		if *i.LateBy > *worst.LateBy {
			worst = i
		}
	}
	c := Clash{Event: Event{What: "the countdown", From: day, To: day, Status: Computed}, Effect: Deadline, Severity: Noticeable,
		Says: fmt.Sprintf("%s of the countdown cannot be done in time; %q would be late by %s.",
			things(len(late), "step"), worst.Title, things(*worst.LateBy, "day"))}
	if *worst.LateBy > tight {
		c.Severity = Serious
	}
	return c, true
}

// ceremonyMinutes is how long a ceremony takes, with the pictures after it
// that want the light: common practice.
const ceremonyMinutes = 90

// light is how the ceremony stands to the sunset, where its hour and its
// place are known.
func (s *Scales) light(day milestones.Date) (all []Clash, pro string) {
	if s.start == nil || s.place.At == nil {
		return nil, ""
	}
	sun, err := Sun(day, s.place.At[0], s.place.At[1], s.plan.Wedding.Location())
	if err != nil { // no place on earth
		return nil, ""
	}
	says := sun.Against(*s.start, nil)
	says = strings.ToUpper(says[:1]) + says[1:] + "."
	if sun.at(s.start.On(day, sun.zone).Add(ceremonyMinutes*time.Minute)) == byDay {
		return nil, says
	}
	return []Clash{{Event: Event{What: "the light", From: day, To: day, Status: Computed}, Effect: Light, Severity: Slight,
		Says: says + " Pictures need light."}}, ""
}

func things(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
