package desk

import (
	"fmt"

	"banns/milestones"
)

// moneyTable is what falls due this month and the next, by who pays.
type moneyTable struct {
	Months [2]string
	Rows   []moneyRow
	All    moneyRow
	Late   bool   // something is late, and has a column
	After  string // where nothing falls due: the next payment
}

type moneyRow struct {
	Payer  string
	Late   string
	Months [2]string
}

// money sums up the payments that the visitor sees, deposits against damage
// among them: those of the day to pay, which may be before the contract's.
func (s *sight) money() moneyTable {
	first := milestones.Date{Year: s.today.Year, Month: s.today.Month, Day: 1}
	starts := [3]milestones.Date{first, first.AddMonths(1), first.AddMonths(2)}
	var late []milestones.Item
	var months [2][]milestones.Item
	var next milestones.Date
	entries := s.live()
	for n := range entries {
		e := &entries[n]
		if e.Kind != milestones.KindPayment || e.Currency == "" || e.Date.IsZero() || e.Standing == milestones.Quoted {
			continue
		}
		day, i := e.Day(), *s.item(e.ID)
		switch state := e.StateOn(s.today); {
		case state == milestones.Overdue:
			late = append(late, i)
		case state != milestones.Open:
		case day.Before(starts[1]):
			months[0] = append(months[0], i)
		case day.Before(starts[2]):
			months[1] = append(months[1], i)
		case next.IsZero() || day.Before(next):
			next = day
		}
	}
	t := moneyTable{Late: len(late) > 0}
	for n := range t.Months {
		t.Months[n] = fmt.Sprintf("%.3s %d", starts[n].Month, starts[n].Year)
	}
	if len(late)+len(months[0])+len(months[1]) == 0 {
		t.After = next.Words()
		return t
	}
	t.fill(s, late, months)
	return t
}

func (t *moneyTable) fill(s *sight, late []milestones.Item, months [2][]milestones.Item) {
	due := func(items []milestones.Item) milestones.Owing {
		return milestones.Due(s.plan, items, s.today, milestones.ByPayer)
	}
	cols := [3]milestones.Owing{due(late), due(months[0]), due(months[1])}
	all := due(append(append(late[:len(late):len(late)], months[0]...), months[1]...))
	for _, group := range all.Groups {
		row := moneyRow{Payer: capital(s.who(group.Group))}
		sum := func(o milestones.Owing) string {
			for _, one := range o.Groups {
				if one.Group == group.Group {
					return s.sum(one)
				}
			}
			return ""
		}
		row.Late, row.Months = sum(cols[0]), [2]string{sum(cols[1]), sum(cols[2])}
		t.Rows = append(t.Rows, row)
	}
	t.All = moneyRow{Payer: "In all", Late: s.sum(cols[0].All), Months: [2]string{s.sum(cols[1].All), s.sum(cols[2].All)}}
}

func (s *sight) sum(d milestones.Dues) string {
	return s.plan.Wedding.Currency.Range(d.Payments.Total().Plus(d.Security.Total()))
}
