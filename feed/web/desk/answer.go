package desk

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"banns/milestones"
	"banns/store"
)

// answerForm is how one question is answered: where in the plan, and what
// has to be rewritten to make room.
type answerForm struct {
	form
	at     string      // where its parts stand
	alike  []alike     // what the same answer can settle besides
	before []store.Set // what comes before the answer's own
	forget []store.Set // what takes the answer back
}

// answerForm is the form of the answer to q, filled in as it was answered.
func (s *sight) answerForm(q *milestones.Question) (answerForm, error) {
	var a answerForm
	var err error
	if a.at, err = s.answerPath(q, &a); err != nil {
		return a, err
	}
	was := milestones.Answer{On: s.today}
	if q.Answer != nil {
		was = *q.Answer
	} else if agreed, ok := s.plan.Agreement(q.Agreement); ok {
		was.Who = agreed.Contact
	}
	a.Seen = s.plan.Version
	a.Fields = []field{
		{Path: "reads", Label: "Which one holds", Value: was.Reads},
		{Path: "who", Label: "Who said so", Hint: "Somebody of the plan, or any name", Value: s.nameOf(was.Who)},
		{Path: "on", Label: "On which day", Kind: dateKind, Value: was.On.String()},
		{Path: "says", Label: "In what words", Hint: "As they wrote or said it. It is what you can hold on to later.", Kind: areaKind, Value: was.Says},
	}
	if a.alike, err = s.alike(q, a.at); err == nil && len(a.alike) > 0 {
		a.Fields = slices.Insert(a.Fields, 1, s.alikeField(a.alike))
	}
	return a, err
}

// answerPath is where in the plan the answer to q stands, or is to stand.
func (s *sight) answerPath(q *milestones.Question, a *answerForm) (string, error) {
	switch {
	case q.Under != "" && q.Agreement != "":
		return a.named("agreements/"+q.Agreement, q), nil
	case q.Under != "":
		return a.named(q.Path, q), nil
	case q.Agreement == "":
		return a.onLine(s.doc, planPath(q.Path), s.answersAt(q.Path), q), nil
	}
	agreed, ok := s.doc.Plan.Agreement(q.Agreement)
	if !ok {
		return "", store.ErrUnknown
	}
	key := lineOfQuestion(q)
	if key == milestones.Postponing {
		return a.onLine(s.doc, "agreements/"+q.Agreement+"/postpone", agreed.Postpone.Answers, q), nil
	}
	paths := agreed.Paths()
	for n, l := range agreed.Lines() {
		if l.Key == key {
			list, _, _ := strings.Cut(paths[n], "[") // agreements/shuttle/change[1]
			return a.onLine(s.doc, list+"/"+key, l.Answers, q), nil
		}
	}
	return "", store.ErrUnknown
}

// planPath is where in the plan an item stands that is no agreement's.
func planPath(id string) string {
	if key, ok := strings.CutPrefix(id, "countdown/"); ok {
		return "countdown/add/" + key
	}
	return id
}

// answersAt are the answers on the line of an item that is no agreement's.
func (s *sight) answersAt(id string) []milestones.Answer {
	kind, key, _ := strings.Cut(id, "/")
	p := s.doc.Plan
	switch kind {
	case "appointments":
		for _, m := range p.Appointments {
			if m.Key == key {
				return m.Answers
			}
		}
	case "occasions":
		for _, m := range p.Occasions {
			if m.Key == key {
				return m.Answers
			}
		}
	default:
		for _, m := range p.Countdown.Add {
			if m.Key == key {
				return m.Answers
			}
		}
	}
	return nil
}

// named is the place of an answer among those that go by a name.
func (a *answerForm) named(of string, q *milestones.Question) string {
	at := of + "/answers/" + q.Under
	a.forget = []store.Set{{Path: at}}
	return at
}

// onLine is the place of an answer on a line. A line with one answer has it
// by itself; one with several has a list.
func (a *answerForm) onLine(doc *store.Document, line string, all []milestones.Answer, q *milestones.Question) string {
	at := line + "/answer"
	n := slices.IndexFunc(all, func(one milestones.Answer) bool { return q.Answer != nil && one == *q.Answer })
	alone := len(all) == 1 && doc.At(at+"/reads") != nil
	switch {
	case n >= 0 && (alone || len(all) == 1):
		a.forget = []store.Set{{Path: at}}
		if alone {
			return at
		}
		return at + "/1"
	case n >= 0:
		place := fmt.Sprintf("%s/%d", at, n+1)
		a.forget = []store.Set{{Path: place}}
		return place
	case len(all) == 0:
		return at
	case alone:
		a.before = append([]store.Set{{Path: at}}, answerSets(at+"/+1", all[0])...)
		return at + "/+2"
	}
	return at + "/+1"
}

