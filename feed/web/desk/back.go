package desk

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/store"
)

var backTemplate = page("back.html", "changes.html")

// back is what going back to a version comes to.
type back struct {
	N          int
	Saved, By  string
	Over       int // the version that is the newest
	Changes    []changeRow
	Kept, Lost []factRow
}

// factRow is what was done, paid, given or answered about one thing.
type factRow struct {
	Of   string
	Says []string
}

// backPage asks once before an older version is made the newest.
type backPage struct {
	pageFrame
	Back back
	Next int  // the version that it would be
	Late bool // somebody saved another version since they looked
}

// goingBack answers GET of the return to a version.
func (d *Desk) goingBack(w http.ResponseWriter, r *http.Request) error {
	return d.showBack(w, r, http.StatusOK, false)
}

func (d *Desk) showBack(w http.ResponseWriter, r *http.Request, status int, late bool) error {
	s, n, err := older(r)
	if err != nil {
		return err
	}
	b, err := d.wentBack(r.Context(), s, n, s.plan.Version)
	if err != nil {
		return err
	}
	p := backPage{pageFrame: newPageFrame(r, fmt.Sprintf("Back to version %d", n), "history"), Back: *b, Next: b.Over + 1, Late: late}
	return web.Show(w, r, status, backTemplate, p)
}

// older is the version that is asked for, of which there has to be a newer
// one. Going back takes back what others did, so it is for those from whom
// nothing of that is hidden.
func older(r *http.Request) (*sight, int, error) {
	s := sightOf(r)
	n, err := strconv.Atoi(chi.URLParam(r, "version"))
	if err != nil || n >= s.plan.Version || !s.planner() {
		return nil, 0, store.ErrUnknown
	}
	return s, n, nil
}

// wentBack is what going back from one version to another comes to.
func (d *Desk) wentBack(ctx context.Context, s *sight, n, from int) (*back, error) {
	was := s.doc
	if from != s.plan.Version {
		var err error
		if was, err = d.Store.LoadVersion(ctx, s.ID, from); err != nil {
			return nil, err
		}
	}
	is, kept, err := d.Store.Reverted(ctx, s.ID, n, from)
	var faults store.Faults
	if errors.As(err, &faults) { // it cannot be read any more
		err = store.ErrUnknown
	}
	if err != nil {
		return nil, err
	}
	b := &back{N: n, Over: from, Changes: s.compared(worked(was.Plan), worked(is.Plan), s.today), Kept: factRows(kept.Kept), Lost: factRows(kept.Lost)}
	all, err := d.Store.Versions(ctx, s.ID)
	for _, v := range all {
		if v.N == n {
			b.Saved, b.By = s.cityTime(v.Saved), v.By
		}
	}
	return b, err
}

func factRows(all []store.Fact) []factRow {
	var rows []factRow
	for n, f := range all {
		if n == 0 || all[n-1].Of != f.Of {
			rows = append(rows, factRow{Of: f.Of})
		}
		row := &rows[len(rows)-1]
		row.Says = append(row.Says, f.Says)
	}
	return rows
}

// goBack answers POST of the return to a version.
func (d *Desk) goBack(w http.ResponseWriter, r *http.Request) error {
	s, n, err := older(r)
	if err != nil {
		return err
	}
	if r.PostFormValue("seen") != strconv.Itoa(s.plan.Version) {
		return d.showBack(w, r, http.StatusConflict, true)
	}
	done, err := d.Store.Revert(r.Context(), s.ID, n, fmt.Sprintf("%s, back to version %d", visitorOf(r).Name, n), d.Now())
	if err != nil {
		return err
	}
	return goTo(w, r, s.at(fmt.Sprintf("history?kept=%d&back=%d", done.Version, n)))
}
