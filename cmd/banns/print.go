package main

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"banns/feed"
	"banns/milestones"
)

// printer writes for people: columns that line up, the weekday with every
// day, the currency with every sum, and colour on a terminal alone, unless
// NO_COLOR is set.
type printer struct {
	out    io.Writer
	colour bool
}

func newPrinter(out io.Writer) printer {
	return printer{out, terminal(out) && os.Getenv("NO_COLOR") == ""}
}

// terminal reports whether w is a terminal.
func terminal(w any) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

const (
	quiet   = "2"
	settled = "32"
	due     = "33"
	late    = "31"
)

func (p printer) paint(code, s string) string {
	if !p.colour || code == "" || s == "" {
		return s
	}
	return "\x1b[" + code + "m" + s + "\x1b[0m"
}

// standing is the word for how a row stands, and its colour.
func standing(r row, today milestones.Date) (word, colour string) {
	switch r.state {
	case milestones.Done:
		return "settled", settled
	case milestones.Overdue:
		return "late", late
	case milestones.Past:
		return "past", quiet
	case milestones.Undated:
		return "", quiet
	}
	switch {
	case r.Kind != milestones.KindMilestone && !r.entry.Deadline() || r.Kind == milestones.KindCancelBy:
		return "", ""
	case r.entry.Day().DaysSince(today) <= feed.SoonDays:
		return "due soon", due
	}
	return "to do", ""
}

// list prints rows under their months, undated ones last.
func (p printer) list(plan *milestones.Plan, rows []row, today milestones.Date) {
	fmt.Fprintln(p.out, heading(plan))
	wide, sums := 0, len("$1,000,000.00")
	for _, r := range rows {
		wide, sums = max(wide, utf8.RuneCountInString(title(r))), max(sums, utf8.RuneCountInString(sum(r)))
	}
	wide = min(wide, 64)
	// People go by the day to act; the plan's own order is by contract's day.
	rows = slices.Clone(rows)
	slices.SortStableFunc(rows, func(a, b row) int { return a.entry.Day().Compare(b.entry.Day()) })
	last, said := milestones.Date{}, map[string]bool{}
	for _, r := range rows {
		if r.Date == nil {
			continue
		}
		day := r.entry.Day()
		p.month(&last, day)
		word, colour := standing(r, today)
		fmt.Fprintln(p.out, strings.TrimRight(fmt.Sprintf("  %s %2d  %5s  %s  %*s  %s",
			day.Weekday().String()[:3], day.Day, deref(r.Time), pad(title(r), wide), sums, sum(r), p.paint(colour, word)), " ")+aside(r))
		for _, says := range r.around { // once a day is enough
			if said[day.String()+says] {
				continue
			}
			said[day.String()+says] = true
			fmt.Fprintln(p.out, p.paint(quiet, strings.Repeat(" ", len("  Mon  1  00:00  "))+says))
		}
	}
	p.undated(rows)
}

// month prints the month of day as a heading, where the day printed last was
// of another.
func (p printer) month(last *milestones.Date, day milestones.Date) {
	if day.Month != last.Month || day.Year != last.Year {
		fmt.Fprintf(p.out, "\n%s %d\n", day.Month, day.Year)
	}
	*last = day
}

func (p printer) undated(rows []row) {
	first := true
	for _, r := range rows {
		if r.Date != nil {
			continue
		}
		if first {
			fmt.Fprintf(p.out, "\nNot dated yet\n")
			first = false
		}
		fmt.Fprintf(p.out, "  %s: waits for %s\n", title(r), deref(r.WaitsFor))
	}
}

func heading(plan *milestones.Plan) string {
	w := plan.Wedding
	s := w.Title + ": "
	if w.Date.IsZero() {
		s += "the date is open"
	} else {
		s += w.Date.Words()
	}
	if w.Start != nil {
		s += ", " + w.Start.String()
	}
	if place := w.Place.String(); place != "" {
		s += ", " + place
	}
	return s
}

// title is the row's title as a person reads it beside a sum.
func title(r row) string {
	switch {
	case r.Kind == milestones.KindWedding:
		return r.Title + ": the wedding"
	case r.Kind == milestones.KindCancelBy && sum(r) != "":
		return r.Title + ", which costs"
	}
	return r.Title
}

// aside says the contract's day where it is not the day to act by, and who is
// closed then where its weekday does not say so.
func aside(r row) string {
	e := r.entry
	if e.ActBy.IsZero() || e.ActBy == e.Date || !e.Done.IsZero() {
		return ""
	}
	words := e.Date.Words()
	says := "  (contract: " + words[:strings.LastIndex(words, " ")]
	switch e.Shut {
	case "", e.Date.Weekday().String():
	case "closed by the agreement":
		says += "; they are closed"
	default:
		says += "; " + r.shut + " are closed for " + e.Shut
	}
	return says + ")"
}

func sum(r row) string {
	if r.entry.Currency == "" || !r.entry.Amount.Known {
		return ""
	}
	return r.entry.Currency.Range(r.entry.Amount)
}

func deref(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

func pad(s string, wide int) string {
	return s + strings.Repeat(" ", max(0, wide-utf8.RuneCountInString(s)))
}
