package main

import (
	"fmt"

	"banns/milestones"
)

// dueCmd is banns due. With --json it writes
//
//	{date, currency, by,
//	 groups: [{group, payments: T, security: T, back: T}],
//	 total:  {payments: T, security: T, back: T},
//	 quoted: {payments: T, security: T, back: T}}
//
// where T is {paid, overdue, open, undated, total}, each {low, high} as text.
// payments make the prices; security is deposits against damage, and back
// their return. high is null where a sum has no bound yet: something in it
// has no sum, or waits for the number of guests. group is 2027-03, a person's
// key, "couple", or an agreement's key; null for payments without a month.
// by is null, and groups is empty, without --by. What is only quoted is not
// owed, and is in quoted alone.
type dueCmd struct {
	Plan string          `arg:"" help:"Plan file, or name of a stored wedding."`
	On   milestones.Date `help:"As it stands on this day; today otherwise." placeholder:"DATE"`
	By   string          `help:"Grouped by month, payer or agreement." enum:",month,payer,agreement" default:"" placeholder:"month|payer|agreement"`
	JSON bool            `name:"json" help:"Write JSON."`
}

type dueJSON struct {
	Date     milestones.Date `json:"date"`
	Currency string          `json:"currency"`
	By       *string         `json:"by"`
	Groups   []dueGroup      `json:"groups"`
	Total    dues            `json:"total"`
	Quoted   dues            `json:"quoted"`
}

type dueGroup struct {
	Group *string `json:"group"`
	dues
}

type dues struct {
	Payments tally `json:"payments"`
	Security tally `json:"security"`
	Back     tally `json:"back"`
}

type tally struct {
	Paid    span `json:"paid"`
	Overdue span `json:"overdue"`
	Open    span `json:"open"`
	Undated span `json:"undated"`
	Total   span `json:"total"`
}

// Run sums up what is paid and what is to be paid.
func (c *dueCmd) Run(e *env) error {
	doc, _, err := e.load(c.Plan)
	if err != nil {
		return err
	}
	p, day := doc.Plan, c.On
	if day.IsZero() {
		day = e.day(p.Wedding.Zone)
	}
	owing := milestones.Due(p, milestones.Schedule(p, closures(p)), day, milestones.Grouping(c.By))
	if !c.JSON {
		newPrinter(e.out).due(p, owing, day, milestones.Grouping(c.By))
		return nil
	}
	currency := p.Wedding.Currency
	out := dueJSON{Date: day, Currency: string(currency), By: text(c.By), Groups: []dueGroup{},
		Total: newDues(currency, owing.All), Quoted: newDues(currency, owing.Quoted)}
	for _, g := range owing.Groups {
		out.Groups = append(out.Groups, dueGroup{text(g.Group), newDues(currency, g)})
	}
	return writeJSON(e.out, out)
}

func newDues(c milestones.Currency, d milestones.Dues) dues {
	return dues{newTally(c, d.Payments), newTally(c, d.Security), newTally(c, d.Back)}
}

func newTally(c milestones.Currency, t milestones.Tally) tally {
	return tally{spanOf(c, t.Paid), spanOf(c, t.Overdue), spanOf(c, t.Open), spanOf(c, t.Undated), spanOf(c, t.Total())}
}

// dueParts are the tables of due: the payments, and what is apart from them.
var dueParts = []struct {
	title, done string
	of          func(milestones.Dues) milestones.Tally
}{
	{"Payments", "paid", func(d milestones.Dues) milestones.Tally { return d.Payments }},
	{"Security deposits, apart from the prices", "paid", func(d milestones.Dues) milestones.Tally { return d.Security }},
	{"Security deposits back", "came back", func(d milestones.Dues) milestones.Tally { return d.Back }},
}

// due prints what is paid and what is to be paid.
func (p printer) due(plan *milestones.Plan, owing milestones.Owing, day milestones.Date, by milestones.Grouping) {
	fmt.Fprintf(p.out, "%s\nAs it stands on %s.\n", heading(plan), day.Words())
	c := plan.Wedding.Currency
	for _, part := range dueParts {
		if part.of(owing.All).Total() == milestones.Exactly(0) {
			continue
		}
		var lines [][]string
		for _, g := range owing.Groups {
			if t := part.of(g); t.Total() != milestones.Exactly(0) {
				lines = append(lines, tallied(c, by.Name(plan, g.Group), t))
			}
		}
		lines = append(lines, tallied(c, "In all", part.of(owing.All)))
		fmt.Fprintf(p.out, "\n%s\n", part.title)
		p.table([]string{"", part.done, "late", "to come", "without a day", "in all"}, lines)
	}
	if quoted := owing.Quoted.Payments.Total(); quoted != milestones.Exactly(0) {
		fmt.Fprintf(p.out, "\nOnly quoted, and not owed until it is signed: %s\n", c.Range(quoted))
	}
}

func tallied(c milestones.Currency, name string, t milestones.Tally) []string {
	line := []string{name}
	for _, sum := range []milestones.Amount{t.Paid, t.Overdue, t.Open, t.Undated} {
		cell := ""
		if sum != milestones.Exactly(0) {
			cell = c.Range(sum)
		}
		line = append(line, cell)
	}
	return append(line, c.Range(t.Total()))
}
