package desk

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"time"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var historyTemplate = page("history.html", "changes.html")

// historyMost is how many versions a page of the history has.
const historyMost = 10

// historyPage is the versions of a plan, the newest first.
type historyPage struct {
	pageFrame
	Versions []versionRow
	Older    int   // the version from which an older page goes on, or 0
	Whole    bool  // nothing is hidden from the visitor, so that they may go back
	Back     *back // what was just gone back to
}

// versionRow is one version, and what it changed.
type versionRow struct {
	N       int
	Saved   string
	By      string
	Newest  bool
	Gone    bool   // it cannot be read any more
	First   string // what the first version has
	Blind   bool   // the version before it cannot be read
	Changes []changeRow
}

// history answers GET of the versions.
func (d *Desk) history(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	p := historyPage{pageFrame: newPageFrame(r, "History", "history"), Whole: s.planner()}
	all, err := d.Store.Versions(r.Context(), s.ID)
	if err != nil {
		return err
	}
	slices.Reverse(all)
	newest := all[0].N
	if from, err := strconv.Atoi(r.URL.Query().Get("from")); err == nil {
		all = slices.DeleteFunc(all, func(v store.Version) bool { return v.N > from })
	}
	if err := d.versionRows(r.Context(), s, all, &p); err != nil {
		return err
	}
	for n := range p.Versions {
		p.Versions[n].Newest = p.Versions[n].N == newest
	}
	if n, err := strconv.Atoi(r.URL.Query().Get("back")); err == nil && s.planner() {
		kept, err := strconv.Atoi(p.Kept)
		if err == nil {
			p.Back, err = d.wentBack(r.Context(), s, n, kept-1)
		}
		if err != nil && !errors.Is(err, store.ErrUnknown) {
			return err
		}
	}
	return web.Show(w, r, http.StatusOK, historyTemplate, p)
}

// versionRows fills a page with versions, the newest of all first. To
// somebody from whom things are hidden, a version that changes nothing which
// they see is not told of.
func (d *Desk) versionRows(ctx context.Context, s *sight, all []store.Version, p *historyPage) error {
	shown := all[:min(len(all), historyMost)]
	if len(shown) == 0 {
		return nil
	}
	if len(all) > len(shown) {
		p.Older = all[len(shown)].N
	}
	docs, err := d.Store.LoadVersions(ctx, s.ID, max(p.Older, all[len(all)-1].N), shown[0].N)
	if err != nil {
		return err
	}
	each := map[int]milestones.Worked{}
	for n, doc := range docs {
		each[n] = worked(doc.Plan)
	}
	for n, v := range shown {
		row := versionRow{N: v.N, Saved: s.cityTime(v.Saved), By: v.By}
		is := each[v.N]
		switch {
		case is.Plan == nil:
			row.Gone = true
		case n+1 == len(all):
			row.First = s.firstWords(is)
		case each[all[n+1].N].Plan == nil:
			row.Blind = true
		default:
			row.Changes = s.compared(each[all[n+1].N], is, milestones.DateOf(v.Saved.In(is.Plan.Wedding.Location())))
		}
		if s.planner() || row.Changes != nil || row.First != "" {
			p.Versions = append(p.Versions, row)
		}
	}
	return nil
}

// firstWords count what the first version has, or what of it the visitor sees.
func (s *sight) firstWords(w milestones.Worked) string {
	p := w.Plan
	if s.planner() {
		return some(len(p.People), "person", "people") + ", " + some(len(p.Agreements), "agreement", "agreements") + " and " + some(len(w.Items), "date", "dates")
	}
	for _, who := range p.People {
		if who.ID() == s.Person {
			return some(len(feed.View(p, w.Items, who.Key)), "date", "dates") + " for you"
		}
	}
	return "nothing for you yet"
}

func some(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// cityTime is a moment as the wedding's own clocks show it.
func (s *sight) cityTime(at time.Time) string {
	return at.In(s.plan.Wedding.Location()).Format("Mon 2 Jan 2006, 15:04")
}
