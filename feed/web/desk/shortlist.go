package desk

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

// shortlist is the plan's candidates, side by side.
type shortlist struct {
	Days     []web.Compared
	Common   []string
	Add      form
	Links    []sharedLink
	cautions []string
}

// candidateForm asks for one more day, which may be wrong.
func candidateForm(value, says, mend string) form {
	f := form{Fields: []field{{Path: "day", As: "add", Label: "Another day to choose among", Kind: dateKind, Value: value}}}
	if says != "" {
		f.fault("day", says, mend)
	}
	return f
}

// shortlisted are the plan's candidates as they come out, and the links that
// show them. At is where the wedding's pages are.
func (d *Desk) shortlisted(r *http.Request, sub subject, at string) (shortlist, error) {
	found, cautions, err := d.compare(r.Context(), sub, sortedDays(sub.plan.Candidates))
	if err != nil {
		return shortlist{}, err
	}
	l := shortlist{cautions: cautions}
	l.Days, l.Common = web.Compare(found, sightOf(r).leads(at))
	l.Links, err = d.sharedLinks(r)
	return l, err
}

func sortedDays(days []milestones.Date) []milestones.Date {
	days = slices.SortedFunc(slices.Values(days), milestones.Date.Compare)
	return slices.Compact(days)
}

// shortlist answers POST of a day that is to be on the shortlist or off it.
func (d *Desk) shortlist(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	text := strings.TrimSpace(r.PostForm.Get("day"))
	day, err := milestones.ParseDate(text)
	switch {
	case text == "":
		return d.showWeigh(w, r, http.StatusUnprocessableEntity, candidateForm("", "no day is chosen", "choose one to put on the shortlist"))
	case err != nil:
		return d.showWeigh(w, r, http.StatusUnprocessableEntity, candidateForm(text, fmt.Sprintf("%q is no day of the calendar", text), "write it as 2027-09-18"))
	case r.PostForm.Get("do") != "off" && day.Before(s.today):
		return d.showWeigh(w, r, http.StatusUnprocessableEntity, candidateForm(text, day.Words()+" is past", "choose a day that is to come"))
	}
	version, err := d.listed(r, day, r.PostForm.Get("do") != "off")
	if err != nil {
		return err
	}
	to := s.at("weigh")
	if r.PostForm.Has("here") {
		to += "/" + day.String()
	}
	return goTo(w, r, to+s.askedBy(sent(r)).query()+fmt.Sprintf("&kept=%d", version)+"#kept")
}

// sent is the question that a form carried along.
func sent(r *http.Request) url.Values {
	query, err := url.ParseQuery(strings.TrimPrefix(r.PostForm.Get("asked"), "?"))
	if err != nil {
		return nil
	}
	return query
}

// listed puts a day on the plan's shortlist or takes it off. It says nothing
// of the rest of the list, so it goes by the newest: where somebody else has
// just changed that, it is tried again.
func (d *Desk) listed(r *http.Request, day milestones.Date, on bool) (version int, err error) {
	s := sightOf(r)
	const tries = 3
	for range tries {
		doc, err := d.Store.Load(r.Context(), s.ID)
		if err != nil {
			return 0, err
		}
		days := slices.DeleteFunc(slices.Clone(doc.Plan.Candidates), func(one milestones.Date) bool { return one == day })
		if on {
			days = append(days, day)
		}
		set := store.Set{Path: "candidates", List: true}
		for _, one := range sortedDays(days) {
			set.Value = append(set.Value, one.String())
		}
		done, err := d.Store.Update(r.Context(), store.Edit{Wedding: s.ID, Seen: doc.Plan.Version, Sets: []store.Set{set}, By: visitorOf(r).Name}, d.Now())
		var overlaps store.Overlaps
		if !errors.As(err, &overlaps) {
			return done.Version, err
		}
	}
	return 0, fmt.Errorf("the shortlist was changed %d times meanwhile", tries)
}