func answerSets(at string, one milestones.Answer) []store.Set {
	all := []store.Set{{Path: at + "/reads", Value: []string{one.Reads}}, {Path: at + "/who", Value: []string{one.Who}},
		{Path: at + "/on", Value: []string{one.On.String()}}}
	if one.Says != "" {
		all = append(all, store.Set{Path: at + "/says", Value: []string{one.Says}})
	}
	return all
}

// answerQuestion answers POST of one question, which may have gone with what
// it was about.
func (d *Desk) answerQuestion(w http.ResponseWriter, r *http.Request) error {
	name := chi.URLParam(r, "question")
	asked := func(s *sight) *milestones.Question {
		if q := s.questionCalled(name); q != nil && q.Settles() {
			return q
		}
		return nil
	}
	one := thing{
		there: func(s *sight) bool { return asked(s) != nil },
		typed: func(s *sight, sent url.Values) form {
			a, _ := s.answerForm(asked(s))
			a.Fields[0].Kind = choiceKind
			for _, reads := range asked(s).Readings {
				a.Fields[0].Options = append(a.Fields[0].Options, option{reads.Key, reads.Says})
			}
			return a.form.sentWith(sent)
		},
	}
	return d.orGone(w, r, one, func(w http.ResponseWriter, r *http.Request) error {
		return d.keepAnswer(w, r, asked(sightOf(r)))
	})
}

func (d *Desk) keepAnswer(w http.ResponseWriter, r *http.Request, q *milestones.Question) error {
	s := sightOf(r)
	a, err := s.answerForm(q)
	if err != nil {
		return err
	}
	sets := a.sent(s, r.PostForm)
	if r.PostForm.Has("again") {
		sets, a.Faults = a.forget, nil
	}
	if a.Faults != nil {
		return d.showQuestion(w, r, http.StatusUnprocessableEntity, q, a.form)
	}
	done, err := d.Store.Update(r.Context(), store.Edit{Wedding: s.ID, Seen: a.Seen, Sets: sets, By: visitorOf(r).Name, As: s.key}, d.Now())
	if a.refused(s, a.below(s.veiled(err))) {
		return d.showQuestion(w, r, http.StatusUnprocessableEntity, q, a.form)
	} else if err != nil {
		return err
	}
	return goTo(w, r, s.at(fmt.Sprintf("questions?kept=%d", done.Version)))
}

// sent are what was filled in, as sets of the plan: whoever is in it goes by
// key there.
func (a *answerForm) sent(s *sight, sent url.Values) []store.Set {
	sets := a.sets(sent)
	for _, must := range [][2]string{{"reads", "choose one"}, {"who", "write who answered"}, {"on", "write the day"}} {
		if strings.TrimSpace(sent.Get(must[0])) == "" {
			a.fault(must[0], must[1], "")
		}
	}
	sets = slices.DeleteFunc(sets, func(set store.Set) bool { return set.Path == alikePath })
	for n := range sets {
		for _, known := range s.plan.People {
			if sets[n].Path == "who" && slices.Equal(sets[n].Value, []string{known.Name}) {
				sets[n].Value = []string{known.Key}
			}
		}
	}
	all := a.put(sets)
	for _, one := range a.alike {
		if slices.Contains(sent[alikePath], questionName(one.ID)) {
			own := slices.Clone(sets)
			own[0].Value = []string{one.Like(sent.Get("reads"))} // of the fields, the first
			all = append(all, one.put(own)...)
		}
	}
	return all
}

// put are sets of the parts of an answer where it stands.
func (a *answerForm) put(parts []store.Set) []store.Set {
	all := slices.Clone(a.before)
	for _, set := range parts {
		set.Path = a.at + "/" + set.Path
		all = append(all, set)
	}
	return all
}

// below is an error of the store with its places as the form's fields have
// them.
func (a *answerForm) below(err error) error {
	var faults store.Faults
	var overlaps store.Overlaps
	switch {
	case errors.As(err, &faults):
		faults = slices.Clone(faults)
		for n := range faults {
			faults[n].Path = a.part(faults[n].Path)
		}
		return slices.CompactFunc(faults, func(one, next store.Fault) bool { return one.Path == next.Path && one.Says == next.Says })
	case errors.As(err, &overlaps):
		overlaps = slices.Clone(overlaps)
		for n := range overlaps {
			overlaps[n].Path = a.part(overlaps[n].Path)
		}
		return overlaps
	}
	return err
}

// part is the part of an answer, this one or one alike, that a path is of.
func (a *answerForm) part(path string) string {
	path = strings.TrimPrefix(path, a.at+"/")
	for _, one := range a.alike {
		path = strings.TrimPrefix(path, one.at+"/")
	}
	return path
}
