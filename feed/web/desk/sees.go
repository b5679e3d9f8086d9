package desk

import (
	"errors"
	"net/http"
	"slices"

	"github.com/go-chi/chi/v5"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var seesTemplate = page("sees.html")

// seesPage shows what stands on somebody's own page.
type seesPage struct {
	pageFrame
	Key   string
	Name  string
	You   bool
	Whole bool // nothing of it is left out for the visitor's sake
	web.Told
	Reminds string     // how they are reminded; empty where it is not told
	Notices []web.Date // that stand in their calendar besides
}

// sees answers GET of what somebody sees.
func (d *Desk) sees(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	who, ok := s.somebody(chi.URLParam(r, "person"))
	if !ok {
		return nothing(w, r)
	}
	p := seesPage{pageFrame: newPageFrame(r, "As "+who.Name+" sees it", "people"), Key: who.Key, Name: who.Name,
		You: who.Key == s.key, Whole: s.planner() || who.Key == s.key}
	kept, err := d.pageOf(r, who, p.Whole)
	if err != nil {
		return err
	}
	p.Told = web.Tell(kept, func(string) milestones.Date { return s.today })
	if !p.Whole {
		return web.Show(w, r, http.StatusOK, seesTemplate, p)
	}
	if kept.Reminders != "" {
		p.Reminds = web.Reminds(kept.Reminders)
	}
	for n := range kept.Entries {
		if e := &kept.Entries[n]; e.Of == feed.Notice {
			p.Notices = append(p.Notices, web.NewDate(e, s.today))
		}
	}
	slices.SortStableFunc(p.Notices, func(a, b web.Date) int { return a.Day.Compare(b.Day) })
	return web.Show(w, r, http.StatusOK, seesTemplate, p)
}

// pageOf is what somebody's own page is made of: the whole of it, or the dates
// that the visitor sees too, and nothing of what was lately.
func (d *Desk) pageOf(r *http.Request, who *milestones.Person, whole bool) (p store.Page, err error) {
	if !whole {
		p.Entries, err = d.seenOf(r, who)
		return p, err
	}
	p, err = d.Store.PageOf(r.Context(), store.Reader{Wedding: sightOf(r).ID, Person: who.ID()})
	if errors.Is(err, store.ErrUnknown) {
		return store.Page{}, nil
	}
	return p, err
}

// seenOf is what stands on somebody's own page, as far as the visitor sees it
// too. Early notices are no dates of their own there.
func (d *Desk) seenOf(r *http.Request, who *milestones.Person) ([]feed.Published, error) {
	s := sightOf(r)
	told, err := d.told(r, who.ID())
	told = slices.DeleteFunc(told, func(e feed.Published) bool { return e.Of == feed.Notice })
	if err != nil || s.planner() || who.Key == s.key {
		return told, err
	}
	mine, err := d.knownTo(r)
	return slices.DeleteFunc(told, func(e feed.Published) bool { return !mine[e.ID] }), err
}

// told is what the own feed of a person carries, by their lasting id.
func (d *Desk) told(r *http.Request, id string) ([]feed.Published, error) {
	told, err := d.Store.Told(r.Context(), store.Reader{Wedding: sightOf(r).ID, Person: id})
	if errors.Is(err, store.ErrUnknown) {
		return nil, nil
	}
	return told, err
}

// knownTo are the items that the visitor knows of: those they see, and those
// that were withdrawn before their eyes.
func (d *Desk) knownTo(r *http.Request) (map[string]bool, error) {
	s := sightOf(r)
	told, err := d.told(r, s.Person)
	all := ids(s.entries)
	for _, e := range told {
		all[e.ID] = true
	}
	return all, err
}

// tellsMore reports whether somebody would see in next what they do not see
// now, and the visitor does not see either.
func (s *sight) tellsMore(next *store.Document, key string) bool {
	known := ids(s.entries)
	for id := range ids(feed.View(s.doc.Plan, s.items, key)) {
		known[id] = true
	}
	for _, e := range feed.View(next.Plan, milestones.Schedule(next.Plan, s.closures), key) {
		if !known[e.ID] {
			return true
		}
	}
	return false
}
