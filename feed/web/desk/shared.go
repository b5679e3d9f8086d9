package desk

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"banns/conflicts"
	"banns/feed/web"
	"banns/milestones"
)

// sharedLink is a link that shows days to whoever has it.
type sharedLink struct {
	Token, Address string
	Issued         string
	Days           string
}

// sharedLinks are the links of the wedding that are open, the newest first.
func (d *Desk) sharedLinks(r *http.Request) ([]sharedLink, error) {
	s := sightOf(r)
	open, err := d.Store.AllShared(r.Context(), s.ID)
	if err != nil || len(open) == 0 {
		return nil, err
	}
	base, err := web.Base(r, d.Public, d.Store)
	if err != nil {
		return nil, err
	}
	var all []sharedLink
	for _, one := range open {
		var days []string
		for _, day := range one.Days {
			days = append(days, day.Words())
		}
		all = append(all, sharedLink{one.Token, base + "/d/" + one.Token,
			milestones.DateOf(one.Issued.In(s.plan.Wedding.Location())).Words(), strings.Join(days, "; ")})
	}
	return all, nil
}

// share answers POST of a new link to the shortlist as it is.
func (d *Desk) share(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	days := slices.DeleteFunc(sortedDays(s.plan.Candidates), func(day milestones.Date) bool { return day.Before(s.today) })
	if len(days) == 0 {
		return d.showWeigh(w, r, http.StatusUnprocessableEntity, candidateForm("", "there is no day to come to show", "put one on the shortlist first; a link then shows it"))
	}
	a := s.askedBy(sent(r))
	if _, err := d.Store.Share(r.Context(), s.ID, days, a.avoid, d.Now()); err != nil {
		return err
	}
	return goTo(w, r, s.at("weigh")+a.query()+"#share")
}

// closeShared answers POST of the end of a link.
func (d *Desk) closeShared(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	if err := d.Store.CloseShared(r.Context(), s.ID, r.PostForm.Get("token"), d.Now()); err != nil {
		return err
	}
	return goTo(w, r, s.at("weigh")+s.askedBy(sent(r)).query()+"#share")
}

// Comparison is what a link shows that puts days side by side.
// store.ErrUnknown where there is none.
func (d *Desk) Comparison(ctx context.Context, token string) (web.Comparison, error) {
	link, err := d.Store.Shared(ctx, token)
	if err != nil || link.Closed {
		return web.Comparison{Closed: link.Closed}, err
	}
	one, err := d.Store.WeddingCalled(ctx, link.Wedding)
	if err != nil {
		return web.Comparison{}, err
	}
	p, err := d.plans.get(ctx, d.Store, one)
	if err != nil {
		return web.Comparison{}, err
	}
	mark, err := d.Store.SourcesMark(ctx, one.ID)
	if err != nil {
		return web.Comparison{}, err
	}
	w := p.doc.Plan.Wedding
	now := d.Now().In(w.Location())
	sub := subject{wedding: one, plan: p.doc.Plan, closures: p.closures, outside: true, avoid: known(link.Avoid), today: milestones.DateOf(now), mark: mark}
	found, cautions, err := d.compare(ctx, sub, link.Days)
	if err != nil {
		return web.Comparison{}, err
	}
	c := web.Comparison{Wedding: w.Title, AsOf: now.Format("Mon 2 Jan 2006, 15:04"), Cautions: cautions}
	c.Days, c.Common = web.Compare(found, nil)
	return c, nil
}

// known are the traditions that this program knows.
func known(all []conflicts.Tradition) []conflicts.Tradition {
	return slices.DeleteFunc(slices.Clone(all), func(t conflicts.Tradition) bool { return t.Name() == "" })
}
