package desk

import (
	"net/http"
	"reflect"
	"slices"
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
)

// paperFrame is what every page that is made to be printed has.
type paperFrame struct {
	pageFrame
	All     bool   // what is hidden from anybody is on it too
	LeftOut string // what is left out for that, or on it, in words; empty where nothing is
	Other   string // the way to the other print of the same
	AsOf    string // the day and hour of the print
	City    string // whose hours they are
	Version int
	Site    web.Site
	Ask     string // the address that says whether the print is still current
	QR      web.QR // which leads there; none where no phone can come to it
}

// paperFrame is that of the sheet of a month, or of the people; all has what
// is hidden from anybody on it too.
func (d *Desk) paperFrame(r *http.Request, title, month string, all bool) (paperFrame, error) {
	s := sightOf(r)
	p := paperFrame{pageFrame: newPageFrame(r, title, "paper"), All: all, AsOf: s.cityTime(d.Now()), Version: s.plan.Version}
	zone := s.plan.Wedding.Zone
	p.City = strings.ReplaceAll(zone[strings.LastIndex(zone, "/")+1:], "_", " ")
	base, err := web.Base(r, d.Public, d.Store)
	if err != nil {
		return p, err
	}
	if p.Site, err = web.NewSite(base); err != nil || p.Site.Unreached() {
		return p, err
	}
	token, err := d.Store.PrintToken(r.Context(), store.Print{Wedding: s.ID, Person: s.Person, Month: month, All: all, Version: p.Version})
	if err != nil {
		return p, err
	}
	p.Ask = base + "/desk/paper/" + token
	p.QR, err = web.NewQR(p.Ask)
	return p, err
}

// sheet is what stands on paper: the dates of a month, or the people.
type sheet struct {
	Wedding string // its title
	Entries []paperEntry
	Parts   []paperPart
}

// onPaper is the sheet of a month, or, where that is empty, of the people.
func (s *sight) onPaper(month string, hidden bool) sheet {
	all := sheet{Wedding: s.plan.Wedding.Title}
	if month == "" {
		plan := s.plan
		if !hidden {
			plan = feed.SeenByAll(plan)
		}
		all.Parts = paperParts(plan)
		return all
	}
	entries := s.live()
	if !hidden {
		entries, _, _ = s.leftOut(entries)
	}
	slices.SortStableFunc(entries, func(a, b feed.Entry) int { return a.Day().Compare(b.Day()) })
	for n := range entries {
		if e := &entries[n]; monthOf(e) == month {
			all.Entries = append(all.Entries, s.paperEntry(e))
		}
	}
	return all
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
	entries, all := s.live(), r.URL.Query().Has("all")
	months := monthsOf(entries)
	if !all {
		entries, _, _ = s.leftOut(entries)
	}
	asked := r.URL.Query().Get("m")
	if asked == "" {
		asked = s.today.String()[:len("2027-08")]
		next := monthsOf(entries)
		if n := slices.IndexFunc(next, func(m string) bool { return m >= asked }); n >= 0 {
			asked = next[n]
		}
	}
	at, err := time.Parse("2006-01", asked)
	if err != nil {
		return nothing(w, r)
	}
	name := at.Format("January 2006")
	p := paperMonthPage{Name: name}
	if p.paperFrame, err = d.paperFrame(r, name, asked, all); err != nil {
		return err
	}
	p.Choose = field{Path: "m", Label: "The month", Kind: choiceKind, Value: asked}
	for _, m := range months {
		t, _ := time.Parse("2006-01", m)
		p.Choose.Options = append(p.Choose.Options, option{m, t.Format("January 2006")})
	}
	p.told(s, asked)
	p.Entries = s.onPaper(asked, all).Entries
	return web.Show(w, r, http.StatusOK, monthTemplate, p)
}

// told says what of the month is hidden from anybody.
func (p *paperMonthPage) told(s *sight, month string) {
	_, n, from := s.leftOut(slices.DeleteFunc(s.live(), func(e feed.Entry) bool { return monthOf(&e) != month }))
	if n == 0 {
		return
	}
	p.LeftOut = plural(n, "date")
	if from != "" {
		p.LeftOut += " " + from
	}
	p.Other = p.At + "paper/month?m=" + month
	if !p.All {
		p.Other += "&all=yes"
	}
}

// monthOf is the month in which e stands, or empty.
func monthOf(e *feed.Entry) string {
	if e.Date.IsZero() {
		return ""
	}
	return e.Day().String()[:len("2027-08")]
}

// monthsOf are those in which entries stand, in order.
func monthsOf(entries []feed.Entry) []string {
	var all []string
	for n := range entries {
		if m := monthOf(&entries[n]); m != "" {
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
	s, all := sightOf(r), r.URL.Query().Has("all")
	frame, err := d.paperFrame(r, "Who is reached how", "", all)
	if err != nil {
		return err
	}
	p := paperPeoplePage{frame, s.onPaper("", all).Parts}
	if !reflect.DeepEqual(p.Parts, s.onPaper("", !all).Parts) {
		p.LeftOut, p.Other = "who is in the plan for something hidden alone", p.At+"paper/people"
		if !all {
			p.Other += "?all=yes"
		}
	}
	return web.Show(w, r, http.StatusOK, paperPeopleTemplate, p)
}

// paperParts are the people by their parts.
func paperParts(p *milestones.Plan) []paperPart {
	var all []paperPart
	for _, part := range milestones.Parts {
		one := paperPart{Name: partNames[part].many}
		for _, who := range p.People {
			if who.Part == part {
				one.People = append(one.People, paperPerson{who.Name, vendorsOf(p, who.Key), who.Phone, who.Email})
			}
		}
		if one.People != nil {
			all = append(all, one)
		}
	}
	return all
}

// vendorsOf are the vendors at which somebody is the contact.
func vendorsOf(p *milestones.Plan, key string) string {
	var all []string
	for _, a := range p.Agreements {
		if a.Contact == key && !a.Over() {
			all = append(all, a.With)
		}
	}
	return strings.Join(all, ", ")
}
