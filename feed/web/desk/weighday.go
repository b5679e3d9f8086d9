package desk

import (
	"net/http"
	"slices"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/milestones"
)

var weighDayTemplate = page("weighday.html")

// weighDayPage is one day, with what speaks against it and for it.
type weighDayPage struct {
	pageFrame
	Asked    asked
	Day      web.Compared
	Chosen   bool // it is on the shortlist
	Itself   bool // it is the wedding's day
	Cautions []string
	Prev     weighedDay // of the days that are asked for; no day where there is none
	Next     weighedDay
}

// weighDay answers GET of one day.
func (d *Desk) weighDay(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	day, err := milestones.ParseDate(chi.URLParam(r, "day"))
	if err != nil || day.Year < firstYear || day.Year > lastYear {
		return nothing(w, r)
	}
	p := weighDayPage{pageFrame: newPageFrame(r, day.Words(), "weigh"), Asked: s.weighing(r), Chosen: slices.Contains(s.plan.Candidates, day), Itself: day == s.plan.Wedding.Date}
	p.Sheets = append(p.Sheets, "weigh.css")
	sub, err := d.subject(r, p.Asked.avoid)
	if err != nil {
		return err
	}
	found, cautions, err := d.compare(r.Context(), sub, []milestones.Date{day})
	if err != nil {
		return err
	}
	days, _ := web.Compare(found, s.leads(p.At))
	p.Day, p.Cautions = days[0], cautions
	p.Prev, p.Next = p.beside(day, -1), p.beside(day, +1)
	return web.Show(w, r, http.StatusOK, weighDayTemplate, p)
}

// beside is the nearest day that is asked for, before or after a day, among
// those that can be.
func (p *weighDayPage) beside(day milestones.Date, way int) weighedDay {
	for n := 1; n <= 366; n++ {
		if one := day.AddDays(n * way); p.Asked.has(one) && one.Year >= firstYear && one.Year <= lastYear {
			return weighedDay{Date: one, Full: one.Words(), To: p.At + "weigh/" + one.String() + p.Asked.query()}
		}
	}
	return weighedDay{}
}
