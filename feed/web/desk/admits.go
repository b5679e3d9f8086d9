package desk

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"sync"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var admitsTemplate = page("admits.html", "handing.html")

// admitsPage is who can sign in to a wedding. Planners alone see it.
type admitsPage struct {
	pageFrame
	Given    *given // a link that was made a moment ago
	Handing  handing
	Insiders []insiderRow
	Open     []openRow
	Form     form // who can be let in
}

type insiderRow struct {
	ID    int64
	Name  string
	Sees  string
	You   bool
	Owner bool
}

// openRow is a one-time link that nobody has used yet.
type openRow struct{ ID, For, Until string }

// given is a one-time link on its way to whoever asked for it. It is shown
// once, and kept nowhere: the store has its hash alone.
type given struct {
	wedding string
	person  string // the key of whom it lets in as who they are; empty for a planner
	For     string
	Link    string
}

// hand keeps links for those who asked for them, by their session, until they
// are shown.
type hand struct {
	mu   sync.Mutex
	held map[int64]given
}

func (h *hand) put(session int64, g given) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.held == nil {
		h.held = map[int64]given{}
	}
	h.held[session] = g
}

// take is the link that was kept for a session, once.
func (h *hand) take(session int64, wedding string) *given {
	h.mu.Lock()
	defer h.mu.Unlock()
	g, ok := h.held[session]
	if !ok || g.wedding != wedding {
		return nil
	}
	delete(h.held, session)
	return &g
}

// planners lets nobody pass from whom something may be hidden.
func (d *Desk) planners(next http.Handler) http.Handler {
	return d.answer(func(w http.ResponseWriter, r *http.Request) error {
		if !sightOf(r).planner() {
			return nothing(w, r)
		}
		next.ServeHTTP(w, r)
		return nil
	})
}

// admits answers GET of who can sign in.
func (d *Desk) admits(w http.ResponseWriter, r *http.Request) error {
	return d.showAdmits(w, r, http.StatusOK, sightOf(r).inviteForm())
}

func (d *Desk) showAdmits(w http.ResponseWriter, r *http.Request, status int, f form) error {
	s, v := sightOf(r), visitorOf(r)
	insiders, err1 := d.Store.Insiders(r.Context(), s.ID)
	open, err2 := d.Store.OpenInvitations(r.Context(), s.ID, d.Now())
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	p := admitsPage{pageFrame: newPageFrame(r, "Who can sign in here", "people"), Given: d.hand.take(v.session, s.ID), Form: f}
	p.Scripts = append(p.Scripts, "copy.js")
	for _, one := range insiders {
		row := insiderRow{ID: one.ID, Name: one.Name, Sees: "Plans this wedding, and sees all of it.", You: one.ID == v.ID, Owner: one.Owner}
		switch who := s.byID(one.Person); {
		case one.Owner:
			row.Sees = "Owns all that is kept here, and plans every wedding of it."
		case who != nil && runsIt(who.Part):
			row.Sees = "Signs in as " + who.Name + ". What is hidden from " + who.Name + " stays hidden."
		case one.Person != "":
			row.Sees = "Sees nothing now: whoever they were is no longer of the couple, or not in the plan."
		}
		p.Insiders = append(p.Insiders, row)
	}
	for _, one := range open {
		row := openRow{one.ID, "a planner", one.Until.In(s.plan.Wedding.Location()).Format("Mon 2 Jan 2006, 15:04")}
		if one.Person != "" {
			row.For = one.Person
		}
		if who := s.byID(one.Person); who != nil {
			row.For = who.Name
		}
		p.Open = append(p.Open, row)
	}
	if p.Given != nil {
		if p.Handing, err1 = d.handed(r, p.Given); err1 != nil {
			return err1
		}
	}
	return web.Show(w, r, status, admitsTemplate, p)
}

// handed is how a one-time link gets to whoever it is for.
func (d *Desk) handed(r *http.Request, g *given) (handing, error) {
	s := sightOf(r)
	base, err := web.Base(r, d.Public, d.Store)
	if err != nil {
		return handing{}, err
	}
	says := fmt.Sprintf("Here is your way in to plan %s: %s\nOpen it within a week, and choose what you sign in with. It lets one person in, once, so please do not pass it on.", called(s.plan.Wedding), g.Link)
	h, err := newHanding(base, g.Link, says, "open the page, and choose there what to sign in with")
	if who, ok := s.somebody(g.person); ok {
		h = h.to(who, "Your way in to plan "+s.plan.Wedding.Title)
	}
	return h, err
}

