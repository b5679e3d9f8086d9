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

var milestoneTemplate = page("milestone.html", "step.html")

// milestonePage is one milestone of the countdown, or one to be added.
type milestonePage struct {
	pageFrame
	Step     target
	Earliest string
	Latest   string
	Source   string
	Note     string
	Added    bool // the plan's own
	Form     milestoneForm
}

func (d *Desk) countdownRoutes(r chi.Router) {
	r.Get("/countdown", d.answer(d.countdown))
	r.Post("/countdown", d.answer(d.planFrom))
	r.Get("/add/milestone", d.answer(func(w http.ResponseWriter, r *http.Request) error {
		return d.showMilestone(w, r, http.StatusOK, "", milestoneForm{form: addedForm(sightOf(r), noKey)})
	}))
	r.Post("/add/milestone", d.answer(d.addMilestone))
	r.Get("/countdown/{key}", d.answer(inCountdown(func(w http.ResponseWriter, r *http.Request, key string) error {
		return d.showMilestone(w, r, http.StatusOK, key, newMilestoneForm(sightOf(r), key))
	})))
	r.Post("/countdown/{key}", d.answer(d.saveMilestone))
	r.Post("/countdown/{key}/tick", d.answer(inCountdown(d.tickMilestone)))
	r.Post("/countdown/{key}/drop", d.answer(inCountdown(d.dropMilestone)))
	r.Post("/countdown/{key}/back", d.answer(func(w http.ResponseWriter, r *http.Request) error {
		return d.bringMilestone(w, r, chi.URLParam(r, "key"))
	}))
}

// inCountdown answers as if there were nothing where the visitor sees no milestone.
func inCountdown(do func(http.ResponseWriter, *http.Request, string) error) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		key := chi.URLParam(r, "key")
		if sightOf(r).milestone(key) == nil {
			return nothing(w, r)
		}
		return do(w, r, key)
	}
}

// milestone is the entry of the milestone of that key, or nil.
func (s *sight) milestone(key string) *feed.Entry {
	n := slices.IndexFunc(s.entries, func(e feed.Entry) bool { return e.ID == "countdown/"+key })
	if n < 0 {
		return nil
	}
	return &s.entries[n]
}

// own reports whether the plan itself added the milestone.
func (s *sight) own(key string) bool {
	return slices.ContainsFunc(s.plan.Countdown.Add, func(m milestones.Milestone) bool { return m.Key == key })
}

// milestoneForm asks for what the plan says of a milestone, and whether it is
// done.
type milestoneForm struct {
	form
	Done *step // nil for one to be added
}

// newMilestoneForm asks of a milestone that is the plan's own everything; of
// another, another day.
func newMilestoneForm(s *sight, key string) milestoneForm {
	f := milestoneForm{Done: s.doneStep(key)}
	if s.own(key) {
		f.form = addedForm(s, key)
		return f
	}
	f.form = newForm(s.doc, field{Path: "countdown/move/" + key, Label: "Another day, in words",
		Hint: "Such as 9 weeks before the wedding, or on 2027-07-17; leave it empty for the usual day"})
	return f
}

// doneStep is that a milestone was done, on a day that is today to begin with.
func (s *sight) doneStep(key string) *step {
	st := &step{Do: "done", Undo: "undo", Asks: "It was done", Label: "Done on", Press: "Done",
		On: s.today.String(), OnAt: stepAt("done", "on")}
	if e := s.milestone(key); e != nil && !e.Done.IsZero() {
		st.Was = "done on " + e.Done.Words()
	}
	return st
}

// taken is what the button that was pressed sets besides the fields; known
// reports whether there is such a button.
func (f *milestoneForm) taken(s *sight, key string, sent url.Values) (sets []store.Set, known bool) {
	done := store.Set{Path: s.donePath(key)}
	switch sent.Get("do") {
	case "", "save":
		return nil, true
	case "undo":
		return []store.Set{done}, true
	case "done":
		f.Done.On = strings.TrimSpace(sent.Get(string(f.Done.OnAt)))
		if day, err := milestones.ParseDate(f.Done.On); f.Done.On == "" {
			f.Done.Fault = "Write the day on which it was."
		} else if err != nil {
			f.Done.Fault = capital(err.Error()) + "."
		} else {
			done.Value = []string{day.String()}
		}
		return []store.Set{done}, true
	}
	return nil, false
}

