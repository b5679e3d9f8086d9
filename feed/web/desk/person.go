package desk

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var personTemplate = page("person.html", "reach.html")

// personPage is one person: who they are, and what there is to do about them.
type personPage struct {
	pageFrame
	New      bool
	Key      string
	Part     string // in words, where it is not the visitor's to change
	Groups   string
	Reach    reach
	Dates    int  // how many of theirs the visitor sees
	MayOpen  bool // their link is the visitor's to have
	Link     linkState
	Joints   []jointLink // that carry their dates too; none for who does not see every wedding
	MayDrop  bool
	You      bool
	Form     form
	Measures []measureRow // to be added
}

// fresh stands in the names of fields for the key of somebody who is new.
const fresh = "+"

// newPerson answers GET of the page on which somebody is added.
func (d *Desk) newPerson(w http.ResponseWriter, r *http.Request) error {
	return d.showNewPerson(w, r, http.StatusOK, sightOf(r).personForm(fresh, nil), nil)
}

func (d *Desk) showNewPerson(w http.ResponseWriter, r *http.Request, status int, f form, measures []pair) error {
	p := personPage{pageFrame: newPageFrame(r, "Add somebody", "people"), New: true, Form: f, Measures: blanks(measures)}
	return web.Show(w, r, status, personTemplate, p)
}

// addPerson answers POST of somebody new. Their key comes from their name, as every new one does.
func (d *Desk) addPerson(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	key := s.keyFor(r.PostForm, "people", r.PostForm.Get("people/"+fresh+"/name"), "person")
	for name, values := range r.PostForm {
		if rest, ok := strings.CutPrefix(name, "people/"+fresh+"/"); ok {
			r.PostForm["people/"+key+"/"+rest] = values
		}
	}
	f := s.personForm(key, nil)
	show := func(status int, measures []pair) error {
		for n := range f.Fields { // until it is saved, nobody has the key
			one := &f.Fields[n]
			was := one.ID()
			one.Path = strings.Replace(one.Path, "people/"+key+"/", "people/"+fresh+"/", 1)
			for n := range f.Faults {
				if f.Faults[n].ID == was {
					f.Faults[n].ID = one.ID()
				}
			}
		}
		return d.showNewPerson(w, r, status, f, measures)
	}
	return d.savePerson(w, r, key, &f, show)
}

// person answers GET of somebody.
func (d *Desk) person(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	who, ok := s.somebody(chi.URLParam(r, "person"))
	if !ok {
		return nothing(w, r)
	}
	return d.showPerson(w, r, http.StatusOK, who, s.personForm(who.Key, who), nil)
}

func (d *Desk) showPerson(w http.ResponseWriter, r *http.Request, status int, who *milestones.Person, f form, measures []pair) error {
	s := sightOf(r)
	p := personPage{pageFrame: newPageFrame(r, who.Name, "people"), Key: who.Key, Form: f, Measures: blanks(measures),
		Reach: reachOf(who), You: who.Key == s.key, MayDrop: s.mayRecast(who)}
	if !s.mayRecast(who) {
		p.Part, p.Groups = partNames[who.Part].one, strings.Join(who.Groups, ", ")
	}
	shown, err := d.seenOf(r, who)
	if err != nil {
		return err
	}
	p.Dates = len(shown)
	p.MayOpen = s.mayOpen(who)
	links, err := d.linkStates(r)
	if err != nil {
		return err
	}
	p.Link = stateOf(links, who.ID())
	if p.Joints, err = d.jointLinks(r, who); err != nil {
		return err
	}
	return web.Show(w, r, status, personTemplate, p)
}

// jointLink is a link to somebody's dates of several weddings.
type jointLink struct{ Title, Page string }

// jointLinks are those that open the dates of who, for an owner: they open
// dates of other weddings too.
func (d *Desk) jointLinks(r *http.Request, who *milestones.Person) ([]jointLink, error) {
	if !visitorOf(r).Owner {
		return nil, nil
	}
	joints, err := d.Store.JointsOf(r.Context(), store.Reader{Wedding: sightOf(r).ID, Person: who.ID()})
	if err != nil || len(joints) == 0 {
		return nil, err
	}
	base, err := web.Base(r, d.Public, d.Store)
	if err != nil {
		return nil, err
	}
	var all []jointLink
	for _, j := range joints {
		one := jointLink{Title: j.Title}
		if j.Token != "" {
			links, err := web.NewLinks(base, j.Token)
			if err != nil {
				return nil, err
			}
			one.Page = links.Page
		}
		all = append(all, one)
	}
	return all, nil
}

// editPerson answers POST of somebody.
func (d *Desk) editPerson(w http.ResponseWriter, r *http.Request) error {
	key := chi.URLParam(r, "person")
	one := thing{
		path:  "people/" + key,
		there: func(s *sight) bool { _, ok := s.somebody(key); return ok },
		mayBring: func(s, with *sight) bool {
			who, _ := with.somebody(key)
			return s.planner() || with.mayRecast(who) && !s.tellsMore(with.doc, key)
		},
		typed: func(s *sight, sent url.Values) form { return s.typedPerson(key, sent) },
	}
	return d.orGone(w, r, one, d.changePerson)
}

