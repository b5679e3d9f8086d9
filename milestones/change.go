package milestones

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// Worked is a plan with all that follows from it.
type Worked struct {
	Plan      *Plan
	Items     []Item
	Questions []Question
}

// Work works out all that follows from a plan that Read found no fault in.
func Work(p *Plan, c Closures) Worked {
	s := work(p, c)
	return Worked{p, s.items, s.questions}
}

// Aspect is what of a thing is otherwise than it was.
type Aspect string

// The aspects.
const (
	AspectCame     Aspect = "came"
	AspectWent     Aspect = "went"
	AspectMoved    Aspect = "moved"   // the day, the hour, the day to act by, the end
	AspectStayed   Aspect = "stayed"  // it did not move with the wedding
	AspectDated    Aspect = "dated"   // it waited for something, and has a day now
	AspectUndated  Aspect = "undated" // it has no day any more
	AspectDone     Aspect = "done"
	AspectUndone   Aspect = "undone"
	AspectSum      Aspect = "sum"
	AspectPlace    Aspect = "place"
	AspectTitle    Aspect = "title"
	AspectWords    Aspect = "words" // the phrase, the contract's sentence, a note
	AspectAsked    Aspect = "asked" // who is asked, and from whom it is hidden
	AspectQuestion Aspect = "question"
	AspectAnswer   Aspect = "answer"
	AspectStanding Aspect = "standing"
	AspectPrice    Aspect = "price"
	AspectPayer    Aspect = "payer"
	AspectContact  Aspect = "contact"
	AspectGiven    Aspect = "given" // a headcount
	AspectTerms    Aspect = "terms" // what an agreement's lines count from
	AspectPerson   Aspect = "person"
	AspectPlan     Aspect = "plan" // what concerns the whole
)

// Change is something of a plan that is otherwise than it was, and that no
// Item shows: an agreement's standing, a price, an answer, a person.
type Change struct {
	Aspect    Aspect
	Agreement string   // its key, or empty
	Item      string   // id of the item that it is about, or empty
	Hide      []string // who must not know, by the plan that was or by the one that is
	Says      string   // one sentence, without a full stop
}

// Changes are what is otherwise in one plan than in another beside their
// Items: agreements in the order of the later plan, then answers, then
// people, then the rest.
func Changes(was, is Worked) []Change {
	c := comparison{was: was.Plan, is: is.Plan}
	for i := range is.Plan.Agreements {
		a := &is.Plan.Agreements[i]
		if before, ok := was.Plan.Agreement(a.Key); ok {
			c.agreement(before, a)
		} else {
			c.add(Change{Aspect: AspectCame, Agreement: a.Key, Hide: a.Hide, Says: a.With + c.newcomer(a)})
		}
	}
	for i := range was.Plan.Agreements {
		if a := &was.Plan.Agreements[i]; !has(is.Plan.Agreement(a.Key)) {
			c.add(Change{Aspect: AspectWent, Agreement: a.Key, Hide: a.Hide, Says: a.With + " was taken out of the plan"})
		}
	}
	c.answers(was, is)
	c.people()
	c.wedding()
	c.rest()
	return c.all
}

type comparison struct {
	was, is *Plan
	all     []Change
}

func (c *comparison) add(one Change) { c.all = append(c.all, one) }

func (c *comparison) say(aspect Aspect, format string, args ...any) {
	c.add(Change{Aspect: aspect, Says: fmt.Sprintf(format, args...)})
}

func has[T any](_ T, ok bool) bool { return ok }

// answers tells which questions were settled, or opened again.
func (c *comparison) answers(was, is Worked) {
	before := map[string]Question{}
	for _, q := range was.Questions {
		before[q.ID] = q
	}
	hidden := map[string][]string{}
	for _, all := range [][]Item{was.Items, is.Items} {
		for i := range all {
			hidden[all[i].ID] = append(hidden[all[i].ID], all[i].Hide...)
		}
	}
	for _, q := range is.Questions {
		old := before[q.ID].Answer
		if reflect.DeepEqual(old, q.Answer) {
			continue
		}
		what := "The question"
		if a, ok := c.is.Agreement(q.Agreement); ok {
			what += " about " + a.With
		}
		if q.Words != "" {
			what += ", “" + q.Words + "”,"
		}
		one := Change{Aspect: AspectAnswer, Agreement: q.Agreement, Hide: slices.Clone(hidden[q.Path]), Says: what + " is open again"}
		if _, ok := hidden[q.Path]; ok {
			one.Item = q.Path
		}
		if a, ok := c.is.Agreement(q.Agreement); ok {
			one.Hide = append(one.Hide, a.Hide...)
		}
		if q.Answer != nil {
			one.Says = what + c.settled(q, old != nil)
		}
		c.add(one)
	}
}

