package desk

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

// agreementRoutes are the URLs of the agreements of one wedding.
func (d *Desk) agreementRoutes(r chi.Router) {
	r.Get("/", d.answer(d.agreements))
	r.Get("/{agreement}", d.answer(d.agreement))
	r.Post("/{agreement}", d.answer(d.agreementOrGone(d.changeAgreement)))
	r.Post("/{agreement}/read", d.answer(d.agreementOrGone(d.readAgreement)))
	r.Get("/{agreement}/copies", d.answer(d.copies))
	r.Post("/{agreement}/copies", d.answer(d.addCopy))
	r.Get("/{agreement}/copies/{copy}", d.answer(d.copy))
	r.Post("/{agreement}/copies/{copy}", d.answer(d.dropCopy))
}

// agreementAsked is the agreement that a request is about, as the visitor sees
// it: an empty one where it is new.
func agreementAsked(r *http.Request) (*milestones.Agreement, bool) {
	key := chi.URLParam(r, "agreement")
	if key == "" {
		return &milestones.Agreement{}, true
	}
	return sightOf(r).plan.Agreement(key)
}

// agreementOrGone is for an agreement that is there, or was there until a
// moment ago.
func (d *Desk) agreementOrGone(do handler) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		key := chi.URLParam(r, "agreement")
		return d.orGone(w, r, thing{
			path:  "agreements/" + key,
			there: func(s *sight) bool { _, ok := s.plan.Agreement(key); return ok },
			typed: func(s *sight, sent url.Values) form {
				now, _ := s.plan.Agreement(key)
				return newAgreementForm(s, now, sent).form
			},
		}, do)
	}
}

// agreement answers GET of an agreement, or of the page on which one is
// written down.
func (d *Desk) agreement(w http.ResponseWriter, r *http.Request) error {
	now, ok := agreementAsked(r)
	if !ok {
		return nothing(w, r)
	}
	f := newAgreementForm(sightOf(r), now, nil)
	t := trial{}
	if now.Key != "" {
		t = f.s.stored(now.Key)
	} else if service := r.URL.Query().Get("service"); service != "" {
		f.sent = url.Values{f.base + "/service": {service}}
		f = newAgreementForm(f.s, now, f.sent)
	}
	return d.showAgreement(w, r, http.StatusOK, f, t)
}

// sentForm is the form of an agreement as it was sent.
func sentForm(r *http.Request, now *milestones.Agreement) (*agreementForm, error) {
	if err := r.ParseForm(); err != nil {
		return nil, err
	}
	if !r.PostForm.Has("seen") {
		return nil, errors.New("this is not the form of an agreement")
	}
	return newAgreementForm(sightOf(r), now, r.PostForm), nil
}

// readAgreement answers POST of what is being typed, with what it gives.
// Nothing is saved.
func (d *Desk) readAgreement(w http.ResponseWriter, r *http.Request) error {
	now, ok := agreementAsked(r)
	if !ok {
		return nothing(w, r)
	}
	f, err := sentForm(r, now)
	if err != nil {
		return badForm(w, r, err)
	}
	return web.ShowPart(w, r, http.StatusOK, agreementTemplate, "readings", f.part(f.tried()))
}

// tried is a trial of what was sent. What a new agreement still lacks is no
// fault while it is being written.
func (f *agreementForm) tried() trial {
	said := f.Faults
	sets := f.inPlan(f.sets())
	f.Faults = said // those of the form itself stand beside their fields
	with := "agreements/" + f.key() + "/with"
	sets = slices.DeleteFunc(sets, func(set store.Set) bool { return set.Path == with && len(set.Value) == 0 })
	if f.now.Key == "" && strings.TrimSpace(f.field("with").Value) == "" {
		sets = append(sets, store.Set{Path: with, Value: []string{"the vendor"}})
	}
	t := f.s.try(f.key(), sets)
	if price := f.field("price"); price.Fault != "" {
		t.faults["agreements/"+f.key()+"/price"] = store.Fault{Fault: milestones.Fault{Says: price.Fault, Mend: price.Mend}}
	}
	return t
}

