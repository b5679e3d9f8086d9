package main

import (
	"strings"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
)

type listCmd struct {
	Plan string `arg:"" help:"Plan file, or name of a stored wedding."`
	For  string `help:"Only what this person may see." placeholder:"PERSON"`
	JSON bool   `name:"json" help:"Write JSON."`
}

// row is one item as list shows it. What does not apply is null.
type row struct {
	ID        string           `json:"id"`
	UID       *string          `json:"uid"`
	Kind      milestones.Kind  `json:"kind"`
	Agreement *string          `json:"agreement"`
	Term      *string          `json:"term"`
	Title     string           `json:"title"`
	Date      *string          `json:"date"`
	Until     *string          `json:"until"`
	Time      *string          `json:"time"`
	Zone      *string          `json:"zone"`
	ActBy     *string          `json:"act_by"`
	Amount    *string          `json:"amount"`
	Currency  *string          `json:"currency"`
	Place     *string          `json:"place"`
	For       []string         `json:"for"`
	Standing  *string          `json:"standing"`
	Rule      *string          `json:"rule"`
	State     milestones.State `json:"state"`
	WaitsFor  *string          `json:"waits_for"`
	LateBy    *int             `json:"late_by"`
	Notes     []string         `json:"notes"`

	entry  feed.Entry // for people: the words
	shut   string     // who is closed on the contract's day
	state  milestones.State
	around []string // the city's events that it meets
}

// Run lists the plan's dates, in order.
func (c *listCmd) Run(e *env) error {
	doc, isStored, err := e.load(c.Plan)
	if err != nil {
		return err
	}
	p := doc.Plan
	today := e.day(p.Wedding.Zone)
	items := milestones.Schedule(p, closures(p))
	around, err := c.around(e, p, items, isStored)
	if err != nil {
		return err
	}
	var rows []row
	if c.For == "" {
		for i := range items {
			entry := feed.Whole(p, &items[i])
			r := newRow(p, entry, feed.Audience(p, &items[i]), today)
			r.UID = nil
			rows = append(rows, r)
		}
	} else {
		if _, err := somebody(p, c.For); err != nil {
			return err
		}
		for _, entry := range feed.View(p, items, c.For) {
			rows = append(rows, newRow(p, entry, []string{c.For}, today))
		}
	}
	for n := range rows {
		for _, k := range around[rows[n].ID] {
			rows[n].Notes = append(rows[n].Notes, k.Says)
			rows[n].around = append(rows[n].around, k.Says)
		}
	}
	if c.JSON {
		if rows == nil {
			rows = []row{}
		}
		return writeJSON(e.out, rows)
	}
	newPrinter(e.out).list(p, rows, today)
	return nil
}

// around is what of the city's events a stored wedding's own dates meet. It
// stands in lists, and in no feed: a match that moves is to move nobody's
// phone.
func (c *listCmd) around(e *env, p *milestones.Plan, items []milestones.Item, isStored bool) (map[string][]conflicts.Clash, error) {
	first, last := conflicts.AroundDays(items)
	if !isStored || first.IsZero() {
		return nil, nil
	}
	s, err := e.existing()
	if err != nil {
		return nil, err
	}
	defer s.Close()
	all, err := e.known(s, p, c.Plan, first.AddMonths(-12*conflicts.PastYears), last.AddDays(conflicts.ReachDays))
	if err != nil {
		return nil, err
	}
	return conflicts.Around(p, items, eventsOf(all)), nil
}

func newRow(p *milestones.Plan, e feed.Entry, audience []string, today milestones.Date) row {
	r := row{
		ID: e.ID, UID: text(e.UID), Kind: e.Kind, Agreement: text(e.Agreement), Term: text(e.Term), Title: e.Title,
		Date: text(e.Date.String()), ActBy: text(e.ActBy.String()), Place: text(e.Place.String()), For: audience,
		Standing: text(string(e.Standing)), Rule: text(e.Rule), State: e.StateOn(today), WaitsFor: text(e.WaitsFor),
		LateBy: e.LateBy, Notes: []string{}, entry: e, shut: feed.Closed(p, &e),
	}
	if e.Clock != nil {
		r.Time, r.Zone = text(e.Clock.String()), text(e.Zone)
	}
	if e.Until != nil {
		r.Until = text(e.Until.String())
	}
	if m, exact := e.Amount.Exact(); exact && e.Currency != "" {
		r.Amount, r.Currency = text(e.Currency.Plain(m)), text(string(e.Currency))
	}
	if says := e.ContractDay(r.shut); says != "" {
		r.Notes = append(r.Notes, says)
	}
	if e.Note != "" {
		r.Notes = append(r.Notes, e.Note)
	}
	if e.Aim != nil {
		r.Notes = append(append(r.Notes, e.Aim.Why...), filledLines(e.Aim.Late)...)
	}
	r.Notes = append(r.Notes, e.Questions...)
	r.state = r.State
	return r
}

// text is s, or null where it does not apply.
func text(s string) *string {
	if strings.TrimSpace(s) == "" {
		return nil
	}
	return &s
}
