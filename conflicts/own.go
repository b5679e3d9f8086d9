package conflicts

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"banns/milestones"
)

// own is what the plan itself says against a day, and for it. What is not told
// has its severities, and nobody is to read its words.
func (s *Scales) own(day milestones.Date, told bool) (against []Clash, pro []string) {
	for _, part := range []func(milestones.Date, bool) ([]Clash, string){s.past, s.agreed, s.away, s.dates, s.light} {
		clashes, says := part(day, told)
		against = append(against, clashes...)
		if says != "" {
			pro = append(pro, says)
		}
	}
	return against, pro
}

// past is a day that is over.
func (s *Scales) past(day milestones.Date, _ bool) (all []Clash, pro string) {
	if !day.Before(s.Today) {
		return nil, ""
	}
	return []Clash{{Event: Event{What: "the day is past", From: day, To: day, Status: Computed},
		Effects: []Effect{Deadline}, Severity: Blocking, Says: "The day is past."}}, ""
}

// agreed is that agreements count from a day as the plan stands: that day has
// it for it, and every other against it. Whether their vendors know of it the
// plan does not say: it may have moved since.
func (s *Scales) agreed(day milestones.Date, _ bool) (all []Clash, pro string) {
	stands := s.plan.Wedding.Date
	if stands.IsZero() || s.Outside {
		return nil, ""
	}
	n := 0
	for i := range s.plan.Agreements {
		if a := &s.plan.Agreements[i]; a.Binding() && !s.hidden(a.Hide) {
			n++
		}
	}
	if n == 0 {
		return nil, ""
	}
	says := plural(n, "agreement counts", "agreements count")
	if day == stands {
		return nil, says + " from it in the plan; any other day has to be agreed with each."
	}
	return []Clash{{Event: Event{What: "the agreements", From: day, To: day, Status: Computed}, Effects: []Effect{Deadline}, Severity: Slight,
		Says: says + " from " + stands.Words() + "; this day would have to be agreed with each.", About: "agreements"}}, ""
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
func (s *Scales) away(day milestones.Date, _ bool) (all []Clash, pro string) {
	for _, a := range s.plan.Away {
		who, ok := s.plan.Person(a.Who)
		if !ok {
			continue
		}
		c := Clash{Event: Event{What: who.Name + " is away", From: a.From, To: a.To, Status: Announced}, Effects: []Effect{Absence}, About: "away"}
		switch {
		case day == a.To:
			c.Severity = needed[who.Part]
			c.Says = fmt.Sprintf("%s (%s) is away that day, and back on the next.", who.Name, who.Part)
		case !day.Before(a.From) && day.Before(a.To):
			c.Severity = needed[who.Part]
			c.Says = fmt.Sprintf("%s (%s) is away until %s.", who.Name, who.Part, a.To.Words())
		case day.AddDays(-1) == a.To:
			c.Severity = needed[who.Part].lighter().lighter()
			c.Says = fmt.Sprintf("%s (%s) is away until the day before: too late for a rehearsal.", who.Name, who.Part)
		}
		if c.Severity > 0 {
			all = append(all, c)
		}
	}
	for i := range s.plan.Agreements {
		if a := &s.plan.Agreements[i]; !s.hidden(a.Hide) {
			all = append(all, shut(a, day)...)
		}
	}
	if s.Outside {
		all = nameless(day, all)
	}
	if len(all) == 0 && len(s.plan.Away) > 0 {
		pro = "Nobody who is needed is known to be away."
	}
	return all, pro
}

// nameless is the worst of some absences, without who it is or for how long.
func nameless(day milestones.Date, all []Clash) []Clash {
	if len(all) == 0 {
		return nil
	}
	worst := slices.MaxFunc(all, func(a, b Clash) int { return cmp.Compare(a.Severity, b.Severity) })
	return []Clash{{Event: Event{What: "somebody is away", From: day, To: day, Status: Announced},
		Effects: []Effect{Absence}, Severity: worst.Severity, Says: "Somebody who is needed is away."}}
}

// shut is a day on which a vendor under agreement is closed.
func shut(a *milestones.Agreement, day milestones.Date) []Clash {
	if a.Over() {
		return nil
	}
	for _, d := range a.Closed {
		if d == day {
			return []Clash{{Event: Event{What: a.With + " is closed", From: d, To: d, Status: Announced},
				Effects: []Effect{Absence}, Severity: Serious, Says: a.With + " is closed on that day.", About: "agreements/" + a.Key}}
		}
	}
	return nil
}

// ceremonyMinutes is how long a ceremony takes, with the pictures after it
// that want the light: common practice.
const ceremonyMinutes = 90

// light is how the ceremony stands to the sunset, where its place is known;
// where its hour is not, when the sun sets.
func (s *Scales) light(day milestones.Date, told bool) (all []Clash, pro string) {
	if s.place.At == nil {
		return nil, ""
	}
	sun, err := byHorizon(day, s.place.At[0], s.place.At[1], s.plan.Wedding.Location())
	if err != nil { // no place on earth
		return nil, ""
	}
	var begins, ends time.Time
	if s.start != nil {
		begins = s.start.On(day, sun.zone)
		ends = begins.Add(ceremonyMinutes * time.Minute)
		if !told && sun.sunny(begins) && sun.sunny(ends) { // as on most days
			return nil, "The sun is up."
		}
	}
	sun.twilight()
	c := Clash{Event: Event{What: "the light", From: day, To: day, Status: Computed}, Effects: []Effect{Light}, Severity: Slight}
	if s.start == nil {
		c.Says = capital(sun.String()) + "."
		if sun.Sunset.IsZero() && !sun.Up {
			return []Clash{c}, ""
		}
		return nil, c.Says
	}
	c.Says = capital(sun.Against(*s.start, nil)) + "."
	switch {
	case sun.at(begins) == byNight:
		c.Severity = Noticeable
		c.Says += " It needs lamps, and so do the pictures."
	case sun.at(ends) == byDay:
		return nil, c.Says
	default:
		c.Says += " The pictures after it want light."
	}
	return []Clash{c}, ""
}
