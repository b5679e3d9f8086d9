package desk

import (
	"net/http"
	"strconv"

	"banns/milestones"
	"banns/store"
)

// awayRow is a stretch of days on which somebody is away.
type awayRow struct {
	Place         int // in the plan's list, from 1
	Who, From, To string
}

func (s *sight) away() []awayRow {
	var all []awayRow
	for n, one := range s.plan.Away {
		all = append(all, awayRow{n + 1, s.who(one.Who), one.From.Words(), one.To.Words()})
	}
	return all
}

// awayOn are the names of those who are away on a day.
func (s *sight) awayOn(day milestones.Date) []string {
	var all []string
	for _, one := range s.plan.Away {
		if !day.Before(one.From) && !day.After(one.To) {
			all = append(all, s.who(one.Who))
		}
	}
	return all
}

func leaveForm(s *sight) form {
	people := []option{{"", "Choose a person"}}
	for _, who := range s.plan.People {
		people = append(people, option{who.Key, who.Name})
	}
	return newForm(s.doc,
		field{Path: "away/+1/who", Label: "Who", Kind: choiceKind, Options: people},
		field{Path: "away/+1/from", Label: "The first day away", Kind: dateKind},
		field{Path: "away/+1/to", Label: "The last day away", Kind: dateKind},
	)
}

// saveAway answers POST of a stretch on which somebody is away.
func (d *Desk) saveAway(w http.ResponseWriter, r *http.Request) error {
	f := leaveForm(sightOf(r))
	f.sets(r.PostForm)
	f.missing("away/+1/who", "nobody is chosen", "choose who is away")
	f.missing("away/+1/from", "the first day is not said", "write it, and the last")
	f.missing("away/+1/to", "the last day is not said", "write it; of one day alone, the same day again")
	return d.save(w, r, &f, "dates", func(status int) error { return d.showDates(w, r, status, f) })
}

// endAway answers POST of a stretch that is taken away again.
func (d *Desk) endAway(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	if err := r.ParseForm(); err != nil {
		return badForm(w, r, err)
	}
	place, err := strconv.Atoi(r.PostForm.Get("away"))
	if err != nil || place < 1 {
		return nothing(w, r)
	}
	f := leaveForm(s)
	gone := store.Set{Path: "away/" + strconv.Itoa(place)}
	return d.save(w, r, &f, "dates", func(status int) error { return d.showDates(w, r, status, f) }, gone)
}
