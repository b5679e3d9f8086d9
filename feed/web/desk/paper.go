package desk

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var (
	monthTemplate       = page("paper_month.html", "paper.html")
	paperPeopleTemplate = page("paper_people.html", "paper.html")
	currentTemplate     = page("paper_current.html", "changes.html")
)

// paperFrame is what every page that is made to be printed has.
type paperFrame struct {
	pageFrame
	AsOf    string // the day and hour of the print
	City    string // whose hours they are
	Version int
	Ask     string // the address that says whether the print is still current
	QR      web.QR
}

func (d *Desk) paperFrame(r *http.Request, title string) (paperFrame, error) {
	s := sightOf(r)
	p := paperFrame{pageFrame: newPageFrame(r, title, "paper"), AsOf: s.cityTime(d.Now()), Version: s.plan.Version}
	zone := s.plan.Wedding.Zone
	p.City = strings.ReplaceAll(zone[strings.LastIndex(zone, "/")+1:], "_", " ")
	base, err := web.Base(r, d.Public, d.Store)
	if err != nil {
		return p, err
	}
	p.Ask = fmt.Sprintf("%s/desk/%s?v=%d", base, s.at("paper/current"), p.Version)
	p.QR, err = web.NewQR(p.Ask)
	return p, err
}

// paperMonthPage is one month's dates, for a wall.
type paperMonthPage struct {
	paperFrame
	Name    string // August 2027
	Choose  field  // among the months in which something stands
	Entries []paperEntry
}

// paperEntry is one date on paper.
type paperEntry struct {
	Day   string // without its year, which stands above
	What  string
	Lines []string // the hours and the place, what the contract says, who pays
	Done  bool
	Late  bool
	Tick  bool // somebody has to do it: there is a box to tick
}

// paperMonth answers GET of a month on paper: the one asked for, or the next
// in which something stands.
func (d *Desk) paperMonth(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	months := s.months()
	asked := r.URL.Query().Get("m")
	if asked == "" {
		asked = s.today.String()[:len("2027-08")]
		if n := slices.IndexFunc(months, func(m string) bool { return m >= asked }); n >= 0 {
			asked = months[n]
		}
	}
	at, err := time.Parse("2006-01", asked)
	if err != nil {
		return nothing(w, r)
	}
	name := at.Format("January 2006")
	p := paperMonthPage{Name: name}
	if p.paperFrame, err = d.paperFrame(r, name); err != nil {
		return err
	}
	p.Choose = field{Path: "m", Label: "The month", Kind: choiceKind, Value: asked}
	for _, m := range months {
		t, _ := time.Parse("2006-01", m)
		p.Choose.Options = append(p.Choose.Options, option{m, t.Format("January 2006")})
	}
	entries := slices.Clone(s.entries)
	slices.SortStableFunc(entries, func(a, b feed.Entry) int { return a.Day().Compare(b.Day()) })
	for n := range entries {
		if e := &entries[n]; monthOf(e) == asked {
			p.Entries = append(p.Entries, s.paperEntry(e))
		}
	}
	return web.Show(w, r, http.StatusOK, monthTemplate, p)
}

// monthOf is the month in which e stands, or empty.
func monthOf(e *feed.Entry) string {
	if e.Date.IsZero() {
		return ""
	}
	return e.Day().String()[:len("2027-08")]
}

// months are those in which the visitor has dates, in order.
func (s *sight) months() []string {
	var all []string
	for n := range s.entries {
		if m := monthOf(&s.entries[n]); m != "" {
			all = append(all, m)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func (s *sight) paperEntry(e *feed.Entry) paperEntry {
	state := e.StateOn(s.today)
	day := e.Day().Words()
	p := paperEntry{Day: day[:strings.LastIndex(day, " ")], What: e.What(), Done: state == milestones.Done, Late: state == milestones.Overdue && !e.Option()}
	p.Tick = !p.Done && !e.Option() && (e.Deadline() || e.Kind == milestones.KindMilestone || e.Kind == milestones.KindRefund)
	add := func(line string) {
		if line != "" {
			p.Lines = append(p.Lines, line)
		}
	}
	if !e.Deadline() {
		add(strings.Trim(e.Hours()+", "+e.Place.String(), ", "))
	}
	if e.Day() != e.Date && !p.Done {
		add("The contract says " + e.Date.Words() + ".")
	}
	if e.Kind == milestones.KindPayment && e.Payer != "" && !p.Done {
		add(e.Payer + " pays.")
	}
	if len(e.Questions) > 0 && !p.Done {
		add("It has a question; see the desk.")
	}
	return p
}

// paperPeoplePage is how everybody is reached, for the day itself.
type paperPeoplePage struct {
	paperFrame
	Parts []paperPart
}

type paperPart struct {
	Name   string
	People []paperPerson
}

type paperPerson struct {
	Name  string
	With  string // the vendors that they are the contact of
	Phone string
	Email string
}

// paperPeople answers GET of the people on paper.
func (d *Desk) paperPeople(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	p := paperPeoplePage{}
	var err error
	if p.paperFrame, err = d.paperFrame(r, "Who is reached how"); err != nil {
		return err
	}
	for _, part := range milestones.Parts {
		one := paperPart{Name: partNames[part].many}
		for _, who := range s.plan.People {
			if who.Part == part {
				one.People = append(one.People, paperPerson{who.Name, s.vendorsOf(who.Key), who.Phone, who.Email})
			}
		}
		if one.People != nil {
			p.Parts = append(p.Parts, one)
		}
	}
	return web.Show(w, r, http.StatusOK, paperPeopleTemplate, p)
}

// vendorsOf are the vendors at which somebody is the contact.
func (s *sight) vendorsOf(key string) string {
	var all []string
	for _, a := range s.plan.Agreements {
		if a.Contact == key && !a.Over() {
			all = append(all, a.With)
		}
	}
	return strings.Join(all, ", ")
}

// currentPage says whether a print still holds.
type currentPage struct {
	pageFrame
	Version int
	Newest  int
	Saved   string // when the print's version was
	Blind   bool   // that version cannot be read any more
	Changes []changeRow
}

// paperCurrent answers GET of whether a print is still current.
func (d *Desk) paperCurrent(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	n, err := s.plan.Version, error(nil)
	if asked := r.URL.Query().Get("v"); asked != "" {
		n, err = strconv.Atoi(asked)
	}
	all, failed := d.Store.Versions(r.Context(), s.ID)
	if failed != nil {
		return failed
	}
	at := slices.IndexFunc(all, func(v store.Version) bool { return v.N == n })
	if err != nil || at < 0 {
		return nothing(w, r)
	}
	p := currentPage{pageFrame: newPageFrame(r, "Is this print still current?", "paper"), Version: n, Newest: s.plan.Version, Saved: s.cityTime(all[at].Saved)}
	docs, err := d.Store.LoadVersions(r.Context(), s.ID, n, n)
	if err != nil {
		return err
	}
	if was := docs[n]; was != nil {
		p.Changes = s.compared(worked(was.Plan), worked(s.doc.Plan), milestones.DateOf(all[at].Saved.In(s.plan.Wedding.Location())))
	} else {
		p.Blind = true
	}
	return web.Show(w, r, http.StatusOK, currentTemplate, p)
}
