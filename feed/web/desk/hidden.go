package desk

import (
	"slices"

	"banns/feed"
	"banns/milestones"
)

// hiddenFrom says from whom an entry is hidden, to a visitor who sees it; it
// is empty where it is hidden from nobody whom they know of.
func (s *sight) hiddenFrom(e *feed.Entry) string {
	return capital(s.hiddenWords(s.item(e.ID).Hide))
}

// agreementHidden says it of an agreement, or of lines of it.
func (s *sight) agreementHidden(a *milestones.Agreement) string {
	if whole := s.hiddenWords(a.Hide); whole != "" {
		return capital(whole)
	}
	var some []string
	for _, l := range a.Lines() {
		some = append(some, l.Hide...)
	}
	if words := s.hiddenWords(some); words != "" {
		return "Some of it is " + words
	}
	return ""
}

func (s *sight) hiddenWords(from []string) string {
	var known []string
	for _, name := range from {
		of := func(who milestones.Person) bool { return who.Named([]string{name}) }
		if !slices.Contains(known, name) && slices.ContainsFunc(s.plan.People, of) {
			known = append(known, name)
		}
	}
	if known == nil {
		return ""
	}
	return "hidden from " + s.who(known...)
}