// settled says who answered q, when, and what holds.
func (c *comparison) settled(q Question, again bool) string {
	how := "was settled"
	if again {
		how = "was settled otherwise"
	}
	says := fmt.Sprintf(" %s by %s on %s", how, c.is.called(q.Answer.Who, ""), q.Answer.On.Words())
	for _, r := range q.Readings {
		if r.Key == q.Answer.Reads || backWord+r.Key == q.Answer.Reads {
			says += ": " + r.Says
		}
	}
	return says
}

// people tells who came, went, and is called or counted otherwise.
func (c *comparison) people() {
	before := byID(c.was)
	after := byID(c.is)
	for i := range c.is.People {
		who := &c.is.People[i]
		if old, ok := before[who.ID()]; ok {
			c.person(old, who)
		} else {
			c.say(AspectPerson, "%s is new among the people (%s)", who.Name, who.Part)
		}
	}
	for i := range c.was.People {
		if who := &c.was.People[i]; after[who.ID()] == nil {
			c.say(AspectPerson, "%s is no longer among the people; their calendar is empty now", who.Name)
		}
	}
}

func byID(p *Plan) map[string]*Person {
	all := map[string]*Person{}
	for i := range p.People {
		all[p.People[i].ID()] = &p.People[i]
	}
	return all
}

// person tells what of one person is otherwise. What is kept of somebody
// beside their name and part is nobody else's to read.
func (c *comparison) person(was, is *Person) {
	say := func(format string, args ...any) { c.say(AspectPerson, format, args...) }
	if was.Name != is.Name {
		say("%s is called %s now", was.Name, is.Name)
	}
	if was.Part != is.Part {
		say("%s is down as %s now, no longer as %s", is.Name, is.Part, was.Part)
	}
	var kept []string
	for _, one := range []struct {
		what string
		same bool
	}{
		{"groups", slices.Equal(was.Groups, is.Groups)}, {"e-mail", was.Email == is.Email}, {"telephone", was.Phone == is.Phone},
		{"measures", slices.Equal(was.Measures, is.Measures)}, {"diet", was.Diet == is.Diet}, {"note", was.Note == is.Note},
	} {
		if !one.same {
			kept = append(kept, one.what)
		}
	}
	if len(kept) > 0 {
		say("What is kept of %s changed: %s", is.Name, listed(kept))
	}
}

// wedding tells of the wedding what its own Item does not show.
func (c *comparison) wedding() {
	was, is := c.was.Wedding, c.is.Wedding
	if was.Region != is.Region {
		c.say(AspectPlan, "Holidays are those of %s now, no longer those of %s", orNone(is.Region), orNone(was.Region))
	}
	if was.Currency != is.Currency {
		c.say(AspectPlan, "Sums are in %s now, no longer in %s", is.Currency, was.Currency)
	}
}

func orNone(s string) string {
	if s == "" {
		return "nowhere"
	}
	return s
}

// rest tells of absences, candidate dates, the licence, and from when the
// planning counts; what becomes of a milestone its Item tells.
func (c *comparison) rest() {
	for _, a := range less(c.is.Away, c.was.Away) {
		c.say(AspectPlan, "%s is away from %s to %s", c.is.called(a.Who, ""), a.From.Words(), a.To.Words())
	}
	for _, a := range less(c.was.Away, c.is.Away) {
		c.say(AspectPlan, "%s is no longer away from %s to %s", c.was.called(a.Who, ""), a.From.Words(), a.To.Words())
	}
	if !slices.Equal(c.was.Candidates, c.is.Candidates) {
		c.say(AspectPlan, "Dates thought of for the wedding: %s", orNo(dayWords(c.is.Candidates), "none any more"))
	}
	if was, is := deref(c.was.Licence), deref(c.is.Licence); was != is {
		c.say(AspectPlan, "Marriage licence: %s", orNo(is.words(), "nothing is written of it any more"))
	}
	if was, is := c.was.Countdown, c.is.Countdown; was.From != is.From {
		c.say(AspectPlan, "Planning counts from %s", orNo(is.From.Words(), "no day any more"))
	}
}

// less are those of all that are not among others.
func less[T comparable](all, others []T) []T {
	var rest []T
	for _, one := range all {
		if !slices.Contains(others, one) {
			rest = append(rest, one)
		}
	}
	return rest
}

func deref[T any](p *T) (v T) {
	if p != nil {
		v = *p
	}
	return v
}

func orNo(s, no string) string {
	if s == "" {
		return no
	}
	return s
}

func dayWords(days []Date) string {
	var all []string
	for _, d := range days {
		all = append(all, d.Words())
	}
	return strings.Join(all, ", ")
}

func (l Licence) words() string {
	var all []string
	for _, one := range [][2]string{{"from ", l.Office}, {"it waits ", l.Waits}, {"it lasts ", l.Lasts}} {
		if one[1] != "" {
			all = append(all, one[0]+one[1])
		}
	}
	return strings.Join(all, ", ")
}