// addedForm asks for a milestone of the plan's own.
func addedForm(s *sight, key string) form {
	at := "countdown/add/" + key + "/"
	after := s.doc.At(at + "after")
	return newForm(s.doc,
		field{Path: at + "what", Label: "What is to be done", Hint: "Such as: Fill the welcome bags"},
		field{Path: at + "when", Label: "By when, in words", Above: true, Hint: "Such as 3 days before the wedding, or on 2027-09-15"},
		field{Path: at + "takes", Label: "How long it takes", Hint: "Such as 1 day, or 2 weeks"},
		field{Path: at + "after", Label: "What has to be done before", Kind: manyKind, Folded: true, Options: s.steps(after, key)},
		field{Path: at + "for", Label: "Who does it", Kind: manyKind, Options: s.named(s.doc.At(at+"for"), false), Hint: "The couple and the planner see it anyway"},
		field{Path: at + "hide from", Label: "Hide it from", Kind: manyKind, Folded: true, Options: s.named(s.doc.At(at+"hide from"), true), Hint: "Whoever is ticked sees nothing of it anywhere"},
		field{Path: at + "note", Label: "A note", Kind: areaKind, Hint: "Everybody who does it reads it"},
	)
}

// steps are the milestones that another can wait for.
func (s *sight) steps(chosen []string, but string) []option {
	var all []option
	for n := range s.entries {
		key, ok := strings.CutPrefix(s.entries[n].ID, "countdown/")
		if ok && key != but {
			all = append(all, option{key, s.entries[n].Title})
		}
	}
	for _, key := range chosen {
		if !slices.ContainsFunc(all, func(o option) bool { return o.Value == key }) {
			all = append(all, option{key, key})
		}
	}
	return all
}

func (d *Desk) showMilestone(w http.ResponseWriter, r *http.Request, status int, key string, f milestoneForm) error {
	s := sightOf(r)
	p := milestonePage{pageFrame: newPageFrame(r, "Add to the countdown", "countdown"), Form: f}
	if key != "" {
		e := s.milestone(key)
		p.Title, p.Step, p.Added, p.Note = e.Title, s.target(p.At, e), s.own(key), e.Note
		if e.Aim != nil {
			p.Earliest, p.Latest, p.Source = e.Aim.Earliest.Words(), e.Aim.Latest.Words(), e.Aim.Source
		}
	}
	return web.Show(w, r, status, milestoneTemplate, p)
}

// saveMilestone answers POST of a milestone that is there, or was there until
// a moment ago.
func (d *Desk) saveMilestone(w http.ResponseWriter, r *http.Request) error {
	key := chi.URLParam(r, "key")
	one := thing{
		path:  "countdown/" + key,
		there: func(s *sight) bool { return s.milestone(key) != nil },
		typed: func(s *sight, sent url.Values) form { return newMilestoneForm(s, key).form.sentWith(sent) },
	}
	return d.orGone(w, r, one, func(w http.ResponseWriter, r *http.Request) error {
		s := sightOf(r)
		f := newMilestoneForm(s, key)
		more, known := f.taken(s, key, r.PostForm)
		switch {
		case !known:
			return nothing(w, r)
		case f.Done.Fault != "":
			f.sets(r.PostForm)
			f.Faults = append(f.Faults, fault{f.Done.OnAt.ID(), f.Done.Label + ": " + f.Done.Fault})
			return d.showMilestone(w, r, http.StatusUnprocessableEntity, key, f)
		}
		return d.save(w, r, &f.form, one.path, func(status int) error { return d.showMilestone(w, r, status, key, f) }, more...)
	})
}

// addMilestone answers POST of a milestone that is new.
func (d *Desk) addMilestone(w http.ResponseWriter, r *http.Request) error {
	const list = "countdown/add"
	return d.saveNew(w, r, list, "milestone", "countdown/", addedForm, func(status int, f form) error {
		return d.showMilestone(w, r, status, "", milestoneForm{form: f})
	})
}
