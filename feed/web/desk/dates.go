package desk

import (
	"net/http"
	"net/url"
	"slices"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
)

var datesTemplate = page("dates.html", "month.html", "away.html")

// datesPage is every date of a wedding: a month of them, and all in order.
type datesPage struct {
	pageFrame
	Filter  filter
	Month   monthPage
	Count   string
	Dates   web.Dates
	Undated []undated
	Away    []awayRow
	Leave   form // to say that somebody is away
	Closed  bool // nothing is in the plan that has a date, or will
	Nobody  bool // is in the plan
}

// undated is an entry that has no day yet.
type undated struct {
	What, Waits string
	Door        *web.Door
}

// dates answers GET of a wedding's dates.
func (d *Desk) dates(w http.ResponseWriter, r *http.Request) error {
	return d.showDates(w, r, http.StatusOK, leaveForm(sightOf(r)))
}

func (d *Desk) showDates(w http.ResponseWriter, r *http.Request, status int, leave form) error {
	s := sightOf(r)
	p := datesPage{pageFrame: newPageFrame(r, "Dates", "dates"), Filter: s.filter(r.URL.Query()), Leave: leave, Away: s.away()}
	entries := p.Filter.entries
	p.Month = s.month(r.URL.Query().Get("month"), p.Filter, p.At)
	book := s.book(p.At)
	var err error
	if book.Meets, err = d.meets(r.Context(), s); err != nil {
		return err
	}
	p.Dates = web.SortDates(published(entries), book)
	p.Count = p.Dates.Count()
	for n := range entries {
		if e := &entries[n]; e.StateOn(s.today) == milestones.Undated {
			p.Undated = append(p.Undated, undated{e.What(), e.WaitsFor, s.door(p.At, e)})
		}
	}
	p.Closed = !p.Filter.Any() && !slices.ContainsFunc(entries, func(e feed.Entry) bool { return e.Kind != milestones.KindWedding || !e.Date.IsZero() })
	p.Nobody = len(s.plan.People) == 0
	return web.Show(w, r, status, datesTemplate, p)
}

// filter is which of the entries are shown.
type filter struct {
	Chosen  [3]string // in the order of Choices
	Choices [3]choice
	entries []feed.Entry
}

// choice is one thing to filter by.
type choice struct {
	Name, Label string
	Options     []counted
}

type counted struct {
	Value, Label string
	Count        int
	On           bool
}

// kindWords are the kinds of items as people look for them.
var kindWords = map[milestones.Kind]string{
	milestones.KindPayment:     "Payments",
	milestones.KindRefund:      "Money that comes back",
	milestones.KindCancelBy:    "Last days to leave",
	milestones.KindChangeBy:    "Choices and numbers",
	milestones.KindPaper:       "Papers",
	milestones.KindAppointment: "Appointments",
	milestones.KindOccasion:    "Occasions",
	milestones.KindMilestone:   "The countdown",
	milestones.KindWedding:     "The wedding itself",
}

// filter is what a page is asked to show. Each option counts what choosing it
// would show beside the other two choices.
func (s *sight) filter(asked url.Values) filter {
	f := filter{Choices: [3]choice{
		{Name: "person", Label: "Whose", Options: s.personChoices()},
		{Name: "kind", Label: "What", Options: kindChoices()},
		{Name: "agreement", Label: "Of which agreement", Options: s.agreementChoices()},
	}}
	for n, c := range f.Choices {
		value := asked.Get(c.Name)
		if slices.ContainsFunc(c.Options, func(o counted) bool { return o.Value == value }) {
			f.Chosen[n] = value
		}
	}
	entries := s.live()
	tags := s.tags(entries)
	for n := range f.Choices {
		f.count(n, tags)
	}
	for _, n := range matching(tags, f.Chosen) {
		f.entries = append(f.entries, entries[n])
	}
	return f
}

// count counts the options of one choice, and leaves out what would show
// nothing.
func (f *filter) count(n int, tags [][3][]string) {
	all := append([]counted{{Label: "All"}}, f.Choices[n].Options...)
	with := f.Chosen
	for k := range all {
		one := &all[k]
		with[n] = one.Value
		one.Count, one.On = len(matching(tags, with)), one.Value == f.Chosen[n]
	}
	f.Choices[n].Options = slices.DeleteFunc(all, func(o counted) bool { return o.Value != "" && o.Count == 0 && !o.On })
}

// Any reports whether anything is left out.
func (f filter) Any() bool { return f.Chosen != [3]string{} }

func (s *sight) personChoices() []counted {
	var all []counted
	for _, who := range s.plan.People {
		all = append(all, counted{Value: who.Key, Label: who.Name})
	}
	return all
}

func (s *sight) agreementChoices() []counted {
	var all []counted
	for i := range s.plan.Agreements {
		all = append(all, counted{Value: s.plan.Agreements[i].Key, Label: s.plan.Agreements[i].With})
	}
	return all
}

func kindChoices() []counted {
	var all []counted
	for _, kind := range milestones.Kinds {
		all = append(all, counted{Value: string(kind), Label: kindWords[kind]})
	}
	return all
}

// tags are what each entry is found by, in the order of a filter's choices.
func (s *sight) tags(entries []feed.Entry) [][3][]string {
	all := make([][3][]string, len(entries))
	for n := range entries {
		e := &entries[n]
		all[n] = [3][]string{feed.Audience(s.doc.Plan, s.item(e.ID)), {string(e.Kind)}, {e.Agreement}}
	}
	return all
}

// matching are the places of the entries that have all that is chosen.
func matching(tags [][3][]string, chosen [3]string) []int {
	var all []int
	for n, tag := range tags {
		fits := true
		for k, value := range chosen {
			fits = fits && (value == "" || slices.Contains(tag[k], value))
		}
		if fits {
			all = append(all, n)
		}
	}
	return all
}
