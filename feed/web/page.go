package web

import (
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"banns/feed"
	"banns/milestones"
	"banns/store"
)

// personPage is the page of one person: their dates, how to get them on a
// phone, and how to be reminded.
type personPage struct {
	Frame
	Wedding   string
	Day       string // of the wedding
	Name      string
	Home      string // the city whose hours the wedding keeps, where hours are shown
	AsOf      string
	Count     string
	Revision  int
	Dates     dates
	Cautions  []string
	Links     links
	QR        qrCode
	Token     string
	Reminders []choice
	Kept      string // the choice that was just kept, in words
}

// page answers GET and HEAD of /p/TOKEN.
func (s *Server) page(w http.ResponseWriter, r *http.Request) error {
	token := chi.URLParam(r, "token")
	o, known := s.shelf.find(r.Context(), token)
	switch {
	case !known:
		return nothing(w, r)
	case o.Revoked:
		return closed(w, r)
	}
	kept, err := s.Store.Page(r.Context(), token)
	if err != nil {
		return err
	}
	p := s.personPage(r, kept)
	p.Token, p.Revision = token, o.Revision
	if p.Links, err = s.linksFor(r, token); err != nil {
		return err
	}
	if p.QR, err = newQR(p.Links.Page); err != nil {
		return err
	}
	return Show(w, r, http.StatusOK, personTemplate, p)
}

// personPage is what the page shows of what the store keeps.
func (s *Server) personPage(r *http.Request, kept store.Page) personPage {
	title := "Your dates"
	if kept.Name != "" {
		title = "Dates for " + kept.Name
	}
	p := personPage{Frame: NewFrame(r, title), Wedding: kept.Wedding, Name: kept.Name}
	p.Scripts = []string{"copy.js"}
	p.Dates = sortDates(kept.Entries, kept.Wedding, s.today)
	p.Count = p.Dates.count()
	p.Cautions = cautions(kept.Entries)
	for i := range kept.Entries {
		e := &kept.Entries[i]
		if e.Clock != nil {
			p.Home = e.Home()
		}
		if e.Kind == milestones.KindWedding && e.Wedding == kept.Wedding && !e.Withdrawn {
			p.Day = e.Date.Words()
		}
	}
	p.AsOf = s.Now().In(zone(kept.Zone)).Format("Mon 2 Jan 2006, 15:04")
	p.Reminders = choices(kept.Reminders)
	if r.URL.Query().Has("kept") {
		p.Kept = reminderWords[kept.Reminders].name
	}
	return p
}

// today is the day it is in a zone.
func (s *Server) today(name string) milestones.Date { return milestones.DateOf(s.Now().In(zone(name))) }

// zone is the zone of an IANA name, or UTC.
func zone(name string) *time.Location {
	loc, err := time.LoadLocation(name)
	if err != nil {
		return time.UTC
	}
	return loc
}

// count says how much there is, the most pressing first.
func (d dates) count() string {
	var parts []string
	add := func(n int, says string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf(says, n))
		}
	}
	add(len(d.Late), "%d late")
	add(d.Soon, "%d within two weeks")
	if len(parts) > 0 {
		add(d.Later, "%d more to come")
	} else {
		add(d.Later, "%d to come")
	}
	return strings.Join(parts, ", ")
}

// cautions are what nobody should forget about the dates that they see.
func cautions(entries []feed.Published) []string {
	has := map[milestones.Kind]bool{}
	agreed := false
	for i := range entries {
		has[entries[i].Kind] = true
		agreed = agreed || entries[i].Agreement != ""
	}
	var all []string
	for _, c := range []struct {
		when bool
		says string
	}{
		{agreed, "The signed contract governs; a date here is worked out from it. This is not legal advice."},
		{has[milestones.KindPayment], "A payment must clear. Banks and vendors close on different days: send it early."},
		{has[milestones.KindCancelBy] || has[milestones.KindChangeBy], "Give notice in writing. It often counts from when it is received."},
		{has[milestones.KindCancelBy], "If the wedding moves, only what is counted from it moves with it, and a vendor may treat the move as leaving."},
	} {
		if c.when {
			all = append(all, c.says)
		}
	}
	return all
}
