package desk

import (
	"slices"
	"strings"

	"banns/feed/web"
	"banns/milestones"
)

// questions are the open questions about what the visitor sees.
func (s *sight) questions() []milestones.Question {
	seen := map[string]bool{}
	for n := range s.entries {
		seen[s.entries[n].ID] = true
	}
	var all []milestones.Question
	for _, q := range milestones.Questions(s.doc.Plan, s.closures) {
		_, agreed := s.plan.Agreement(q.Agreement)
		whole := agreed && strings.HasPrefix(q.Path, "agreements/"+q.Agreement)
		if q.Open() && (seen[q.Path] || whole || s.planner()) {
			all = append(all, q)
		}
	}
	return all
}

// lack is something that the plan does not have yet.
type lack struct {
	Says string
	Door *web.Door
	Of   []string // what waits for it
}

// lacksMost is how many of those that wait for one thing are named.
const lacksMost = 4

// lacks are what is missing: the day, a phone, signatures, and what dates wait
// for. What the first steps tell is left out where they stand on the page.
func (s *sight) lacks(at string, begun, phone bool) []lack {
	var all []lack
	open := s.plan.Wedding.Date.IsZero()
	if open && begun {
		all = append(all, lack{Says: "The day of the wedding is open, and most dates wait for it.", Door: &web.Door{To: at + "day", Says: "Set the day"}})
	}
	if begun && !phone {
		all = append(all, lack{Says: "No phone has asked for anybody’s dates yet.", Door: &web.Door{To: at + "people", Says: "Send somebody their link"}})
	}
	for i := range s.plan.Agreements {
		if a := &s.plan.Agreements[i]; a.Standing == milestones.Quoted {
			all = append(all, lack{Says: "Only quoted: " + a.With + ", " + a.Service + ". Nothing is owed until it is signed.",
				Door: &web.Door{To: at + "agreements/" + a.Key, Says: "Open the quote"}})
		}
	}
	return append(all, s.waiting(at, open)...)
}

// waitsForDay is what entries wait for while the wedding's day is open.
const waitsForDay = "the wedding date"

// waiting is what undated entries wait for, each with what waits. What is
// only quoted waits for its signature, and that is told already; so is what
// waits for the wedding's day.
func (s *sight) waiting(at string, open bool) []lack {
	var all []lack
	entries := s.live()
	for n := range entries {
		e := &entries[n]
		if e.StateOn(s.today) != milestones.Undated || e.Standing == milestones.Quoted || e.Kind == milestones.KindWedding ||
			open && e.WaitsFor == waitsForDay {
			continue
		}
		says := "Waiting for " + e.WaitsFor + ":"
		k := slices.IndexFunc(all, func(one lack) bool { return one.Says == says })
		if k < 0 {
			k = len(all)
			all = append(all, lack{Says: says, Door: s.door(at, e)})
		}
		all[k].Of = append(all[k].Of, e.What())
	}
	for n := range all {
		if one := &all[n]; len(one.Of) > lacksMost {
			over := plural(len(one.Of)-lacksMost+1, "more date")
			one.Of, one.Door = append(one.Of[:lacksMost-1], over), &web.Door{To: at + "dates#undated", Says: "See them all"}
		}
	}
	return all
}
