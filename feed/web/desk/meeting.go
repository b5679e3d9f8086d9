package desk

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var meetingTemplate = page("meeting.html")

// meetings are what a plan holds appointments or occasions under.
type meetings struct {
	List string // appointments, occasions
	One  string
	Kind milestones.Kind
	Like string // what it is called, for instance
	Help string // what it is
}

var (
	appointments = meetings{"appointments", "appointment", milestones.KindAppointment, "Menu tasting",
		"An appointment is kept by a few people: a tasting, a measuring, a talk. Whoever is asked has it in their calendar."}
	occasions = meetings{"occasions", "occasion", milestones.KindOccasion, "Rehearsal dinner",
		"An occasion is attended: the rehearsal, the ceremony, the dinner. Whoever is asked has it in their calendar."}
)

// meetingPage is one appointment or occasion, or one to be added.
type meetingPage struct {
	pageFrame
	meetings
	Key       string // empty for one to be added
	Says      string // its day, hours and place
	In        string
	Hidden    string // from whom it is
	Waits     string // why it has no day
	Questions []milestones.Question
	Meets     []string // what of the city's events it meets
	Day       string   // the way to what is known of its day
	Form      form
}

func (d *Desk) meetingRoutes(r chi.Router) {
	for _, m := range []meetings{appointments, occasions} {
		at := "/" + m.List + "/{key}"
		r.Get("/add/"+m.One, d.answer(func(w http.ResponseWriter, r *http.Request) error {
			return d.showMeeting(w, r, http.StatusOK, m, "", m.form(sightOf(r), noKey))
		}))
		r.Post("/add/"+m.One, d.answer(func(w http.ResponseWriter, r *http.Request) error { return d.addMeeting(w, r, m) }))
		r.Get(at, d.answer(m.known(func(w http.ResponseWriter, r *http.Request, key string) error {
			return d.showMeeting(w, r, http.StatusOK, m, key, m.form(sightOf(r), key))
		})))
		r.Post(at, d.answer(func(w http.ResponseWriter, r *http.Request) error { return d.saveMeeting(w, r, m) }))
		r.Post(at+"/remove", d.answer(m.known(func(w http.ResponseWriter, r *http.Request, key string) error {
			return d.removeMeeting(w, r, m, key)
		})))
	}
}

// known answers as if there were nothing where the visitor sees nothing.
func (m meetings) known(do func(http.ResponseWriter, *http.Request, string) error) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		key := chi.URLParam(r, "key")
		if m.find(sightOf(r).plan, key) == nil {
			return nothing(w, r)
		}
		return do(w, r, key)
	}
}

// find is the one of that key, or nil.
func (m meetings) find(p *milestones.Plan, key string) *milestones.Meeting {
	if m.Kind == milestones.KindOccasion {
		for i := range p.Occasions {
			if p.Occasions[i].Key == key {
				return &p.Occasions[i].Meeting
			}
		}
		return nil
	}
	for i := range p.Appointments {
		if p.Appointments[i].Key == key {
			return &p.Appointments[i].Meeting
		}
	}
	return nil
}

// form asks for what the plan holds of the one of that key.
func (m meetings) form(s *sight, key string) form {
	at := m.List + "/" + key + "/"
	asked, hidden := s.doc.At(at+"for"), s.doc.At(at+"hide from")
	fields := slices.Concat([]field{
		{Path: at + "what", Label: "What it is", Hint: "Everybody who is asked reads it. Such as: " + m.Like},
		{Path: at + "on", Label: "The day", Kind: dateKind, Hint: "Where it is a day of the calendar", Above: true},
		{Path: at + "when", Label: "Or the day in words", Hint: "Where it moves with something else: 1 day before the wedding, the Thursday before the wedding, 2 weeks after menu tasting", Above: true},
		{Path: at + "at", Label: "From", Kind: timeKind},
		{Path: at + "until", Label: "Until", Kind: timeKind},
	}, placeFields(at+"place", "Where", "In which town"), []field{
		{Path: at + "for", Label: "Who is asked", Kind: manyKind, Options: s.named(asked, false), Hint: "The couple and the planner see it anyway"},
		{Path: at + "hide from", Label: "Hide it from", Kind: manyKind, Folded: true, Options: s.named(hidden, true), Hint: "Whoever is ticked sees nothing of it anywhere, even if they are asked"},
		{Path: at + "note", Label: "A note", Kind: areaKind, Hint: "Everybody who is asked reads it"},
	})
	return newForm(s.doc, fields...)
}

func (d *Desk) showMeeting(w http.ResponseWriter, r *http.Request, status int, m meetings, key string, f form) error {
	s := sightOf(r)
	p := meetingPage{pageFrame: newPageFrame(r, "Add an "+m.One, "dates"), meetings: m, Key: key, Form: f}
	if key != "" {
		p.Title = m.find(s.plan, key).What
		meets, err := d.meets(r.Context(), s)
		if err != nil {
			return err
		}
		p.stands(s, m.List+"/"+key, meets)
	}
	return web.Show(w, r, status, meetingTemplate, p)
}

// stands says when and where it is, what else is on then, and what is asked
// about it.
func (p *meetingPage) stands(s *sight, id string, meets func(*feed.Entry) []string) {
	for _, q := range s.open() {
		if q.Path == id {
			p.Questions = append(p.Questions, q)
		}
	}
	n := slices.IndexFunc(s.entries, func(e feed.Entry) bool { return e.ID == id })
	if n < 0 {
		return
	}
	e := &s.entries[n]
	p.Hidden = s.hiddenFrom(e)
	if e.Date.IsZero() {
		p.Waits = e.WaitsFor
		return
	}
	says := []string{e.Date.Words()}
	for _, more := range []string{e.Hours(), e.Place.String()} {
		if more != "" {
			says = append(says, more)
		}
	}
	if !e.Date.Before(s.today) {
		p.Meets, p.Day = meets(e), p.At+"weigh/"+e.Date.String()
	}
	p.Says, p.In = strings.Join(says, ", "), until(e.Date, s.today)
}

// saveMeeting answers POST of one that is there, or was there until a moment
// ago.
func (d *Desk) saveMeeting(w http.ResponseWriter, r *http.Request, m meetings) error {
	key := chi.URLParam(r, "key")
	one := thing{
		path:  m.List + "/" + key,
		there: func(s *sight) bool { return m.find(s.plan, key) != nil },
		typed: func(s *sight, sent url.Values) form { return m.form(s, key).sentWith(sent) },
	}
	return d.orGone(w, r, one, func(w http.ResponseWriter, r *http.Request) error {
		f := m.form(sightOf(r), key)
		return d.save(w, r, &f, one.path, func(status int) error { return d.showMeeting(w, r, status, m, key, f) })
	})
}

// addMeeting answers POST of one that is new.
func (d *Desk) addMeeting(w http.ResponseWriter, r *http.Request, m meetings) error {
	return d.saveNew(w, r, m.List, m.One, m.List+"/", m.form, func(status int, f form) error {
		return d.showMeeting(w, r, status, m, "", f)
	})
}

// removeMeeting answers POST of one that is taken out of the plan.
func (d *Desk) removeMeeting(w http.ResponseWriter, r *http.Request, m meetings, key string) error {
	f := form{}
	return d.save(w, r, &f, "dates", func(status int) error {
		whole := m.form(sightOf(r), key)
		whole.Faults, whole.Seen = f.Faults, f.Seen
		return d.showMeeting(w, r, status, m, key, whole)
	}, store.Set{Path: m.List + "/" + key})
}
