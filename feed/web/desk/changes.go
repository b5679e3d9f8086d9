package desk

import (
	"fmt"
	"strings"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
)

// How much of a list of changes is shown.
const (
	eachShown  = 12 // of what one change counts
	namesShown = 5  // of those whom it concerns
)

// changeRow is one thing that is otherwise.
type changeRow struct {
	Says  string
	Aside string // whom it concerns, to those from whom nothing is hidden
	Each  []string
	More  int // how many of Each are left out
}

// compared is what is otherwise in one plan than in another, as the visitor
// may know of it.
func (s *sight) compared(was, is milestones.Worked, on milestones.Date) []changeRow {
	var all []changeRow
	for _, c := range feed.Compare(was, is, s.Person, on) {
		row := changeRow{Says: sentence(c.Says)}
		if s.planner() {
			row.Aside = concerned(is.Plan, was.Plan, c)
		}
		for n, one := range c.Each {
			if n == eachShown {
				row.More = len(c.Each) - n
				break
			}
			row.Each = append(row.Each, one.Says)
		}
		if c.ID == "" && c.Agreement == "" && c.Each != nil && c.Aspects[0] == milestones.AspectMoved {
			row.Each, row.More = nil, 0 // with the wedding: how far is what matters
		}
		all = append(all, row)
	}
	return all
}

func worked(p *milestones.Plan) milestones.Worked {
	closures, _ := conflicts.ClosuresFor(p.Wedding.Region)
	return milestones.Work(p, closures)
}

// concerned says whom a change concerns besides the couple and the planners,
// who see everything but what is hidden from them.
func concerned(is, was *milestones.Plan, c feed.Change) string {
	var names, hidden, says []string
	for _, key := range c.For {
		if who := somewhere(is, was, key); who != nil && who.Part != milestones.Couple && who.Part != milestones.Planner {
			names = append(names, who.Name)
		}
	}
	for _, key := range c.Hidden {
		if who := somewhere(is, was, key); who != nil {
			hidden = append(hidden, who.Name)
		}
	}
	switch {
	case len(c.For) > 1 && len(c.For) >= len(is.People):
		says = append(says, "for everybody")
	case len(names) > namesShown+1:
		says = append(says, fmt.Sprintf("for %s and %d more", strings.Join(names[:namesShown], ", "), len(names)-namesShown))
	case len(names) > 0:
		says = append(says, "for "+strings.Join(names, ", "))
	}
	if len(hidden) > 0 {
		says = append(says, "hidden from "+strings.Join(hidden, ", "))
	}
	return strings.Join(says, "; ")
}

func somewhere(is, was *milestones.Plan, key string) *milestones.Person {
	if who, ok := is.Person(key); ok {
		return who
	}
	who, _ := was.Person(key)
	return who
}
