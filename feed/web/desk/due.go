package desk

import (
	"net/http"
	"slices"

	"banns/feed/web"
	"banns/milestones"
)

var dueTemplate = page("due.html", "sums.html")

// duePage is what is paid and what is to be paid.
type duePage struct {
	pageFrame
	On     field
	Faults []fault
	Lead   string
	Day    string
	By     milestones.Grouping
	Ways   []dueWay
	Tables []sumTable
	Quoted string // what is only quoted, or empty
	Whole  bool   // nothing is hidden from the visitor
}

// dueWay is one way to group the sums.
type dueWay struct {
	By   milestones.Grouping
	Says string
}

var dueWays = []dueWay{
	{milestones.ByMonth, "By month"},
	{milestones.ByPayer, "By who pays"},
	{milestones.ByAgreement, "By agreement"},
}

// dueParts are the tables: the payments, and what is apart from them.
var dueParts = []struct {
	id, title, done string
	of              func(milestones.Dues) milestones.Tally
}{
	{"payments", "Payments", "paid", func(d milestones.Dues) milestones.Tally { return d.Payments }},
	{"security", "Security deposits, apart from the prices", "paid", func(d milestones.Dues) milestones.Tally { return d.Security }},
	{"back", "Security deposits back", "came back", func(d milestones.Dues) milestones.Tally { return d.Back }},
}

// due answers GET of what is paid and to be paid.
func (d *Desk) due(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	p := duePage{pageFrame: newPageFrame(r, "What is due", "due"), Ways: dueWays, By: milestones.ByMonth, Whole: s.planner(),
		On: field{Path: "on", Label: "As it stands on", Kind: dateKind, Value: s.today.String()}}
	if by := milestones.Grouping(r.URL.Query().Get("by")); slices.ContainsFunc(dueWays, func(one dueWay) bool { return one.By == by }) {
		p.By = by
	}
	day := s.today
	if text := r.URL.Query().Get("on"); text != "" {
		var err error
		p.On.Value = text
		if day, err = milestones.ParseDate(text); err != nil {
			p.On.Fault = err.Error()
			p.Faults = []fault{{p.On.ID(), p.On.Label + ": " + p.On.Fault}}
			return web.Show(w, r, http.StatusUnprocessableEntity, dueTemplate, p)
		}
	}
	p.Day = day.Words()
	p.fill(s, milestones.Due(s.plan, s.payments(), day, p.By))
	return web.Show(w, r, http.StatusOK, dueTemplate, p)
}

// payments are the items whose sums the visitor sees.
func (s *sight) payments() []milestones.Item {
	seen := map[string]bool{}
	for n := range s.entries {
		seen[s.entries[n].ID] = s.entries[n].Currency != ""
	}
	return slices.DeleteFunc(slices.Clone(s.items), func(i milestones.Item) bool { return !seen[i.ID] })
}

func (p *duePage) fill(s *sight, owing milestones.Owing) {
	none := milestones.Exactly(0)
	for _, part := range dueParts {
		if part.of(owing.All).Total() == none {
			continue
		}
		t := sumTable{ID: part.id, Caption: part.title, Head: []string{part.done, "late", "to come", "without a day", "in all"}}
		for _, g := range owing.Groups {
			if tally := part.of(g); tally.Total() != none {
				row := t.tally(s, p.By.Name(s.plan, g.Group), tally)
				if p.By == milestones.ByAgreement {
					row.To = p.At + "agreements/" + g.Group
				}
			}
		}
		t.tally(s, "In all", part.of(owing.All)).Total = true
		p.Tables = append(p.Tables, t)
	}
	if quoted := owing.Quoted.Payments.Total(); quoted != none {
		p.Quoted = s.words(quoted)
	}
}

// tally adds a row of sums by how they stand.
func (t *sumTable) tally(s *sight, name string, sums milestones.Tally) *sumRow {
	row := t.add(name, s.some(sums.Paid), s.some(sums.Overdue), s.some(sums.Open), s.some(sums.Undated), s.words(sums.Total()))
	row.Cells[1].Late = row.Cells[1].Says != ""
	last := &row.Cells[len(row.Cells)-1]
	last.Again = slices.ContainsFunc(row.Cells[:len(row.Cells)-1], func(c sumCell) bool { return c.Says == last.Says })
	return row
}
