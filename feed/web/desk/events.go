package desk

import (
	"cmp"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"banns/conflicts"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var eventsTemplate = page("events.html")

// eventsRoutes are the URLs of what is on in the city.
func (d *Desk) eventsRoutes(r chi.Router) {
	r.Get("/events", d.answer(d.events))
	r.Post("/events", d.answer(d.addFile))
	r.Post("/events/address", d.answer(d.addAddress))
	r.Post("/events/written", d.answer(d.addWritten))
	r.Post("/events/written/take", d.answer(d.takeWritten))
	r.Post("/events/order", d.answer(d.settleOrder))
	r.Get("/events/{source}/remove", d.answer(d.sureRemove))
	r.Post("/events/{source}/remove", d.answer(d.removeSource))
}

// eventsPage is where public events are read, and what was made of it.
type eventsPage struct {
	pageFrame
	Sources []sourceRow
	Added   string // the source that was just added
	eventForms
	Years string // of which events are shown
}

// sourceRow is one calendar or table.
type sourceRow struct {
	Name    string
	From    string // where it is read, and when that was last done
	Trouble string
	Added   bool
	Rows    []writtenRow // where they were written down here
	sourceRead
}

// events answers GET of what is on in the city.
func (d *Desk) events(w http.ResponseWriter, r *http.Request) error {
	return d.showEvents(w, r, http.StatusOK, newEventForms())
}

func (d *Desk) showEvents(w http.ResponseWriter, r *http.Request, status int, forms eventForms) error {
	s := sightOf(r)
	first, last := s.eventYears()
	sources, read, err := d.sourcesRead(r.Context(), s, first, last)
	if err != nil {
		return err
	}
	p := eventsPage{pageFrame: newPageFrame(r, "In the city", "events"), eventForms: forms, Added: r.URL.Query().Get("added")}
	p.Sheets = append(p.Sheets, "weigh.css")
	p.Years = fmt.Sprintf("%d to %d", first.Year, last.Year)
	for _, src := range sources {
		row := newSourceRow(src, s)
		row.Added, row.sourceRead = src.Name == p.Added, read[src.Name]
		if src.Name == writtenSource && src.Address == "" {
			row.written(src.Body)
		}
		p.Sources = append(p.Sources, row)
	}
	return web.Show(w, r, status, eventsTemplate, p)
}

// eventYears are the days of which events are shown: from the start of this
// year to the end of the last in which the wedding may be, or two years on.
func (s *sight) eventYears() (first, last milestones.Date) {
	year := s.today.Year + 2
	for _, day := range append(slices.Clone(s.plan.Candidates), s.plan.Wedding.Date) {
		year = max(year, min(day.Year, lastYear))
	}
	return milestones.Date{Year: s.today.Year, Month: time.January, Day: 1}, milestones.Date{Year: year, Month: time.December, Day: 31}
}

func newSourceRow(src store.Source, s *sight) sourceRow {
	read := milestones.DateOf(src.ReadAt.In(s.plan.Wedding.Location())).Words()
	row := sourceRow{Name: src.Name, From: "From a file, read on " + read, Trouble: src.Trouble}
	if src.Address != "" {
		row.From = "From an address, read again each day; last read well on " + read
	}
	return row
}

// settleOrder answers POST of which number of a table's dates is the day.
func (d *Desk) settleOrder(w http.ResponseWriter, r *http.Request) error {
	order := conflicts.Order(r.PostForm.Get("order"))
	if order != conflicts.DayMonth && order != conflicts.MonthDay {
		return store.ErrUnknown
	}
	s, name := sightOf(r), r.PostForm.Get("source")
	if err := d.Store.SetOrder(r.Context(), s.Name, name, order); err != nil {
		return err
	}
	return goTo(w, r, s.at("events")+"#"+name)
}

// source is the source that r names.
func (d *Desk) source(r *http.Request) (string, error) {
	sources, err := d.Store.Sources(r.Context(), sightOf(r).ID)
	name := chi.URLParam(r, "source")
	if err == nil && !slices.ContainsFunc(sources, func(src store.Source) bool { return src.Name == name }) {
		err = store.ErrUnknown
	}
	return name, err
}

// sureRemove answers GET of the end of a source.
func (d *Desk) sureRemove(w http.ResponseWriter, r *http.Request) error {
	name, err := d.source(r)
	if err != nil {
		return err
	}
	return web.Show(w, r, http.StatusOK, sureTemplate, surePage{pageFrame: newPageFrame(r, "Remove "+name, "events"),
		Says: []string{"Its events count for no day any more, and what was expected by them is not.", "To have it back, add the file or the address again."},
		Do:   "Remove it", Back: "events"})
}

// removeSource answers POST of the end of a source.
func (d *Desk) removeSource(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	if err := d.Store.RemoveSource(r.Context(), s.ID, chi.URLParam(r, "source")); err != nil {
		return err
	}
	return goTo(w, r, s.at("events"))
}

// freeName is what to call a source: what was asked, unless that is another's
// already. The same file or address by the same name is the same source.
func freeName(wanted, address string, have []store.Source) string {
	wanted = store.Slug(wanted, "events")
	for n := 1; ; n++ {
		name := wanted
		if n > 1 {
			name = fmt.Sprintf("%s-%d", wanted, n)
		}
		if name == writtenSource {
			continue
		}
		i := slices.IndexFunc(have, func(src store.Source) bool { return src.Name == name })
		if i < 0 || have[i].Address == address {
			return name
		}
	}
}

// keepSource keeps a source that was read, and sends the browser to it. The
// fault says why nothing can be made of it.
func (d *Desk) keepSource(w http.ResponseWriter, r *http.Request, src store.Source, called string) (fault string, err error) {
	s := sightOf(r)
	first, last := s.eventYears()
	src.Name = cmp.Or(strings.TrimSpace(called), src.Name)
	if _, err := src.Listing(s.plan.Wedding.Location(), first, last); err != nil {
		return fmt.Sprintf("it cannot be read as a calendar or a table: %v", err), nil
	}
	have, err := d.Store.Sources(r.Context(), s.ID)
	if err != nil {
		return "", err
	}
	src.Wedding, src.Name = s.ID, freeName(src.Name, src.Address, have)
	name, _, err := d.Store.AddSource(r.Context(), src, d.Now())
	if err != nil {
		return "", err
	}
	return "", goTo(w, r, s.at("events")+"?added="+name+"#"+name)
}
