package desk

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"banns/conflicts"
	"banns/feed/web"
	"banns/milestones"
)

var weighTemplate = page("weigh.html", "shortlist.html", "asked.html")

// weighRoutes are the URLs under which days are weighed.
func (d *Desk) weighRoutes(r chi.Router) {
	r.Get("/weigh", d.answer(d.weighYear))
	r.Get("/weigh/{day}", d.answer(d.weighDay))
	r.Post("/weigh/shortlist", d.answer(d.shortlist))
	r.Post("/weigh/share", d.answer(d.share))
	r.Post("/weigh/share/close", d.answer(d.closeShared))
}

// weighPage is a year of days, and those that are chosen among.
type weighPage struct {
	pageFrame
	Asked      asked
	Shortlist  shortlist
	Legend     []web.Verdict
	Months     []weighedMonth
	Best       []weighedDay
	Cautions   []string
	Read       bool // some event was read
	Open       bool // nothing is chosen yet, so that the question comes first
	NoHolidays bool // those of the wedding's region are not known
}

// weighedMonth is one month of the days that are weighed.
type weighedMonth struct {
	Name    string
	Columns string // class: how many days of the week are shown
	Days    []weighedDay
}

type weighedDay struct {
	Date    milestones.Date
	Words   string // Sat 18
	Full    string // Sat 18 Sep 2027
	Class   string // the column, and the verdict
	To      string
	Past    bool
	Chosen  bool // it is on the shortlist
	Wedding bool
	Verdict web.Verdict
}

// bestMost is how many of a year's days are named as the best.
const bestMost = 5

// weighYear answers GET of a year of days.
func (d *Desk) weighYear(w http.ResponseWriter, r *http.Request) error {
	return d.showWeigh(w, r, http.StatusOK, candidateForm("", "", ""))
}

func (d *Desk) showWeigh(w http.ResponseWriter, r *http.Request, status int, add form) error {
	s := sightOf(r)
	p := weighPage{pageFrame: newPageFrame(r, "Which day", "weigh"), Asked: s.weighing(r), Legend: web.Verdicts()}
	p.Sheets, p.Scripts = append(p.Sheets, "weigh.css"), append(p.Scripts, "copy.js")
	sub, err := d.subject(r, p.Asked.avoid)
	if err != nil {
		return err
	}
	year, err := d.weigh(r.Context(), sub, p.Asked.Year)
	if err != nil {
		return err
	}
	if p.Shortlist, err = d.shortlisted(r, sub, p.At); err != nil {
		return err
	}
	p.Shortlist.Add = add
	p.Cautions = slices.Clone(year.cautions)
	for _, says := range p.Shortlist.cautions {
		if !slices.Contains(p.Cautions, says) {
			p.Cautions = append(p.Cautions, says)
		}
	}
	p.Read = year.read
	p.Open = s.plan.Wedding.Date.IsZero() && len(s.plan.Candidates) == 0
	_, p.NoHolidays = s.closures.(milestones.NoClosures)
	found := year.rank(p.Asked.days(s.today))
	p.Months = s.weighedMonths(p.Asked, found, p.At)
	for _, c := range found[:min(bestMost, len(found))] {
		p.Best = append(p.Best, s.weighedDay(p.Asked, c, p.At))
	}
	return web.Show(w, r, status, weighTemplate, p)
}

// weighedMonths are the months of a year with the days that are shown: those
// found, and those that are past.
func (s *sight) weighedMonths(a asked, found []conflicts.Candidate, at string) []weighedMonth {
	months := make([]weighedMonth, 12)
	columns := a.columns(s.weekBegins())
	first, last := yearOf(a.Year)
	for day := first; !day.After(last); day = day.AddDays(1) {
		if !a.has(day) {
			continue
		}
		m := &months[day.Month-1]
		m.Name, m.Columns = monthName(day), fmt.Sprintf("of-%d", len(columns))
		one := weighedDay{Date: day, Words: shortDay(day), Past: day.Before(s.today)}
		if n := slices.IndexFunc(found, func(c conflicts.Candidate) bool { return c.Date == day }); n >= 0 {
			one = s.weighedDay(a, found[n], at)
		}
		one.Class = strings.TrimSpace(fmt.Sprintf("in-%d %s", slices.Index(columns, day.Weekday())+1, one.Class))
		m.Days = append(m.Days, one)
	}
	return months
}

// weighedDay is one day as a year shows it.
func (s *sight) weighedDay(a asked, c conflicts.Candidate, at string) weighedDay {
	v := web.VerdictOf(c.Verdict)
	return weighedDay{Date: c.Date, Words: shortDay(c.Date), Full: c.Date.Words(), Class: "v-" + v.Word, Verdict: v,
		To: at + "weigh/" + c.Date.String() + a.query(), Chosen: slices.Contains(s.plan.Candidates, c.Date), Wedding: c.Date == s.plan.Wedding.Date}
}

func shortDay(day milestones.Date) string {
	return fmt.Sprintf("%s %d", day.Weekday().String()[:3], day.Day)
}