// changeAgreement answers POST of an agreement: it is kept, or a step of it is
// taken with all that was typed beside, or it is shown what would follow.
func (d *Desk) changeAgreement(w http.ResponseWriter, r *http.Request) error {
	now, ok := agreementAsked(r)
	if !ok {
		return nothing(w, r)
	}
	f, err := sentForm(r, now)
	if err != nil {
		return badForm(w, r, err)
	}
	do := f.sent.Get("do")
	if do == "read" {
		return d.showAgreement(w, r, http.StatusOK, f, f.tried())
	}
	if now.Key == "" {
		f.keptOnce()
	}
	again := func() error { return d.showAgreement(w, r, http.StatusUnprocessableEntity, f, f.tried()) }
	sets := f.sets()
	if do != "" && do != "save" {
		more, known := f.stepSets()
		switch {
		case !known:
			if known, err = d.stepOfGoneLine(r, f); err != nil {
				return err
			} else if !known {
				return nothing(w, r)
			}
			return again()
		case len(more) == 0:
			f.Faults = append(f.Faults, fault{Says: "the day is missing: write on which day it was"})
		}
		if more, err = d.billed(r, f, more); err != nil {
			return err
		}
		sets = append(sets, more...)
	}
	f.stillToCome()
	if f.bringsBack(f.s, f.sent); len(f.Faults) > 0 {
		return again()
	}
	return d.keepAgreement(w, r, f, sets, again)
}

func (d *Desk) keepAgreement(w http.ResponseWriter, r *http.Request, f *agreementForm, sets []store.Set, again func() error) error {
	done, err := d.Store.Update(r.Context(), store.Edit{Wedding: f.s.ID, Seen: f.Seen, Sets: f.inPlan(sets), Back: f.s.back(), By: visitorOf(r).Name, As: f.s.key}, d.Now())
	if err := d.catchUpAgreement(r, f, err); err != nil {
		return err
	}
	if f.refusedHere(err) {
		return again()
	} else if err != nil {
		return err
	}
	to := f.s.at("agreements/" + f.key())
	after, err := d.look(r.Context(), store.Admits{Wedding: done.Wedding, Person: f.s.Person})
	if err != nil {
		return err
	}
	if _, seen := after.plan.Agreement(f.key()); !seen { // it was taken away, or hidden from whoever did it
		to = f.s.at("agreements/")
	}
	to += fmt.Sprintf("?kept=%d", done.Version)
	if _, line, ok := strings.Cut(f.sent.Get("do"), " "); ok && !strings.HasPrefix(f.sent.Get("do"), "away") {
		to += "#" + rowID(line)
	}
	return goTo(w, r, to)
}

// catchUpAgreement is catchUp for a form whose fields are not all places of
// the plan.
func (d *Desk) catchUpAgreement(r *http.Request, f *agreementForm, err error) error {
	var overlaps store.Overlaps
	if !errors.As(err, &overlaps) {
		return nil
	}
	then := *f.s
	if then.doc, err = d.Store.LoadVersion(r.Context(), f.s.ID, f.Seen); err != nil {
		return err
	}
	then.plan = then.doc.Plan
	if then.key != "" {
		then.plan = feed.Seen(then.plan, then.key)
	}
	was, ok := then.plan.Agreement(f.now.Key)
	if !ok {
		return nil
	}
	before, now := newAgreementForm(&then, was, nil), newAgreementForm(f.s, f.now, nil)
	for _, one := range before.Fields {
		if now.has(one.Path) && f.sent.Has(one.Path) && strings.ReplaceAll(f.sent.Get(one.Path), "\r\n", "\n") == one.Value {
			f.sent.Set(one.Path, now.field(strings.TrimPrefix(one.Path, f.base+"/")).Value)
		}
	}
	*f = *newAgreementForm(f.s, f.now, f.sent)
	return nil
}

// refusedHere puts into the form what the store had against it, and reports
// whether it was that. A line that somebody took away meanwhile becomes a new
// one, so that what was typed can be kept.
func (f *agreementForm) refusedHere(err error) bool {
	var faults store.Faults
	var overlaps store.Overlaps
	switch {
	case errors.As(err, &faults):
		for _, one := range faults {
			one = f.s.discreet(one)
			f.placed(one)
		}
		return true
	case errors.As(err, &overlaps):
		for n := range overlaps {
			overlaps[n].Path = f.formPath(overlaps[n].Path)
		}
		rest := f.renew(overlaps)
		if len(rest) < len(overlaps) {
			f.Faults = append(f.Faults, fault{Says: "somebody has taken a line away that you changed; it stands here as a new line, and saving keeps it"})
		}
		f.Seen = f.s.newest()
		return len(rest) == 0 || f.refused(f.s, rest)
	}
	return false
}

