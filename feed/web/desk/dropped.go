package desk

import (
	"fmt"
	"net/http"

	"github.com/go-chi/chi/v5"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

// sureDrop answers GET of taking somebody out of the plan.
func (d *Desk) sureDrop(w http.ResponseWriter, r *http.Request) error {
	return d.showDrop(w, r, http.StatusOK, form{})
}

func (d *Desk) showDrop(w http.ResponseWriter, r *http.Request, status int, f form) error {
	s := sightOf(r)
	who, ok := s.droppable(r)
	if !ok {
		return nothing(w, r)
	}
	shown, err := d.seenOf(r, who)
	if err != nil {
		return err
	}
	p := surePage{pageFrame: newPageFrame(r, "Take "+who.Name+" out of the plan", "people"), Form: f,
		Do: "Take " + who.Name + " out", Back: "people/" + who.Key}
	p.Says = append(p.Says, s.onTheirPhone(shown))
	p.Says = append(p.Says, mentionsOf(s.plan, who.Key).says()...)
	p.Says = append(p.Says, "What was kept of them, such as measures and diet, stays in the earlier versions of the plan.")
	return web.Show(w, r, status, sureTemplate, p)
}

// onTheirPhone tells what taking somebody out does to their calendar.
func (s *sight) onTheirPhone(shown []feed.Published) string {
	coming := 0
	for _, e := range shown {
		if !e.Withdrawn && !e.Day().Before(s.today) {
			coming++
		}
	}
	const then = " Their link stays open, so that their phone hears of it; a planner can close it from the list of people."
	switch coming {
	case 0:
		return "There is nothing to come in their calendar." + then
	case 1:
		return "The one date to come in their calendar is shown there as withdrawn, and goes after 60 days." + then
	}
	return fmt.Sprintf("The %d dates to come in their calendar are shown there as withdrawn, and go after 60 days.", coming) + then
}

// drop answers POST of taking somebody out of the plan, and out of whatever
// names them: what is hidden from the visitor, too, or it would stand in the
// way and so give itself away.
func (d *Desk) drop(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	who, ok := s.droppable(r)
	if !ok {
		return nothing(w, r)
	}
	sets := append(mentionsOf(s.doc.Plan, who.Key).sets(who.Key), store.Set{Path: "people/" + who.Key})
	f := form{Seen: s.doc.Plan.Version}
	return d.save(w, r, &f, "people", func(status int) error { return d.showDrop(w, r, status, f) }, sets...)
}

// droppable is the person that r names, where they are the visitor's to take
// out.
func (s *sight) droppable(r *http.Request) (*milestones.Person, bool) {
	who, ok := s.somebody(chi.URLParam(r, "person"))
	return who, ok && s.mayRecast(who)
}