// weighing is what days are asked for: it stands in the query, so that a link
// shows the same to somebody else.
type asked struct {
	Year   int
	On     [7]bool  // by weekday
	In     [12]bool // by month, January first
	Days   []tick
	Months []tick // none ticked: every month
	Minds  []tick
	Before int
	After  int
	avoid  []conflicts.Tradition
}

// tick is one choice of several that go together.
type tick struct {
	Name, Value, Label string
	On                 bool
}

// The years that can be asked for.
const (
	firstYear = 1900
	lastYear  = 2200
)

// asked reads what the query asks for. Without a question it is the weekends
// of the year in which the wedding may be.
func (s *sight) weighing(r *http.Request) asked {
	return s.askedBy(r.URL.Query())
}

func (s *sight) askedBy(query url.Values) asked {
	a := asked{Year: s.likelyYear()}
	if year, err := strconv.Atoi(query.Get("year")); err == nil && year >= firstYear && year <= lastYear {
		a.Year = year
	}
	a.Before, a.After = a.Year-1, a.Year+1
	for n := range 7 {
		day := time.Weekday((s.weekBegins() + n) % 7)
		value := strings.ToLower(day.String()[:3])
		weekend := day == time.Saturday || day == time.Sunday
		a.On[day] = slices.Contains(query["on"], value) || !query.Has("year") && !query.Has("on") && weekend
		a.Days = append(a.Days, tick{"on", value, day.String(), a.On[day]})
	}
	if a.On == [7]bool{} { // none ticked: every day
		for n := range a.On {
			a.On[n] = true
		}
	}
	for m := time.January; m <= time.December; m++ {
		value := strings.ToLower(m.String()[:3])
		a.In[m-1] = slices.Contains(query["month"], value)
		a.Months = append(a.Months, tick{"month", value, m.String(), a.In[m-1]})
	}
	if a.In == [12]bool{} {
		for n := range a.In {
			a.In[n] = true
		}
	}
	for _, t := range conflicts.Traditions() {
		on := slices.Contains(query["mind"], string(t))
		a.Minds = append(a.Minds, tick{"mind", string(t), t.Name(), on})
		if on {
			a.avoid = append(a.avoid, t)
		}
	}
	return a
}

// likelyYear is the year of the wedding, or of the first day that is chosen
// among, or else the next that is whole.
func (s *sight) likelyYear() int {
	switch {
	case !s.plan.Wedding.Date.IsZero():
		return s.plan.Wedding.Date.Year
	case len(s.plan.Candidates) > 0:
		return slices.MinFunc(s.plan.Candidates, milestones.Date.Compare).Year
	}
	return s.today.Year + 1
}

// query is what is asked, as the query of an address.
func (a asked) query() string { return a.of(a.Year) }

// of is the same of another year.
func (a asked) of(year int) string {
	q := url.Values{"year": {strconv.Itoa(year)}}
	for _, t := range slices.Concat(a.Days, a.Months, a.Minds) {
		if t.On {
			q.Add(t.Name, t.Value)
		}
	}
	return "?" + q.Encode()
}

// Query, Earlier and Later lead to this year, the one before and the next.
func (a asked) Query() string   { return a.query() }
func (a asked) Earlier() string { return a.of(a.Before) }
func (a asked) Later() string   { return a.of(a.After) }

// days are those of the year that are asked for and not past.
func (a asked) days(today milestones.Date) (days []milestones.Date) {
	first, last := yearOf(a.Year)
	for day := first; !day.After(last); day = day.AddDays(1) {
		if a.has(day) && !day.Before(today) {
			days = append(days, day)
		}
	}
	return days
}

// has reports whether a day is on a day of the week and in a month that are
// asked for, of whatever year.
func (a asked) has(day milestones.Date) bool { return a.On[day.Weekday()] && a.In[day.Month-1] }

// columns are the days of the week that are shown: in the calendar's order, or,
// where they are not all, with the weekend together.
func (a asked) columns(begins int) (days []time.Weekday) {
	if a.On != [7]bool{true, true, true, true, true, true, true} {
		begins = int(time.Monday)
	}
	for n := range 7 {
		if day := time.Weekday((begins + n) % 7); a.On[day] {
			days = append(days, day)
		}
	}
	return days
}

// Of is the days of the week that are asked for, and the months, in words.
func (a asked) Of() string {
	var days, months []string
	for n := range 7 {
		if day := time.Weekday((n + 1) % 7); a.On[day] {
			days = append(days, day.String()+"s")
		}
	}
	for _, t := range a.Months {
		if t.On {
			months = append(months, t.Label)
		}
	}
	of := "every day"
	if len(days) < 7 {
		of = together(days)
	}
	if len(months) > 0 {
		of += " of " + together(months)
	}
	return of
}

// together is "a, b and c".
func together(all []string) string {
	if last := len(all) - 1; last > 0 {
		return strings.Join(all[:last], ", ") + " and " + all[last]
	}
	return all[0]
}

// Minded is the traditions whose days count, in words; empty: none.
func (a asked) Minded() string {
	var all []string
	for _, t := range a.avoid {
		all = append(all, t.Name())
	}
	return strings.Join(all, ", ")
}