// byID is the person with that lasting id, or nil.
func (s *sight) byID(id string) *milestones.Person {
	for n := range s.plan.People {
		if s.plan.People[n].ID() == id {
			return &s.plan.People[n]
		}
	}
	return nil
}

// whom are those who can be let in: a planner of the whole wedding, or
// somebody of it as who they are.
func (s *sight) whom() []option {
	all := []option{{"", "Choose one"}}
	for _, who := range s.plan.People {
		if runsIt(who.Part) {
			all = append(all, option{"as:" + who.Key, who.Name + ", who does not see what is hidden from them"})
		}
	}
	return append(all, option{"planner", "A planner of this wedding, who sees all of it"})
}

// inviteForm asks whom a link lets in.
func (s *sight) inviteForm() form {
	return form{Lead: "No link was made.", Fields: []field{{Path: "whom", Label: "Who comes in", Kind: choiceKind, Options: s.whom(), Must: true}}}
}

// invite answers POST of a one-time link.
func (d *Desk) invite(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	in, name := store.Invitation{Wedding: s.ID}, "a planner of this wedding"
	switch whom := r.PostForm.Get("whom"); {
	case whom == "planner":
	case len(whom) > 3 && whom[:3] == "as:":
		who, ok := s.somebody(whom[3:])
		if !ok || !runsIt(who.Part) {
			return nothing(w, r)
		}
		in.Person, name = who.Key, who.Name
	default:
		f := s.inviteForm()
		f.fault("whom", "nobody was chosen", "choose whom the link lets in")
		return d.showAdmits(w, r, http.StatusUnprocessableEntity, f)
	}
	secret, err := d.Store.Invite(r.Context(), in, d.Now())
	if err != nil {
		return err
	}
	base, err := web.Base(r, d.Public, d.Store)
	if err != nil {
		return err
	}
	d.hand.put(visitorOf(r).session, given{s.ID, in.Person, name, base + "/desk/in/" + secret})
	return goTo(w, r, s.at("admits"))
}

// uninvite answers POST of the end of a one-time link that nobody has used.
func (d *Desk) uninvite(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	if err := d.Store.Uninvite(r.Context(), s.ID, r.PostForm.Get("link")); err != nil {
		return err
	}
	return goTo(w, r, s.at("admits"))
}

// insider is the name of the account that r names, where it can be dismissed:
// it signs in to this wedding, is no owner, and not the visitor's own.
func (d *Desk) insider(r *http.Request) (id int64, name string, err error) {
	id, err = strconv.ParseInt(chi.URLParam(r, "account"), 10, 64)
	if err != nil {
		return 0, "", store.ErrUnknown
	}
	all, err := d.Store.Insiders(r.Context(), sightOf(r).ID)
	for _, one := range all {
		if one.ID == id && !one.Owner && id != visitorOf(r).ID {
			return id, one.Name, nil
		}
	}
	return 0, "", errors.Join(err, store.ErrUnknown)
}

// sureDismiss answers GET of the end of somebody's signing in.
func (d *Desk) sureDismiss(w http.ResponseWriter, r *http.Request) error {
	_, name, err := d.insider(r)
	if err != nil {
		return err
	}
	return web.Show(w, r, http.StatusOK, sureTemplate, surePage{pageFrame: newPageFrame(r, "Let "+name+" in no more", "people"),
		Says: []string{name + " no longer sees this wedding at the desk, from the next page on. Nothing that they wrote is changed.",
			"Their own page, with their dates, stays as it is, and so do other weddings that they see here."},
		Do: "Let " + name + " in no more", Back: "admits"})
}

// dismiss answers POST of the end of somebody's signing in.
func (d *Desk) dismiss(w http.ResponseWriter, r *http.Request) error {
	id, _, err := d.insider(r)
	if err != nil {
		return err
	}
	s := sightOf(r)
	if err := d.Store.Dismiss(r.Context(), s.ID, id); err != nil {
		return err
	}
	return goTo(w, r, s.at("admits"))
}
