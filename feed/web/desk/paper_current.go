package desk

import (
	"context"
	"errors"
	"net/http"
	"net/url"
	"reflect"
	"slices"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var (
	printedTemplate = page("paper_printed.html", "paper_holds.html")
	currentTemplate = page("paper_current.html", "paper_holds.html", "changes.html")
)

// holds is whether a print still does.
type holds struct {
	Version int
	Newest  int
	Saved   string // when the print's version was, to those who are signed in
	Same    bool   // the sheet would be printed just so today
	Blind   bool   // that version cannot be read any more
}

// printedPage is what anybody is told who has the paper: it can hold nothing
// else of a plan.
type printedPage struct {
	web.Frame
	holds
	In string // the way to sign in and come back; empty for those who are
}

// currentPage is that for somebody who sees the wedding, with what changed.
type currentPage struct {
	pageFrame
	holds
	Sheet   string // the way to what is printed now
	Changes []changeRow
}

// printed answers GET of whether a print still holds, to anybody.
func (d *Desk) printed(w http.ResponseWriter, r *http.Request) error {
	p, was, err := d.Store.Printed(r.Context(), chi.URLParam(r, "print"))
	if err != nil {
		return err
	}
	one, err := d.Store.WeddingCalled(r.Context(), p.Wedding)
	if err != nil {
		return err
	}
	is, err := d.plans.get(r.Context(), d.Store, one)
	if err != nil {
		return err
	}
	h := holds{Version: p.Version, Newest: one.Version, Blind: was == nil}
	if h.Same, err = d.same(store.Admits{Wedding: one, Person: p.Person}, p, was, is); err != nil {
		return err
	}
	r, signed, err := d.passing(r, one.ID)
	if err != nil {
		return err
	}
	if r.Context().Value(sightKey{}) != nil {
		return d.showCurrent(w, r, h, p, was)
	}
	page := printedPage{Frame: frame(r, "Is this print still current?"), holds: h}
	if !signed {
		page.In = page.Root + "desk/in?to=" + below(r)
	}
	return web.Show(w, r, http.StatusOK, printedTemplate, page)
}

// passing is r with what it may see of a wedding, by its id: nothing where
// nobody is signed in, or somebody from whom all of it is hidden.
func (d *Desk) passing(r *http.Request, id string) (_ *http.Request, signed bool, err error) {
	v, err := d.visitor(r)
	if errors.Is(err, store.ErrUnknown) {
		return r, false, nil
	} else if err != nil {
		return r, false, err
	}
	all, err := d.Store.Admitted(r.Context(), v.Account)
	n := slices.IndexFunc(all, func(a store.Admits) bool { return a.ID == id })
	if err != nil || n < 0 {
		return r, true, err
	}
	s, err := d.look(r.Context(), all[n])
	if errors.Is(err, store.ErrUnknown) {
		return r, true, nil
	}
	ctx := context.WithValue(r.Context(), visitorKey{}, v)
	return r.WithContext(context.WithValue(ctx, sightKey{}, s)), true, err
}

// same reports whether the sheet of a print is in one plan as it was in another, to the same eyes and on the same day.
func (d *Desk) same(a store.Admits, of store.Print, was *store.Document, is *dated) (bool, error) {
	if was == nil {
		return false, nil
	}
	then, err1 := newDated(was).seenBy(a, d.Now())
	now, err2 := is.seenBy(a, d.Now())
	switch err := errors.Join(err1, err2); {
	case errors.Is(err, store.ErrUnknown): // whoever it was printed for plans no longer
		return false, nil
	case err != nil:
		return false, err
	}
	then.today = now.today
	return reflect.DeepEqual(then.onPaper(of.Month, of.All), now.onPaper(of.Month, of.All)), nil
}

// showCurrent shows somebody who sees the wedding what changed, too.
func (d *Desk) showCurrent(w http.ResponseWriter, r *http.Request, h holds, of store.Print, was *store.Document) error {
	s := sightOf(r)
	h.Saved = s.cityTime(of.Saved)
	p := currentPage{pageFrame: newPageFrame(r, "Is this print still current?", "paper"), holds: h}
	ask := url.Values{}
	p.Sheet = p.At + "paper/people"
	if of.Month != "" {
		p.Sheet = p.At + "paper/month"
		ask.Set("m", of.Month)
	}
	if of.All {
		ask.Set("all", "yes")
	}
	if len(ask) > 0 {
		p.Sheet += "?" + ask.Encode()
	}
	if was != nil {
		p.Changes = s.compared(worked(was.Plan), worked(s.doc.Plan), milestones.DateOf(of.Saved.In(s.plan.Wedding.Location())))
	}
	return web.Show(w, r, http.StatusOK, currentTemplate, p)
}
