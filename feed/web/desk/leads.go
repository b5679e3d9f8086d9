package desk

import (
	"strings"

	"banns/conflicts"
	"banns/feed/web"
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
	list, key, _ := strings.Cut(c.About, "/")
	switch list {
	case "countdown":
		return web.Lead{To: "countdown", Words: "The countdown"}
	case "away":
		return web.Lead{To: "dates#away", Words: "Who is away"}
	case "agreements":
		if key == "" {
			return web.Lead{To: "agreements/", Words: "The agreements"}
		}
		if a, ok := s.plan.Agreement(key); ok {
			return web.Lead{To: c.About, Words: "The agreement with " + a.With}
		}
	case appointments.List, occasions.List:
		for _, m := range []meetings{appointments, occasions} {
			if one := m.find(s.plan, key); m.List == list && one != nil {
				return web.Lead{To: c.About, Words: "The " + m.One + ": " + one.What}
			}
		}
	}
	if c.Source.Name != "" {
		return web.Lead{To: "events#" + c.Source.Name, Words: "What was read in " + c.Source.Name}
	}
	return web.Lead{}
}
