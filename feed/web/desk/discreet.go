package desk

import (
	"fmt"
	"strings"

	"banns/milestones"
	"banns/store"
)

// discreet is a fault without what is hidden from the visitor: a line that
// they do not see, or a name that it came near to.
func (s *sight) discreet(f store.Fault) store.Fault {
	if s.key == "" || f.Discreet {
		return f
	}
	parts := strings.Split(f.Path, "/")
	if len(parts) > 1 && !s.shows(parts[0], parts[1]) || len(parts) > 2 && strings.HasSuffix(parts[2], "]") {
		return store.Fault{Fault: milestones.Fault{Says: "something in the plan that is not on this page needs it to stay as it was"}}
	}
	for _, name := range s.hiddenNames() {
		if strings.Contains(strings.ToLower(f.Mend), name) {
			f.Mend = ""
		}
		if strings.Contains(strings.ToLower(f.Says), "could be any of") && strings.Contains(strings.ToLower(f.Says), name) {
			f.Says, f.Mend = "the name stands for more than one thing", "name it in other words, or by the agreement it is in"
		}
	}
	return f
}

// shows reports whether the visitor sees a member of a section of the plan.
func (s *sight) shows(section, key string) bool {
	if section != "agreements" {
		return true
	}
	_, whole := s.doc.Plan.Agreement(key)
	_, seen := s.plan.Agreement(key)
	return seen || !whole
}

// hiddenNames are what in the plan the visitor does not see, in small letters.
func (s *sight) hiddenNames() []string {
	seen := map[string]bool{}
	for _, name := range namesIn(s.plan) {
		seen[name] = true
	}
	var all []string
	for _, name := range namesIn(s.doc.Plan) {
		if !seen[name] {
			all = append(all, name)
		}
	}
	return all
}

// namesIn are the names that lines of a plan can count from.
func namesIn(p *milestones.Plan) []string {
	var all []string
	add := func(names ...string) {
		for _, name := range names {
			if name != "" {
				all = append(all, strings.ToLower(name))
			}
		}
	}
	for i := range p.Agreements {
		a := &p.Agreements[i]
		add(a.Key + "/")
		for _, t := range a.Change {
			add(t.Label, t.What, fmt.Sprintf("%s/%s", a.Key, t.Key))
		}
		for _, t := range a.Papers {
			add(t.Label, t.What, fmt.Sprintf("%s/%s", a.Key, t.Key))
		}
		for _, d := range a.Dates {
			add(d.Name)
		}
	}
	for _, m := range p.Appointments {
		add(m.Key, m.What)
	}
	for _, m := range p.Occasions {
		add(m.Key, m.What)
	}
	return all
}
