package desk

import (
	"slices"
	"strings"

	"banns/conflicts"
	"banns/feed/web"
	"banns/milestones"
)

// leads tells where what speaks against a day is looked up: a public event
// where it was read, and what the plan itself says in the plan. At is where
// the wedding's pages are. What the visitor does not see is led to nowhere.
func (s *sight) leads(at string) func(*conflicts.Clash) web.Lead {
	return func(c *conflicts.Clash) web.Lead {
		lead := s.lead(c)
		if lead.To != "" {
			lead.To = at + lead.To
		}
		return lead
	}
}

func (s *sight) lead(c *conflicts.Clash) web.Lead {
	switch {
	case c.Source.Name != "":
		return web.Lead{To: "events#" + c.Source.Name, Words: "What was read in " + c.Source.Name}
	case c.Kind != "": // worked out from the calendar
		return web.Lead{}
	case c.Effect == conflicts.Absence:
		return s.absenceLead(c)
	case c.What == "the countdown":
		return web.Lead{To: "countdown", Words: "The countdown"}
	case c.What == "meetings that are booked":
		return s.meetingLead(c)
	case c.What == "deadlines on holidays":
		return s.deadlineLead(c)
	}
	return web.Lead{}
}

// absenceLead leads to the agreement of a vendor who is closed, or to who is
// away.
func (s *sight) absenceLead(c *conflicts.Clash) web.Lead {
	for n := range s.plan.Agreements {
		if a := &s.plan.Agreements[n]; c.What == a.With+" is closed" && slices.Contains(a.Closed, c.From) {
			return agreementLead(a)
		}
	}
	return web.Lead{To: "dates#away", Words: "Who is away"}
}

// meetingLead leads to the meeting that a clash names first.
func (s *sight) meetingLead(c *conflicts.Clash) web.Lead {
	for _, m := range []meetings{appointments, occasions} {
		for n := range s.items {
			i := &s.items[n]
			if key, ok := strings.CutPrefix(i.ID, m.List+"/"); ok && strings.HasPrefix(c.Says, i.Title+", ") && m.find(s.plan, key) != nil {
				return web.Lead{To: m.List + "/" + key, Words: "The " + m.One + ": " + i.Title}
			}
		}
	}
	return web.Lead{To: "dates", Words: "All dates"}
}

// deadlineLead leads to the agreement whose deadline a clash names first.
func (s *sight) deadlineLead(c *conflicts.Clash) web.Lead {
	for n := range s.items {
		i := &s.items[n]
		if !strings.HasPrefix(c.Says, i.Title+" would ") {
			continue
		}
		if a, ok := s.plan.Agreement(i.Agreement); ok {
			return agreementLead(a)
		}
	}
	return web.Lead{To: "dates", Words: "All dates"}
}

func agreementLead(a *milestones.Agreement) web.Lead {
	return web.Lead{To: "agreements/" + a.Key, Words: "The agreement with " + a.With}
}
