package feed

import (
	"fmt"
	"slices"
	"strings"

	"banns/milestones"
)

// PartWords are all of a part, as people say them.
var PartWords = map[milestones.Part]string{
	milestones.Couple:    "the couple",
	milestones.Planner:   "the planner",
	milestones.Family:    "the family",
	milestones.Attendant: "the attendants",
	milestones.Vendor:    "the vendors",
	milestones.Officiant: "the officiant",
	milestones.Helper:    "the helpers",
}

// namesMost is how many names are said in full.
const namesMost = 3

// Called are people, groups and parts of p in words.
func Called(p *milestones.Plan, names []string) string {
	var all []string
	for _, name := range names {
		all = append(all, called(p, name))
	}
	if over := len(all) - namesMost; over > 1 {
		return strings.Join(all[:namesMost], ", ") + fmt.Sprintf(" and %d more", over)
	}
	return strings.Join(all, ", ")
}

func called(p *milestones.Plan, name string) string {
	if one, ok := p.Person(name); ok {
		return one.Name
	}
	if words := PartWords[milestones.Part(name)]; words != "" {
		return words
	}
	return name
}

// nobody reports whether a name is that of no person, and of no part or group
// that somebody is in.
func nobody(p *milestones.Plan, name string) bool {
	return !slices.ContainsFunc(p.People, func(who milestones.Person) bool { return who.Named([]string{name}) })
}

// others are who is asked to i where somebody with these ties sees it without
// being asked: it must not look like an appointment of their own. It goes by
// the item alone: a name that is left out where somebody's agreement is hidden
// would tell of it.
func others(p *milestones.Plan, i *milestones.Item, have []tie) string {
	switch i.Kind {
	case milestones.KindAppointment, milestones.KindOccasion:
		if !anyOf(have, []tie{named}) {
			return Called(p, slices.DeleteFunc(slices.Clone(i.For), func(name string) bool { return nobody(p, name) }))
		}
	}
	return ""
}