// typedPerson is the form of somebody as it was sent, with the sizes.
func (s *sight) typedPerson(key string, sent url.Values) form {
	who, _ := s.somebody(key)
	f := s.personForm(key, who)
	f.sets(sent)
	for _, m := range measuresIn(sent) {
		f.Fields = append(f.Fields, field{Label: "Measure", Value: m.Name}, field{Label: "Size", Value: m.Value})
	}
	return f
}

func (d *Desk) changePerson(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	who, ok := s.somebody(chi.URLParam(r, "person"))
	if !ok {
		return nothing(w, r)
	}
	f := s.personForm(who.Key, who)
	return d.savePerson(w, r, who.Key, &f, func(status int, measures []pair) error {
		return d.showPerson(w, r, status, who, f, measures)
	})
}

// savePerson keeps what the form says of the person with that key.
func (d *Desk) savePerson(w http.ResponseWriter, r *http.Request, key string, f *form, show func(int, []pair) error) error {
	s := sightOf(r)
	measures := measuresIn(r.PostForm)
	more, wrong := measureSets(key, measures)
	sets := append(f.sets(r.PostForm), more...)
	s.checkPerson(key, f, sets)
	f.Faults = append(f.Faults, wrong...)
	f.bringsBack(s, r.PostForm)
	if f.Faults != nil {
		return show(http.StatusUnprocessableEntity, measures)
	}
	return d.save(w, r, f, "people/"+key, func(status int) error { return show(status, measures) }, more...)
}

// personForm asks for what is known of the person with that key; who is nil
// for somebody new.
func (s *sight) personForm(key string, who *milestones.Person) form {
	at := "people/" + key + "/"
	fields := []field{{Path: at + "name", Label: "Name"}}
	if who == nil || s.mayRecast(who) {
		fields = append(fields,
			field{Path: at + "part", Label: "Part", Kind: choiceKind, Options: s.partOptions(who),
				Hint: "It decides what they see. The couple and planners see every agreement; somebody at a vendor sees their own; everybody else sees what they are asked to or pay for."},
			field{Path: at + "groups", Label: "Groups", Kind: listKind,
				Hint: "Words of your own, with commas between them, such as readers, dress-party. A date can be given to a whole group."})
	}
	fields = append(fields,
		field{Path: at + "phone", Label: "Telephone", Kind: phoneKind},
		field{Path: at + "email", Label: "Mail address", Kind: emailKind},
		field{Path: at + "diet", Label: "Diet", Hint: "What the kitchen has to know"},
		field{Path: at + "note", Label: "Note", Kind: areaKind, Hint: "For those who work at this desk. It is on nobody’s page."})
	if who != nil {
		for _, m := range who.Measures {
			if !strings.Contains(m.Name, "/") { // which would be a path
				fields = append(fields, field{Path: at + "measures/" + m.Name, Label: "Size: " + m.Name})
			}
		}
	}
	return newForm(s.doc, fields...)
}

// partOptions are the parts that the visitor may give. Who sees everything is
// for a planner to say.
func (s *sight) partOptions(who *milestones.Person) []option {
	var all []option
	if who == nil {
		all = append(all, option{"", "Choose one"})
	}
	for _, part := range milestones.Parts {
		if s.planner() || !runsIt(part) {
			all = append(all, option{string(part), partNames[part].one})
		}
	}
	return all
}

// mayRecast reports whether part and groups of somebody are the visitor's to
// change, and whether they may be taken out. What is hidden from one of the
// couple may be hidden by their part or group, so neither is theirs to change.
func (s *sight) mayRecast(who *milestones.Person) bool { return s.planner() || !runsIt(who.Part) }

// checkPerson puts faults into the form where a name or a part is missing, and
// where an edit has somebody see what the visitor does not: the visitor may
// have had their link before.
func (s *sight) checkPerson(key string, f *form, sets []store.Set) {
	at := "people/" + key + "/"
	for _, one := range f.Fields {
		known := slices.ContainsFunc(one.Options, func(o option) bool { return o.Value == one.Value })
		switch {
		case one.Path == at+"name" && strings.TrimSpace(one.Value) == "":
			f.fault(one.Path, "nobody goes without a name", "write one, such as Priya Nair")
		case one.Kind == choiceKind && one.Value == "":
			f.fault(one.Path, "what they are at the wedding is missing", "choose a part")
		case one.Kind == choiceKind && !known:
			f.fault(one.Path, "that part is for a planner to give", "choose another, or ask a planner")
		}
	}
	if s.planner() {
		return
	}
	next, err := s.doc.With(sets...)
	if _, old := s.plan.Person(key); err == nil && old && s.tellsMore(next, key) {
		f.fault(at+"groups", "this change is for a planner to make", "leave part and groups as they were, or ask a planner")
	}
}
