package desk

import (
	"errors"
	"net/http"
	"slices"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var weddingsTemplate = page("weddings.html", "duty.html")

// weddingsPage lists the weddings that the visitor sees, under what is to be
// done for all of them.
type weddingsPage struct {
	web.Frame
	Visitor  string
	Owner    bool // may begin another
	Late     []duty
	Days     []dueDay
	Weddings []weddingRow
}

// dueDay is a day with what is due on it.
type dueDay struct {
	Day  milestones.Date
	Name string
	Dues []duty
}

type weddingRow struct {
	Title, Day, In, To string
	Late, Soon         int
}

// weddings answers GET of the desk itself. Whoever sees one wedding is sent
// straight to it, and an owner who has none to where the first is begun.
func (d *Desk) weddings(w http.ResponseWriter, r *http.Request) error {
	v := visitorOf(r)
	all, err := d.Store.Admitted(r.Context(), v.Account)
	if err != nil {
		return err
	}
	switch {
	case len(all) == 1 && !v.Owner:
		return goTo(w, r, "w/"+all[0].Name+"/")
	case len(all) == 0 && v.Owner:
		return goTo(w, r, "new")
	}
	p := weddingsPage{Frame: frame(r, "Your weddings"), Visitor: v.Name, Owner: v.Owner}
	var coming []duty
	for _, one := range all {
		s, err := d.look(r.Context(), one)
		if errors.Is(err, store.ErrUnknown) { // no longer theirs to see
			continue
		} else if err != nil {
			return err
		}
		late, soon := s.near(p.Root + "desk/" + s.at(""))
		row := weddingRow{Title: one.Title, To: s.at(""), Late: len(late), Soon: len(soon)}
		if day := s.plan.Wedding.Date; !day.IsZero() {
			row.Day, row.In = day.Words(), until(day, s.today)
		}
		p.Weddings = append(p.Weddings, row)
		p.Late, coming = append(p.Late, late...), append(coming, soon...)
	}
	slices.SortStableFunc(p.Late, func(a, b duty) int { return a.Date.Day.Compare(b.Date.Day) })
	tellCosts(p.Late)
	p.Days = byDay(coming)
	return web.Show(w, r, http.StatusOK, weddingsTemplate, p)
}

// near is what is late and what is due within the next days, each naming its
// wedding.
func (s *sight) near(at string) (late, soon []duty) {
	late, coming := s.duties(at)
	for _, one := range coming {
		if one.Date.Day.DaysSince(s.today) <= feed.SoonDays {
			soon = append(soon, one)
		}
	}
	for _, all := range [][]duty{late, soon} {
		for n := range all {
			all[n].Wedding = s.plan.Wedding.Title
		}
	}
	return late, soon
}

// byDay puts what is due under its days.
func byDay(dues []duty) []dueDay {
	slices.SortStableFunc(dues, func(a, b duty) int { return a.Date.Day.Compare(b.Date.Day) })
	var all []dueDay
	for _, one := range dues {
		day := one.Date.Day
		if n := len(all); n == 0 || all[n-1].Day != day {
			all = append(all, dueDay{Day: day, Name: capital(one.In) + ", " + day.Words()})
		}
		last := &all[len(all)-1]
		one.In = "" // the day's name says it
		last.Dues = append(last.Dues, one)
	}
	return all
}
