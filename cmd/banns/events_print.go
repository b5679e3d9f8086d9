package main

import (
	"fmt"
	"slices"
	"strings"

	"banns/conflicts"
	"banns/milestones"
)

// eventsJSON is what banns events read and list write with --json:
//
//	{sources:   [{source, address, read, trouble}],
//	 events:    [{what, from, to, start, end, place, city, at, kind, status, note, source, line}],
//	 left_out:  [{source, line, what, reason}], left_out_more,
//	 questions: [{source, line, rows, text, day_month, month_day}],
//	 doubts:    [{source, line, what, says}]}
//
// Days are YYYY-MM-DD and hours HH:MM, in the wedding's zone; at is latitude
// and longitude. What is not known is null. left_out_more is how many more
// were left out than are listed.
type eventsJSON struct {
	Sources   []sourceJSON        `json:"sources"`
	Events    []eventJSON         `json:"events"`
	LeftOut   []leftOutJSON       `json:"left_out"`
	More      int                 `json:"left_out_more"`
	Questions []orderQuestionJSON `json:"questions"`
	Doubts    []doubtJSON         `json:"doubts"` // of list alone, which knows of earlier years
}

type doubtJSON struct {
	Source string `json:"source"`
	Line   int    `json:"line"`
	What   string `json:"what"`
	Says   string `json:"says"`
}

// doubt adds events that contradict their rule or their name.
func (j *eventsJSON) doubt(events []conflicts.Event) {
	for _, ev := range events {
		j.Doubts = append(j.Doubts, doubtJSON{ev.Source.Name, ev.Source.Line, ev.What, ev.Doubt})
	}
}

type sourceJSON struct {
	Source  string  `json:"source"`
	Address *string `json:"address"`
	Read    *string `json:"read"`
	Trouble *string `json:"trouble"`
}

type eventJSON struct {
	What   string            `json:"what"`
	From   milestones.Date   `json:"from"`
	To     milestones.Date   `json:"to"`
	Start  *milestones.Clock `json:"start"`
	End    *milestones.Clock `json:"end"`
	Place  *string           `json:"place"`
	City   *string           `json:"city"`
	At     *[2]float64       `json:"at"`
	Kind   conflicts.Kind    `json:"kind"`
	Status conflicts.Status  `json:"status"`
	Note   *string           `json:"note"`
	Source string            `json:"source"`
	Line   int               `json:"line"`
}

type leftOutJSON struct {
	Source string  `json:"source"`
	Line   int     `json:"line"`
	What   *string `json:"what"`
	Reason string  `json:"reason"`
}

type orderQuestionJSON struct {
	Source   string          `json:"source"`
	Line     int             `json:"line"`
	Rows     int             `json:"rows"`
	Text     string          `json:"text"`
	DayMonth milestones.Date `json:"day_month"`
	MonthDay milestones.Date `json:"month_day"`
}

func newEventsJSON(all []known) eventsJSON {
	out := eventsJSON{[]sourceJSON{}, []eventJSON{}, []leftOutJSON{}, 0, []orderQuestionJSON{}, []doubtJSON{}}
	for _, k := range all {
		read := ""
		if !k.ReadAt.IsZero() {
			read = milestones.DateOf(k.ReadAt).String()
		}
		out.Sources = append(out.Sources, sourceJSON{k.Name, text(k.Address), text(read), text(k.Trouble)})
		for _, o := range k.LeftOut {
			out.LeftOut = append(out.LeftOut, leftOutJSON{k.Name, o.Line, text(o.What), o.Reason})
		}
		out.More += k.More
		for _, q := range k.Questions {
			out.Questions = append(out.Questions, orderQuestionJSON{k.Name, q.Line, q.Rows, q.Text, q.DayMonth, q.MonthDay})
		}
	}
	for _, ev := range eventsOf(all) {
		out.Events = append(out.Events, eventJSON{ev.What, ev.From, ev.To, ev.Start, ev.End, text(ev.Place.Name), text(ev.Place.City), ev.Place.At,
			ev.Kind, ev.Status, text(ev.Note), ev.Source.Name, ev.Source.Line})
	}
	return out
}

