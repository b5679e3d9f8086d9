package desk

import (
	"errors"
	"slices"
	"strings"

	"banns/milestones"
	"banns/store"
)

// veiled is an error of an edit without what is hidden from the visitor: a
// fault may stand in a place that they do not see, or name one.
func (s *sight) veiled(err error) error {
	if s.planner() {
		return err
	}
	hidden := s.hidden()
	tells := func(texts ...string) bool {
		said := strings.ToLower(strings.Join(texts, "\n"))
		return slices.ContainsFunc(hidden, func(word string) bool { return strings.Contains(said, word) })
	}
	const says, mend = "something that this page does not show stands against it", "ask a planner to make this change"
	var faults store.Faults
	var overlaps store.Overlaps
	switch {
	case errors.As(err, &faults):
		all := slices.Clone(faults)
		for n, f := range all {
			if f.Discreet {
				continue
			}
			if tells(f.Path) {
				all[n].Path = ""
			}
			if tells(f.Path, f.Says, f.Mend) {
				all[n].Says, all[n].Mend = says, mend
			}
		}
		return all
	case errors.As(err, &overlaps):
		all := slices.DeleteFunc(slices.Clone(overlaps), func(o store.Overlap) bool { return tells(o.Path) })
		if len(all) == 0 {
			return store.Faults{{Fault: milestones.Fault{Says: says, Mend: mend}}}
		}
		return all
	}
	return err
}

// hidden is what things are called that are hidden from the visitor, in small
// letters, and nothing else is: their keys and their names.
func (s *sight) hidden() []string {
	seen, all := named(s.plan), []string{}
	for id, words := range named(s.doc.Plan) {
		if _, ok := seen[id]; !ok {
			all = append(all, words...)
		}
	}
	return slices.DeleteFunc(all, func(word string) bool {
		for _, words := range seen {
			if slices.Contains(words, word) {
				return true
			}
		}
		return false
	})
}

// named is what the things of a plan are called, each by its path.
func named(p *milestones.Plan) map[string][]string {
	all := map[string][]string{}
	name := func(path string, words ...string) {
		for _, word := range words {
			if word != "" {
				all[path] = append(all[path], strings.ToLower(word))
			}
		}
	}
	for _, who := range p.People {
		name("people/"+who.Key, who.Key, who.Name)
	}
	for i := range p.Agreements {
		a := &p.Agreements[i]
		name("agreements/"+a.Key, a.Key, a.With)
		paths := a.Paths() // as faults have them: lines are counted
		for n, l := range a.Lines() {
			name("agreements/"+a.Key+"/"+l.Key, a.Key+"/"+l.Key, paths[n], l.Says, l.What)
		}
	}
	for _, m := range p.Appointments {
		name("appointments/"+m.Key, m.Key, m.What)
	}
	for _, m := range p.Occasions {
		name("occasions/"+m.Key, m.Key, m.What)
	}
	for _, m := range p.Countdown.Add {
		name("countdown/"+m.Key, m.Key, m.What)
	}
	return all
}
