package desk

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var goneTemplate = page("gone.html")

// thing is something of the plan that a form was made of.
type thing struct {
	path     string // empty: it is a part of something else, and cannot come back by itself
	there    func(*sight) bool
	mayBring func(s, with *sight) bool // nil: whoever saw it
	typed    func(*sight, url.Values) form
}

// gone is something that was taken out of the plan after the visitor's form
// was made of it.
type gone struct {
	since int // the version in which the visitor saw it
	seen  int // sent with this version, what somebody else made of it last is known
	back  store.Back
}

// handler answers one request.
type handler = func(http.ResponseWriter, *http.Request) error

// sinceMost is how many versions a form may be behind to be told of what was
// taken out.
const sinceMost = 100

// orGone has a form saved where the thing is there. Where somebody took it out
// after the visitor saw it, the form is made of the plan with it, and saving
// brings it back; where that cannot be, what was typed is shown, to be copied.
// Where it was hidden from the visitor since, it answers as ever.
func (d *Desk) orGone(w http.ResponseWriter, r *http.Request, one thing, do handler) error {
	s := sightOf(r)
	if one.there(s) {
		return do(w, r)
	}
	since, then, err := d.lastSeen(r, one.there)
	if err != nil {
		return err
	} else if then == nil {
		return nothing(w, r)
	}
	with, err := d.broughtBack(s, then, one)
	if err != nil {
		return err
	} else if with == nil {
		return d.showTyped(w, r, one.typed(then, r.PostForm))
	}
	with.gone.since = since
	return do(w, seeing(r, with))
}

// lastSeen is the last version in which something was there that is in the
// plan no more, and since when the visitor knows of it; nil where they did not
// see it then, or it was hidden from them at any time since.
func (d *Desk) lastSeen(r *http.Request, there func(*sight) bool) (since int, then *sight, err error) {
	s := sightOf(r)
	for _, name := range []string{"back", "seen"} {
		if since, err = strconv.Atoi(r.PostForm.Get(name)); err == nil {
			break
		}
	}
	if err != nil || since < 1 || since > s.plan.Version || s.plan.Version-since > sinceMost {
		return 0, nil, nil
	}
	versions, err := d.Store.LoadVersions(r.Context(), s.ID, since, s.plan.Version)
	if err != nil {
		return 0, nil, err
	}
	for n := s.plan.Version; n >= since; n-- {
		if versions[n] == nil {
			return 0, nil, nil
		}
		whole, seen, err := d.sights(s.Admits, versions[n])
		if err != nil {
			return 0, nil, err
		}
		switch {
		case there(whole) && (seen == nil || !there(seen)), n == since && !there(whole):
			return 0, nil, nil
		case then == nil && there(whole):
			then = seen
		}
	}
	return since, then, nil
}

// sights are a version as who sees all of it sees it, and as somebody does,
// who is nil where they were not admitted by it.
func (d *Desk) sights(a store.Admits, doc *store.Document) (whole, seen *sight, err error) {
	dated := newDated(doc)
	if whole, err = dated.seenBy(store.Admits{Wedding: a.Wedding}, d.Now()); err != nil {
		return nil, nil, err
	}
	if seen, err = dated.seenBy(a, d.Now()); errors.Is(err, store.ErrUnknown) {
		return whole, nil, nil
	}
	return whole, seen, err
}

// broughtBack is the plan with a thing as it was then; nil where it cannot be,
// or that is not for the visitor to do.
func (d *Desk) broughtBack(s, then *sight, one thing) (*sight, error) {
	if one.path == "" {
		return nil, nil
	}
	doc, err := s.doc.WithBack(then.doc, one.path)
	var faults store.Faults
	if errors.Is(err, store.ErrUnknown) || errors.As(err, &faults) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	with, err := newDated(doc).seenBy(s.Admits, d.Now())
	switch {
	case errors.Is(err, store.ErrUnknown):
		return nil, nil
	case err != nil:
		return nil, err
	case !one.there(with) || one.mayBring != nil && !one.mayBring(s, with):
		return nil, nil
	}
	with.gone = &gone{seen: then.plan.Version, back: store.Back{Path: one.path, Version: then.doc.Plan.Version}}
	if key, ok := strings.CutPrefix(one.path, "countdown/"); ok && slices.Contains(s.doc.Plan.Countdown.Drop, key) {
		with.gone.seen = s.doc.Plan.Version // only left out, it stands there
	}
	return with, nil
}

