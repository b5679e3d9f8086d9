package desk

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

// sourceRead is what was made of a source, as a page tells it.
type sourceRead struct {
	Unread    string // why nothing can be made of it
	Count     string
	Events    []string
	Doubts    []string // events that contradict themselves or their rule
	LeftOut   []string
	Questions []orderQuestion
}

// orderQuestion is which number of a date is the day.
type orderQuestion struct{ Asks, DayMonth, MonthDay string }

// The most that a page shows of one source.
const (
	eventsMost  = 150
	doubtsMost  = 100
	leftOutMost = 100
)

// sourcesRead is what was made of the sources of a wedding, by their names.
type sourcesRead struct {
	once sync.Once
	by   map[string]sourceRead
}

// readKey is all that this goes by.
type readKey struct {
	wedding, mark, zone, region string
	first, last                 milestones.Date
}

// sourcesRead are the sources of a wedding, and what is made of them. The text
// of one may be long, and full of events that contradict their own rule: it is
// read once. The mark is asked for first, so that what is kept under it is
// never older.
func (d *Desk) sourcesRead(ctx context.Context, s *sight, first, last milestones.Date) ([]store.Source, map[string]sourceRead, error) {
	mark, err := d.Store.SourcesMark(ctx, s.ID)
	if err != nil {
		return nil, nil, err
	}
	sources, err := d.Store.Sources(ctx, s.ID)
	if err != nil {
		return nil, nil, err
	}
	w := &s.plan.Wedding
	read := d.read.at(readKey{s.ID, mark, w.Zone, w.Region, first, last})
	read.once.Do(func() { read.fill(w, sources, first, last) })
	return sources, read.by, nil
}

func (all *sourcesRead) fill(w *milestones.Wedding, sources []store.Source, first, last milestones.Date) {
	all.by = map[string]sourceRead{}
	var events []conflicts.Event
	for _, src := range sources {
		var row sourceRead
		l, err := src.Listing(w.Location(), first.AddMonths(-12*conflicts.PastYears), last)
		if err != nil {
			row.Unread = err.Error()
		}
		row.fill(l, first)
		events = append(events, l.Events...)
		all.by[src.Name] = row
	}
	for name, doubts := range contradictions(events, first.Year, last.Year, w.Region) {
		if more := len(doubts) - doubtsMost; more > 0 {
			doubts = append(doubts[:doubtsMost], fmt.Sprintf("and %d more", more))
		}
		row := all.by[name]
		row.Doubts = doubts
		all.by[name] = row
	}
}

// fill puts what was read into the row: what is on from a day on, what was
// left out, and what is asked.
func (row *sourceRead) fill(l conflicts.Listing, from milestones.Date) {
	coming := slices.DeleteFunc(slices.Clone(l.Events), func(e conflicts.Event) bool { return e.To.Before(from) })
	row.Count = fmt.Sprintf("%s, %d of them from %d on", plural(len(l.Events), "event"), len(coming), from.Year)
	for n, e := range coming {
		if n == eventsMost {
			row.Events = append(row.Events, fmt.Sprintf("and %d more", len(coming)-n))
			break
		}
		row.Events = append(row.Events, eventWords(e))
	}
	for n, o := range l.LeftOut {
		if n == leftOutMost {
			row.LeftOut = append(row.LeftOut, fmt.Sprintf("and %d more", len(l.LeftOut)-n+l.More))
			break
		}
		row.LeftOut = append(row.LeftOut, leftOutWords(o))
	}
	for _, q := range l.Questions {
		row.Questions = append(row.Questions, orderQuestion{
			fmt.Sprintf("Line %d says %s. Which number is the day? %s.", q.Line, q.Text, waiting(q.Rows)), q.DayMonth.Words(), q.MonthDay.Words()})
	}
}

func waiting(rows int) string {
	if rows == 1 {
		return "1 row waits for the answer"
	}
	return fmt.Sprintf("%d rows wait for the answer", rows)
}

// eventWords is an event in a line.
func eventWords(e conflicts.Event) string {
	says := e.From.Words()
	if e.To != e.From {
		says += " to " + e.To.Words()
	}
	if e.Start != nil {
		says += ", " + e.Start.String()
	}
	if e.End != nil {
		says += " to " + e.End.String()
	}
	says += ": " + e.What
	if place := e.Place.String(); place != "" {
		says += ", " + place
	}
	if e.Kind != conflicts.Other {
		says += " (" + string(e.Kind) + ")"
	}
	return fmt.Sprintf("%s, line %d", says, e.Source.Line)
}

func leftOutWords(o conflicts.LeftOut) string {
	says := o.Reason
	if o.What != "" {
		says = o.What + ": " + says
	}
	if o.Line > 0 {
		says = fmt.Sprintf("Line %d: %s", o.Line, says)
	}
	return capital(says)
}

// contradictions are the events of some years that contradict the rule of
// their earlier editions or their own names, by source.
func contradictions(all []conflicts.Event, first, last int, region string) map[string][]string {
	found := map[string][]string{}
	for _, e := range conflicts.Doubted(all, first, last, region) {
		found[e.Source.Name] = append(found[e.Source.Name], fmt.Sprintf("Line %d: %s: %s", e.Source.Line, e.What, e.Doubt))
	}
	return found
}
