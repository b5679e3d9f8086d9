package conflicts

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"

	"banns/milestones"
)

// Scope is what a source of public events is read for.
type Scope struct {
	Source   string          // name of the file or the calendar
	Zone     *time.Location  // the wedding's: an event's days are its days, and hours without a zone are its hours
	From, To milestones.Date // events that touch these days are kept, both included
	Order    Order           // what to make of 03/04/2027 where a table leaves it open
}

// Order is whether the day or the month stands first in a date.
type Order string

// The orders. Without one, a table whose rows do not settle it asks.
const (
	DayMonth Order = "day-month"
	MonthDay Order = "month-day"
)

// Listing is what a source lists. Whatever is sound is taken, and nothing
// else is left out without a word.
type Listing struct {
	Events    []Event    // by first day, hour and line
	LeftOut   []LeftOut  // by line
	More      int        // how many more were left out than LeftOut holds
	Questions []Question // rows that wait for an answer are in LeftOut too
	Told      int        // how many events the source tells of, on whatever days
	Cut       bool       // the source ends in the middle of a calendar, and not by our bounds
}

// LeftOut is something in a source that was not taken, or not as it stands.
type LeftOut struct {
	Line   int    // from 1; 0 for the source as a whole
	What   string // the event, or the words it is about; may be empty
	Reason string
}

// Question is what a table leaves open: which number of a date is the day.
type Question struct {
	Line     int // the first row that it is about
	Rows     int // how many rows wait for the answer
	Text     string
	DayMonth milestones.Date // what Text means with the day first
	MonthDay milestones.Date // and with the month first
}

// Bounds on a source. It comes from outside, and may be made to do harm.
const (
	MaxBody    = 5 << 20 // bytes that are read of it
	maxLines   = 200_000
	maxLine    = 64 << 10 // bytes of a line, unfolded
	maxEvents  = 50_000   // in one source, each day of a repeat by itself
	maxRepeats = 1_000    // days of one event
	maxLeftOut = 1_000
	maxName    = 200 // runes of a name or a place
	maxNote    = 1_000
)

// ReadEvents reads a calendar or a table, whichever it is.
func ReadEvents(r io.Reader, scope Scope) (Listing, error) {
	body, l, err := load(r, scope)
	if err != nil {
		return Listing{}, err
	}
	if beginsCalendar(body) {
		err = l.calendar(body)
	} else {
		err = l.table(body)
	}
	return l.done(), err
}

// ReadCalendar reads iCalendar text (RFC 5545). An error means that there is
// no calendar in it; whatever else is wrong is in the listing.
func ReadCalendar(r io.Reader, scope Scope) (Listing, error) {
	body, l, err := load(r, scope)
	if err != nil {
		return Listing{}, err
	}
	err = l.calendar(body)
	return l.done(), err
}

// ReadTable reads a table as text: comma, semicolon or tab between cells, and
// a line of headings. An error means that there are no headings to go by.
func ReadTable(r io.Reader, scope Scope) (Listing, error) {
	body, l, err := load(r, scope)
	if err != nil {
		return Listing{}, err
	}
	err = l.table(body)
	return l.done(), err
}

// lister gathers a listing.
type lister struct {
	scope   Scope
	listing Listing
	full    bool // that there are too many events has been said
	short   bool // our bounds end the text
}

var errEmpty = errors.New("there is nothing in it")

// load takes the text of a source, as far as it may go.
func load(r io.Reader, scope Scope) ([]byte, *lister, error) {
	l := &lister{scope: scope}
	body, err := io.ReadAll(io.LimitReader(r, MaxBody+1))
	if err != nil {
		return nil, nil, fmt.Errorf("read %s: %w", scope.Source, err)
	}
	if len(body) > MaxBody {
		body, l.short = body[:MaxBody], true
		l.leaveOut(0, "", "only the first 5 MB were read")
	}
	body = decode16(body)
	if len(bytes.TrimSpace(body)) == 0 {
		return nil, nil, errEmpty
	}
	return body, l, nil
}

// leaveOut notes what was not taken.
func (l *lister) leaveOut(line int, what, reason string, args ...any) {
	if len(l.listing.LeftOut) == maxLeftOut {
		l.listing.More++
		return
	}
	l.listing.LeftOut = append(l.listing.LeftOut, LeftOut{line, clean(what, maxName), clean(fmt.Sprintf(reason, args...), maxNote)})
}

// touches reports whether an event is in the days that are read for.
func (s Scope) touches(from, to milestones.Date) bool {
	return !to.Before(s.From) && !from.After(s.To)
}

// take keeps an event, and reports whether there was room for it.
func (l *lister) take(e Event) bool {
	if len(l.listing.Events) == maxEvents {
		if !l.full {
			l.full = true
			l.leaveOut(e.Source.Line, e.What, "only the first %d events are taken; this one and those after it are not", maxEvents)
		}
		return false
	}
	l.listing.Events = append(l.listing.Events, e)
	return true
}

func (l *lister) done() Listing {
	slices.SortFunc(l.listing.Events, func(a, b Event) int {
		return cmp.Or(a.From.Compare(b.From), compareClocks(a.Start, b.Start), cmp.Compare(a.Source.Line, b.Source.Line))
	})
	slices.SortStableFunc(l.listing.LeftOut, func(a, b LeftOut) int { return cmp.Compare(a.Line, b.Line) })
	return l.listing
}

// compareClocks puts an event without an hour before those with one.
func compareClocks(a, b *milestones.Clock) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return -1
	case b == nil:
		return 1
	}
	return cmp.Or(cmp.Compare(a.Hour, b.Hour), cmp.Compare(a.Minute, b.Minute))
}
