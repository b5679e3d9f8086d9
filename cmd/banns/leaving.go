package main

import (
	"fmt"

	"banns/milestones"
)

type leavingCmd struct {
	Plan string            `arg:"" help:"Plan file, or name of a stored wedding."`
	On   milestones.Date   `help:"The day of leaving; today otherwise." placeholder:"DATE" xor:"day"`
	At   *milestones.Clock `help:"The hour, where the wedding is." placeholder:"HH:MM" xor:"hour"`
	From milestones.Date   `help:"Every step from this day." placeholder:"DATE" xor:"day,hour"`
	To   milestones.Date   `help:"Every step to this day." placeholder:"DATE"`
	JSON bool              `name:"json" help:"Write JSON."`
}

// leaving is what leaving costs on a day, or over the days of a step. Of a
// sum that cannot be known, low and high are null; of one that has no bound,
// high is.
type leaving struct {
	Date       milestones.Date  `json:"date"`
	Until      *milestones.Date `json:"until,omitempty"` // of a step: its last day
	Time       *string          `json:"time"`            // null: over the whole day
	Currency   string           `json:"currency"`
	Agreements []leavingOne     `json:"agreements"`
	span

	each []milestones.Leave // for people: more than the costs
}

type leavingOne struct {
	Agreement string `json:"agreement"`
	span
	Questions []string `json:"questions"`
}

// Validate refuses a range with one end, or that ends before it begins.
func (c *leavingCmd) Validate() error {
	switch {
	case c.From.IsZero() != c.To.IsZero():
		return wrongf("--from and --to go together; name the first and the last day")
	case c.To.Before(c.From):
		return wrongf("--to %s is before --from %s; exchange the two", c.To, c.From)
	}
	return nil
}

// Run says what leaving every agreement signed by then costs: on one day, at
// one minute, or step by step from one day to another.
func (c *leavingCmd) Run(e *env) error {
	doc, _, err := e.load(c.Plan)
	if err != nil {
		return err
	}
	p := doc.Plan
	if !c.From.IsZero() {
		return c.steps(e, p)
	}
	day := c.On
	if day.IsZero() {
		day = e.day(p.Wedding.Zone)
	}
	from, to := p.Minutes(day, c.At)
	l := newLeaving(p, day, milestones.Leaving(p, closures(p), from, to))
	if c.At != nil {
		l.Time = text(c.At.String())
	}
	if c.JSON {
		return writeJSON(e.out, l)
	}
	newPrinter(e.out).leaving(p, l)
	return nil
}

func (c *leavingCmd) steps(e *env, p *milestones.Plan) error {
	all := []leaving{}
	for _, step := range milestones.LeavingSteps(p, closures(p), c.From, c.To) {
		l := newLeaving(p, step.From, step.Each)
		l.Until = &step.To
		all = append(all, l)
	}
	if c.JSON {
		return writeJSON(e.out, all)
	}
	newPrinter(e.out).leavingSteps(p, all)
	return nil
}

func newLeaving(p *milestones.Plan, day milestones.Date, each []milestones.Leave) leaving {
	c := p.Wedding.Currency
	l := leaving{Date: day, Currency: string(c), Agreements: []leavingOne{}, each: each,
		span: spanOf(c, milestones.Together(each).Cost)}
	for _, one := range each {
		l.Agreements = append(l.Agreements, leavingOne{one.Agreement, spanOf(c, one.Cost), append([]string{}, one.Questions...)})
	}
	return l
}

// span is a sum from low to high; null where nobody can say.
type span struct {
	Low  *string `json:"low"`
	High *string `json:"high"`
}

func spanOf(c milestones.Currency, a milestones.Amount) (s span) {
	if a.Known {
		s.Low = text(c.Plain(a.Low))
	}
	if a.Known && !a.Open {
		s.High = text(c.Plain(a.High))
	}
	return s
}

// leaving prints what leaving costs on a day or at a minute.
func (p printer) leaving(plan *milestones.Plan, l leaving) {
	when := "on " + l.Date.Words()
	if l.Time != nil {
		when += ", " + *l.Time
	}
	fmt.Fprintln(p.out, heading(plan))
	if len(l.each) == 0 {
		fmt.Fprintf(p.out, "\nNothing is signed by then, so leaving %s costs nothing.\n", when)
		return
	}
	fmt.Fprintf(p.out, "\nLeaving %s costs in all, paid or not:\n\n", when)
	var lines [][]string
	cells := func(name string, one milestones.Leave) {
		line := []string{name}
		for _, sum := range []milestones.Amount{one.Cost, one.Paid, one.ToPay, one.Back} {
			line = append(line, plan.Wedding.Currency.Range(sum))
		}
		lines = append(lines, line)
	}
	for _, one := range l.each {
		cells(one.With, one)
	}
	cells("In all", milestones.Together(l.each))
	p.table([]string{"", "costs", "paid or due", "still to pay", "comes back"}, lines)
	p.leavingQuestions([]leaving{l})
	fmt.Fprintln(p.out, "\nSecurity deposits are apart. The signed contract governs; this is not legal advice.")
}

// leavingSteps prints each stretch of days with its costs.
func (p printer) leavingSteps(plan *milestones.Plan, all []leaving) {
	fmt.Fprintln(p.out, heading(plan))
	for _, l := range all {
		days := l.Date.Words()
		if *l.Until != l.Date {
			days += " to " + l.Until.Words()
		}
		fmt.Fprintf(p.out, "\n%s\n", days)
		var lines [][]string
		for _, one := range l.each {
			lines = append(lines, []string{one.With, plan.Wedding.Currency.Range(one.Cost)})
		}
		lines = append(lines, []string{"In all", plan.Wedding.Currency.Range(milestones.Together(l.each).Cost)})
		p.table(nil, lines)
	}
	p.leavingQuestions(all)
}

// leavingQuestions prints every question once.
func (p printer) leavingQuestions(all []leaving) {
	asked := map[string]bool{}
	for _, l := range all {
		for _, one := range l.each {
			for _, q := range one.Questions {
				if len(asked) == 0 {
					fmt.Fprintln(p.out, "\nQuestions, to settle with the vendor:")
				}
				if !asked[q] {
					fmt.Fprintf(p.out, "  %s\n", q)
				}
				asked[q] = true
			}
		}
	}
}
