package desk

import (
	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
)

// eachShown is how much is shown of what one change counts.
const eachShown = 12

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
			row.Aside = c.Concerns(was.Plan, is.Plan)
		}
		for n, one := range c.Each {
			if n == eachShown {
				row.More = len(c.Each) - n
				break
			}
			row.Each = append(row.Each, one.Says)
		}
		if c.WithWedding() {
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
