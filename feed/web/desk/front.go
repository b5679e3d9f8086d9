package desk

import (
	"errors"
	"net/http"

	"banns/feed/web"
	"banns/store"
)

var (
	weddingsTemplate = page("weddings.html")
	frontTemplate    = page("front.html")
)

// weddingsPage lists the weddings that the visitor sees.
type weddingsPage struct {
	web.Frame
	Visitor  string
	Weddings []weddingRow
}

type weddingRow struct{ Title, Day, To string }

// weddings answers GET of the desk itself. Whoever sees one wedding is sent
// straight to it.
func (d *Desk) weddings(w http.ResponseWriter, r *http.Request) error {
	v := visitorOf(r)
	all, err := d.Store.Admitted(r.Context(), v.Account)
	if err != nil {
		return err
	}
	if len(all) == 1 && !v.Owner {
		return goTo(w, r, "w/"+all[0].Name+"/")
	}
	p := weddingsPage{Frame: frame(r, "Your weddings"), Visitor: v.Name}
	for _, one := range all {
		s, err := d.look(r.Context(), one)
		if errors.Is(err, store.ErrUnknown) { // no longer theirs to see
			continue
		} else if err != nil {
			return err
		}
		p.Weddings = append(p.Weddings, weddingRow{one.Title, s.plan.Wedding.Date.Words(), s.at("")})
	}
	return web.Show(w, r, http.StatusOK, weddingsTemplate, p)
}

// frontPage is what has to be known of a wedding first.
type frontPage struct {
	pageFrame
	Day string
}

// front answers GET of a wedding.
func (d *Desk) front(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	return web.Show(w, r, http.StatusOK, frontTemplate, frontPage{newPageFrame(r, s.plan.Wedding.Title, "front"), s.plan.Wedding.Date.Words()})
}
