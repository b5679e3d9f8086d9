package desk

import (
	"fmt"
	"slices"

	"banns/feed/web"
	"banns/milestones"
)

// firstStep is one of the things that a wedding begins with.
type firstStep struct {
	Done bool
	Part bool   // something of it is done
	Says string // what it is
	Now  string // what it came to, or what it is for
	To   string
	Or   *web.Door // another way to it
}

// Mark is how a step stands, as a shape.
func (s firstStep) Mark() string {
	switch {
	case s.Done:
		return "settled"
	case s.Part:
		return "soon"
	}
	return "todo"
}

// Word is how a step stands.
func (s firstStep) Word() string {
	return map[string]string{"settled": "done", "soon": "begun", "todo": "to do"}[s.Mark()]
}

// firstSteps lead from an empty plan to the first phone; none where the plan
// has a day, a place, an agreement and a person. Phone tells whether a
// calendar has asked for anybody's dates.
func (s *sight) firstSteps(at string, phone bool) []firstStep {
	day, place := s.dayStep(at), s.placeStep(at)
	agreement := firstStep{Says: "The first agreement", Now: "with the contract or the quote before you: whom you pay, what, and by when", To: at + "add/agreement"}
	if n := len(s.plan.Agreements); n > 0 {
		agreement.Done, agreement.Now, agreement.To = true, plural(n, "agreement"), at+"agreements/"
	}
	person := firstStep{Says: "The first person", Now: "the two who marry, then whoever pays, helps or has to be somewhere", To: at + "add/person"}
	if n := len(s.plan.People); n > 0 {
		person.Done, person.Now, person.To = true, s.plan.People[0].Name, at+"people"
		if n > 1 {
			person.Now = fmt.Sprintf("%s and %s", person.Now, plural(n-1, "other"))
		}
	}
	if (day.Done || day.Part) && place.Done && agreement.Done && person.Done {
		return nil
	}
	return []firstStep{{Done: true, Says: "The wedding", Now: s.plan.Wedding.Title, To: at + "day"}, day, place, agreement, person, s.phoneStep(at, phone)}
}

func (s *sight) dayStep(at string) firstStep {
	step := firstStep{Says: "The day", Now: "open yet", To: at + "day", Or: &web.Door{To: at + "weigh", Says: "weigh some days first"}}
	w := s.plan.Wedding
	switch n := len(s.plan.Candidates); {
	case !w.Date.IsZero():
		step.Done, step.Now, step.Or = true, w.Date.Words(), nil
	case n > 0:
		step.Part, step.Now, step.To, step.Or = true, "to be chosen among "+plural(n, "day"), at+"weigh", nil
	}
	return step
}

func (s *sight) placeStep(at string) firstStep {
	step := firstStep{Says: "The place", Now: "or the town, while the place is open", To: at + "day#wedding-place-name"}
	if place := s.plan.Wedding.Place; place != (milestones.Place{}) {
		step.Done, step.Now = true, place.Name
		if step.Now == "" {
			step.Now = place.City
		}
	}
	return step
}

// phoneStep is the last: somebody's own link on their phone.
func (s *sight) phoneStep(at string, asked bool) firstStep {
	step := firstStep{Done: asked, Says: "The first phone", Now: "send somebody their link, and their calendar keeps their dates", To: at + "people"}
	if n := slices.IndexFunc(s.plan.People, func(who milestones.Person) bool { return s.mayOpen(&who) }); n >= 0 {
		step.To += "/" + s.plan.People[n].Key + "/link"
	}
	if asked {
		step.Now, step.To = "subscribed", at+"people"
	}
	return step
}
