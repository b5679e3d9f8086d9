package milestones

import (
	"fmt"
	"strings"
)

// ask adds a question about i to it.
func (i *Item) ask(q Question) {
	q.Path, q.Agreement, q.Words, q.Wording = i.ID, i.Agreement, i.Rule, i.Wording
	if i.Agreement != "" {
		q.Line = i.Rule
	}
	i.Questions = append(i.Questions, q)
}

// worth says what sum each reading of i's questions gives.
func (i *Item) worth(on func(Date) Amount) {
	for _, q := range i.Questions {
		for n := range q.Readings {
			q.Readings[n].Amount = on(q.Readings[n].Date)
		}
	}
}

// ask notes a question, and names it for as long as its line or agreement has
// its key.
func (s *schedule) ask(q *Question) {
	at, about := q.Path, string(q.Doubt)
	if strings.HasPrefix(at, "agreements/") {
		at = q.Agreement
	}
	if q.Doubt == DoubtAway {
		about = q.Under
	}
	q.ID = at + "#" + strings.ReplaceAll(about, " ", "-")
	if s.ids[q.ID]++; s.ids[q.ID] > 1 {
		q.ID += fmt.Sprintf("-%d", s.ids[q.ID])
	}
	if q.Answer != nil {
		s.heard[q.Answer] = true
	}
	s.questions = append(s.questions, *q)
}

// askAll asks what i leaves open. What was answered is no question of the
// item any more, only one of the plan's.
func (s *schedule) askAll(i *Item) {
	for n := range i.Questions {
		s.ask(&i.Questions[n])
	}
	var open []Question
	for _, q := range i.Questions {
		if q.Open() {
			open = append(open, q)
		}
	}
	i.Questions = open
}

// absences asks about those who are to be at m and are away.
func (s *schedule) absences(m meeting, i *Item) {
	for n := range m.Away {
		s.heard[&m.Away[n].Answer] = i.Undated()
	}
	asked := map[string]bool{}
	for _, away := range s.plan.Away {
		who, _ := s.plan.Person(away.Who)
		if who == nil || asked[who.Key] || i.Undated() || i.Date.Before(away.From) || i.Date.After(away.To) || !who.Named(m.For) {
			continue
		}
		asked[who.Key] = true
		answer := named(m.Away, who.Key)
		misses := answer != nil && answer.Reads == readsMissesIt
		s.ask(&Question{Doubt: DoubtAway, Path: i.ID, Words: m.When.Says, Under: who.Key, Answer: answer,
			Says: fmt.Sprintf("%s is away from %s to %s, and is asked to %q on %s", who.Name,
				away.From.Words(), away.To.Words(), m.What, i.Date.Words()),
			Mend: "or give it another day",
			Readings: []Reading{
				{Key: readsComes, Says: who.Name + " comes all the same", Moment: i.Moment, Taken: !misses},
				{Key: readsMissesIt, Says: "it is kept without " + who.Name, Moment: i.Moment, Taken: misses},
			}})
	}
}

// wait notes the answers to what cannot be asked yet, because it has no day.
func (s *schedule) wait(n node) {
	for i := range n.answers {
		s.heard[&n.answers[i]] = true
	}
	if n.owner != nil {
		for i := range n.owner.Answers {
			s.heard[&n.owner.Answers[i].Answer] = true
		}
	}
}

// Unasked are notes on the answers of p to which there is no question any
// more.
func Unasked(p *Plan, c Closures) []Note {
	s := work(p, c)
	var notes []Note
	p.eachAnswer(func(a *Answer, at place) {
		over := at.owner != nil && at.owner.Over()
		if !over && !s.heard[a] {
			notes = append(notes, Note{at.path, fmt.Sprintf("nothing is asked here any more, so the answer %q changes nothing", a.Reads)})
		}
	})
	return notes
}
