package desk

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"banns/feed"
	"banns/milestones"
)

// who are people, groups and parts of the plan in words.
func (s *sight) who(names ...string) string { return feed.Called(s.plan, names) }

// doer says who does what an entry asks for, or who is asked to it.
func (s *sight) doer(e *feed.Entry) string {
	couple := feed.PartWords[milestones.Couple]
	named := s.item(e.ID).For
	switch e.Kind {
	case milestones.KindPayment:
		return cmp.Or(e.Payer, couple) + " pays"
	case milestones.KindRefund:
		return e.With + " pays it back"
	case milestones.KindAppointment, milestones.KindOccasion, milestones.KindMilestone:
		return cmp.Or(s.who(named...), couple)
	case milestones.KindWedding:
		return "everybody"
	}
	if len(named) > 0 && !slices.Contains(named, string(milestones.Couple)) {
		return couple + ", with " + s.who(named...)
	}
	return couple
}

// item is the item of that id, which the visitor has to be one to see.
func (s *sight) item(id string) *milestones.Item {
	n := slices.IndexFunc(s.items, func(i milestones.Item) bool { return i.ID == id })
	return &s.items[n]
}

// named are the options of a field that names people: everybody, the parts
// and groups that somebody is in, and each of them; and whoever is chosen
// already. Nobody hides anything from themselves.
func (s *sight) named(chosen []string, hiding bool) []option {
	all := []option{{milestones.Everybody, "Everybody"}}
	for _, part := range milestones.Parts {
		if slices.ContainsFunc(s.plan.People, func(who milestones.Person) bool { return who.Part == part }) {
			all = append(all, option{string(part), capital(feed.PartWords[part])})
		}
	}
	var groups []string
	for _, who := range s.plan.People {
		groups = append(groups, who.Groups...)
	}
	slices.Sort(groups)
	for _, group := range slices.Compact(groups) {
		all = append(all, option{group, "Group: " + group})
	}
	for _, who := range s.plan.People {
		all = append(all, option{who.Key, who.Name})
	}
	for _, name := range chosen {
		if !slices.ContainsFunc(all, func(o option) bool { return o.Value == name }) {
			all = append(all, option{name, capital(s.who(name)) + " (nobody yet)"})
		}
	}
	if me, ok := s.plan.Person(s.key); ok && hiding {
		all = slices.DeleteFunc(all, func(o option) bool { return me.Named([]string{o.Value}) })
	}
	return all
}

func capital(text string) string {
	if text == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(text)
	return strings.ToUpper(string(first)) + text[size:]
}

// plural is a number of things.
func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