// eventsOf are the events of all sources, by day.
func eventsOf(all []known) (events []conflicts.Event) {
	for _, k := range all {
		events = append(events, k.Events...)
	}
	slices.SortStableFunc(events, func(a, b conflicts.Event) int { return a.From.Compare(b.From) })
	return events
}

// sources prints where events are read, and how that went last.
func (p printer) sources(all []known) {
	var lines [][]string
	for _, k := range all {
		from := "a file"
		if k.Address != "" {
			from = "read again each day"
		}
		lines = append(lines, []string{k.Name, from, "read on " + milestones.DateOf(k.ReadAt).Words()})
	}
	p.table(nil, lines)
	for _, k := range all {
		if k.Trouble != "" {
			fmt.Fprintf(p.out, "  %s: the last try failed, and what is listed is the last good copy: %s\n", k.Name, k.Trouble)
		}
	}
}

// events prints events under their months, and then what was left out.
func (p printer) events(all []known) {
	events := eventsOf(all)
	wide := [2]int{}
	for _, ev := range events {
		until, at := eventSpan(ev)
		wide = [2]int{max(wide[0], len(until)), max(wide[1], len(at))}
	}
	last := milestones.Date{}
	for _, ev := range events {
		p.month(&last, ev.From)
		until, at := eventSpan(ev)
		if wide[1] > 0 {
			at = "  " + pad(at, wide[1])
		}
		fmt.Fprintf(p.out, "  %s %2d%s%s  %s  %s\n", ev.From.Weekday().String()[:3], ev.From.Day, pad(until, wide[0]), at,
			eventTitle(ev), p.paint(quiet, fmt.Sprintf("%s:%d", ev.Source.Name, ev.Source.Line)))
	}
	p.leftOut(all)
}

// eventSpan is the last day of an event, where it has more than one, and its
// hours.
func eventSpan(ev conflicts.Event) (until, at string) {
	switch {
	case ev.To.Year != ev.From.Year:
		until = " to " + ev.To.Words()
	case ev.To != ev.From:
		until = " to " + strings.TrimSuffix(ev.To.Words(), fmt.Sprint(" ", ev.To.Year))
	}
	if ev.Start != nil {
		at = ev.Start.String()
		if ev.End != nil {
			at += "-" + ev.End.String()
		}
	}
	return until, at
}

// eventTitle is what an event is, where, and how sure.
func eventTitle(ev conflicts.Event) string {
	s := ev.What
	if place := ev.Place.String(); place != "" {
		s += ", " + place
	}
	if ev.Kind != conflicts.Other {
		s += " (" + string(ev.Kind) + ")"
	}
	if ev.Status == conflicts.Expected {
		s += ", expected"
	}
	return s
}

// leftOut prints what was left out of each source, and what a table asks.
func (p printer) leftOut(all []known) {
	first := true
	for _, k := range all {
		for _, o := range k.LeftOut {
			if first {
				fmt.Fprintf(p.out, "\nLeft out, or not taken as it stands\n")
				first = false
			}
			where := k.Name
			if o.Line > 0 {
				where += fmt.Sprintf(":%d", o.Line)
			}
			if o.What != "" {
				where += ": " + o.What
			}
			fmt.Fprintf(p.out, "  %s: %s\n", where, o.Reason)
		}
		if k.More > 0 {
			fmt.Fprintf(p.out, "  %s: and %d more\n", k.Name, k.More)
		}
	}
	for _, k := range all {
		for _, q := range k.Questions {
			fmt.Fprintf(p.out, "\n%s: is %s %s, or %s? %s for the answer.\n  Give the file again with --order day-month or --order month-day.\n",
				k.Name, q.Text, q.DayMonth.Words(), q.MonthDay.Words(), waiting(q.Rows))
		}
	}
}

// doubted prints events that contradict their rule or their name.
func (p printer) doubted(events []conflicts.Event) {
	for n, ev := range events {
		if n == 0 {
			fmt.Fprintf(p.out, "\nTo be looked at\n")
		}
		fmt.Fprintf(p.out, "  %s:%d: %s: %s\n", ev.Source.Name, ev.Source.Line, ev.What, ev.Doubt)
	}
}

func waiting(rows int) string {
	if rows == 1 {
		return "1 row waits"
	}
	return fmt.Sprintf("%d rows wait", rows)
}