// placed puts a fault beside the field that it is about, or above the form.
func (f *agreementForm) placed(one store.Fault) {
	path := f.formPath(one.Path)
	line := lineOf(path)
	switch {
	case f.inStep(path, one):
		return
	case f.has(path):
	case f.has(path + "/says"):
		path += "/says"
	case f.has(line + "/says"): // the day it was done, and the like
		path = line + "/says"
	}
	if says, ok := strings.CutSuffix(path, "/says"); ok && f.has(path) {
		one = plainly(one, strings.TrimSpace(f.field(strings.TrimPrefix(says, f.base+"/")+"/says").Value))
	}
	if f.has(path) {
		one = unkeyed(one)
		f.fault(path, one.Says, one.Mend)
		return
	}
	where := f.s.elsewhere(one)
	if within(path, f.base) {
		where = "" // it is this page's own
	}
	says := where + one.Says
	if one.Mend != "" {
		says += "; " + one.Mend
	}
	f.Faults = append(f.Faults, fault{Says: says})
}

func (f *agreementForm) has(path string) bool {
	return slices.ContainsFunc(f.Fields, func(one field) bool { return one.Path == path })
}

// renew has lines go that are in the plan no more. Those that overlaps are
// about come back as new lines; the overlaps of others are left.
func (f *agreementForm) renew(overlaps store.Overlaps) (rest store.Overlaps) {
	gone := false
	rest = slices.Clone(overlaps)
	for _, list := range termLists {
		for _, key := range f.lines[list] {
			if _, there := f.lineOf(list, key); there || strings.HasPrefix(key, "+") {
				continue
			}
			under := f.base + "/" + string(list) + "/" + key
			others := slices.DeleteFunc(slices.Clone(rest), func(o store.Overlap) bool { return within(o.Path, under) })
			to := ""
			if len(others) < len(rest) {
				to = f.base + "/" + string(list) + "/" + f.unused(list)
			}
			f.move(under, to)
			rest, gone = others, true
		}
	}
	if gone {
		*f = *newAgreementForm(f.s, f.now, f.sent)
	}
	return rest
}

// unused is the key of a new line in which nothing was written.
func (f *agreementForm) unused(list milestones.List) string {
	for n := 1; ; n++ {
		if key := fmt.Sprintf("+%d", n); f.blank(list, key) {
			return key
		}
	}
}

// move puts what was sent of a line elsewhere, or nowhere.
func (f *agreementForm) move(from, to string) {
	for name, values := range maps.Clone(f.sent) {
		if rest, ok := strings.CutPrefix(name, from+"/"); ok {
			delete(f.sent, name)
			if to != "" {
				f.sent[to+"/"+rest] = values
			}
		}
	}
}

// key is the agreement's key in the plan; of a new one, the one it would get.
func (f *agreementForm) key() string {
	if f.now.Key != "" {
		return f.now.Key
	}
	if f.own == "" {
		f.own = f.s.newKey("agreements", f.called(), "agreement")
	}
	return f.own
}

// called is what the key of a new agreement is made of.
func (f *agreementForm) called() string {
	return cmp.Or(strings.TrimSpace(f.sent.Get(f.base+"/service")), f.sent.Get(f.base+"/with"))
}

// keptOnce puts a fault into the form of a new agreement that was sent before:
// sent once more, it is another.
func (f *agreementForm) keptOnce() {
	if key, twice := f.s.sentBefore(f.sent, "agreements", f.called(), "agreement"); twice {
		a, _ := f.s.plan.Agreement(key)
		f.Faults = append(f.Faults, fault{Says: "this page was sent before, and the agreement with " + a.With + " was kept; save once more to keep another beside it"})
		f.Seen = f.s.plan.Version
	}
}

// inPlan are sets as the plan has their places, and formPath is the way back.
func (f *agreementForm) inPlan(sets []store.Set) []store.Set {
	sets = slices.Clone(sets)
	for n := range sets {
		sets[n].Path = f.planPath(sets[n].Path)
	}
	return sets
}

func (f *agreementForm) formPath(path string) string {
	if rest, ok := strings.CutPrefix(path, "agreements/"+f.key()); ok {
		return f.base + rest
	}
	return path
}

// keyForm is what a key in a plan looks like.
var keyForm = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,63}$`)
