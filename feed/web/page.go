package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"banns/feed"
	"banns/milestones"
	"banns/store"
)

// personPage is the page of one feed: its dates, how to get them on a phone,
// and how to be reminded.
type personPage struct {
	Frame
	Wedding  string // the only one, or how many and which is next
	Day      string // of the wedding, or of the next
	Joint    bool   // the feed is made for several weddings
	AsOf     string
	Revision int
	Told
	Links     Links
	QR        QR
	Token     string
	Reminders []choice
	Kept      string // the choice that was just kept, in words
}

// Told is what the page of a feed tells of its dates.
type Told struct {
	Count    string
	Lately   lately
	Dates    Dates
	Home     string // the city whose hours are shown, where all are of one
	Cautions []string
}

// Tell is what the page shows of what the store keeps, on the day that it is
// at each wedding.
func Tell(kept store.Page, today func(zone string) milestones.Date) Told {
	t := Told{}
	if zones := zonesShown(kept.Entries); len(zones) == 1 {
		t.Home = zones[0].Home()
	}
	book := DayBook{Today: today, Joint: kept.Joint != "", OneZone: t.Home != ""}
	t.Lately = tellLately(kept.Turned, book)
	t.Dates = SortDates(kept.Entries, book)
	t.Count = t.Dates.Count()
	t.Cautions = cautions(kept.Entries)
	return t
}

// page answers GET and HEAD of /p/TOKEN.
func (s *Server) page(w http.ResponseWriter, r *http.Request, token string, o store.Opening) error {
	kept, err := s.Store.Page(r.Context(), token)
	if err != nil {
		return err
	}
	p := s.personPage(r, kept)
	p.Token, p.Revision = token, o.Revision
	base, err := Base(r, s.Public, s.Store)
	if err != nil {
		return err
	}
	if p.Links, err = NewLinks(base, token); err != nil {
		return err
	}
	if p.QR, err = NewQR(p.Links.Page); err != nil {
		return err
	}
	return Show(w, r, http.StatusOK, personTemplate, p)
}

// personPage is what the page shows of what the store keeps.
func (s *Server) personPage(r *http.Request, kept store.Page) personPage {
	title := "Your dates"
	switch {
	case kept.Joint != "":
		title = kept.Joint
	case kept.Name != "":
		title = "Dates for " + kept.Name
	}
	p := personPage{Frame: NewFrame(r, title), Joint: kept.Joint != ""}
	p.Scripts = []string{"copy.js"}
	p.Wedding, p.Day = s.weddings(kept)
	at := kept.Zone
	if zones := zonesShown(kept.Entries); len(zones) == 1 {
		at = zones[0].HomeZone
	}
	p.Told = Tell(kept, s.today)
	p.AsOf = s.asOf(at, p.Home)
	p.Reminders = choices(kept.Reminders)
	if r.URL.Query().Has("kept") {
		p.Kept = reminderWords[kept.Reminders].name
	}
	return p
}

// weddings is what stands over the page: the wedding and its day, or, of
// several, how many there are, and which is the next.
func (s *Server) weddings(kept store.Page) (says, day string) {
	var next *feed.Published
	for i := range kept.Entries {
		e := &kept.Entries[i]
		if e.Kind != milestones.KindWedding || e.Of != feed.Itself || e.Withdrawn || e.Date.IsZero() {
			continue
		}
		if len(kept.Weddings) > 1 && e.Date.Before(s.today(e.HomeZone)) {
			continue
		}
		if next == nil || e.Date.Before(next.Date) {
			next = e
		}
	}
	if next != nil {
		day = next.Date.Words()
	}
	switch {
	case len(kept.Weddings) == 1:
		return kept.Weddings[0], day
	case len(kept.Weddings) == 0:
		return "No wedding yet", ""
	case next == nil:
		return fmt.Sprintf("%d weddings", len(kept.Weddings)), ""
	}
	return fmt.Sprintf("%d weddings; the next is %s", len(kept.Weddings), next.Wedding), day
}

// zonesShown is an entry with an hour for each zone that weddings keep.
func zonesShown(entries []feed.Published) []*feed.Published {
	var all []*feed.Published
	for i := range entries {
		e := &entries[i]
		if e.Clock != nil && !slices.ContainsFunc(all, func(had *feed.Published) bool { return had.HomeZone == e.HomeZone }) {
			all = append(all, e)
		}
	}
	return all
}

// asOf is the moment it is in a zone, with its city. Where no one zone is the
// page's, it is UTC.
func (s *Server) asOf(name, city string) string {
	if name == "" {
		city = "UTC"
	}
	at := s.Now().In(milestones.ZoneOrUTC(name)).Format("Mon 2 Jan 2006, 15:04")
	if city != "" {
		at += " (" + city + ")"
	}
	return at
}

// today is the day it is in a zone.
func (s *Server) today(name string) milestones.Date {
	return milestones.DateOf(s.Now().In(milestones.ZoneOrUTC(name)))
}

// Count says how much there is, the most pressing first.
func (d Dates) Count() string {
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