// back is what an edit of what the visitor sees brings back.
func (s *sight) back() store.Back {
	if s.gone == nil {
		return store.Back{}
	}
	return s.gone.back
}

// newest is the version by which a form knows all that others made of it.
func (s *sight) newest() int {
	if s.gone == nil {
		return s.plan.Version
	}
	return s.gone.seen
}

// bringsBack has a form carry along that saving it brings something back, and
// says so once before it does.
func (f *form) bringsBack(s *sight, sent url.Values) {
	if s.gone == nil {
		return
	}
	f.Back = s.gone.since
	if !sent.Has("back") {
		f.Faults = append(f.Faults, fault{Says: "somebody has taken this out of the plan meanwhile; saving brings it back, as it stands here"})
	}
}

// sentWith is a form with what was sent.
func (f form) sentWith(sent url.Values) form {
	f.sets(sent)
	return f
}

// gonePage is what was typed about something that cannot come back.
type gonePage struct {
	pageFrame
	Fields []field
}

func (d *Desk) showTyped(w http.ResponseWriter, r *http.Request, f form) error {
	p := gonePage{pageFrame: newPageFrame(r, "Somebody has taken this out of the plan", "")}
	for _, one := range f.Fields {
		if one.Value != "" && one.Kind != hiddenKind {
			p.Fields = append(p.Fields, one)
		}
	}
	return web.Show(w, r, http.StatusGone, goneTemplate, p)
}

// Said is what stands in a field, in the words of its options.
func (f field) Said() string {
	if f.Kind != choiceKind && f.Kind != manyKind {
		return f.Value
	}
	said := strings.Split(f.Value, ", ")
	for n, value := range said {
		for _, o := range f.Options {
			if o.Value == value {
				said[n] = o.Label
			}
		}
	}
	return strings.Join(said, ", ")
}

// stepOfGoneLine has a line become a new one that somebody took away after the
// visitor saw it, where a step of it was sent; and with it all lines that are
// gone and were changed. It reports whether it was that.
func (d *Desk) stepOfGoneLine(r *http.Request, f *agreementForm) (bool, error) {
	_, at, _ := strings.Cut(f.sent.Get("do"), " ")
	since, then, err := d.lastSeen(r, func(s *sight) bool { return s.hasLine(f.now.Key, at) })
	if err != nil || then == nil {
		return false, err
	}
	seen, err := d.Store.LoadVersion(r.Context(), f.s.ID, since)
	if err != nil {
		return false, err
	}
	f.renew(f.changedIn(seen, f.base+"/"+at))
	f.Faults = append(f.Faults, fault{Says: "somebody has taken the line away that this is about; it stands here as a new line, and saving keeps it. Then say it once more"})
	f.Seen = f.s.newest()
	return true, nil
}

// hasLine reports whether an agreement has a line, such as pay/pay-1.
func (s *sight) hasLine(agreement, at string) bool {
	a, ok := s.plan.Agreement(agreement)
	return ok && slices.ContainsFunc(termLists, func(list milestones.List) bool {
		return slices.ContainsFunc(linesOf(a, list), func(l *milestones.Line) bool { return string(list)+"/"+l.Key == at })
	})
}

// changedIn are the fields whose line is one, or that say something else than
// a version did.
func (f *agreementForm) changedIn(seen *store.Document, line string) (all store.Overlaps) {
	for _, one := range f.Fields {
		if f.sent.Has(one.Path) && (within(one.Path, line) || one.Value != strings.Join(seen.At(one.Path), ", ")) {
			all = append(all, store.Overlap{Path: one.Path})
		}
	}
	return all
}
