package web

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"banns/feed"
	"banns/milestones"
)

// mark is the shape that stands before a word of state.
type mark string

const (
	noMark        mark = ""
	todoMark      mark = "todo"
	soonMark      mark = "soon"
	lateMark      mark = "late"
	settledMark   mark = "settled"
	withdrawnMark mark = "withdrawn"
)

// Date is one entry as a page shows it.
type Date struct {
	Day       milestones.Date
	When      string // the day in words, with the year only where nothing else tells it
	Hours     string
	What      string
	Place     string
	For       string // who is asked, where the reader is not
	Wedding   string // where the page is of several, and What does not say it
	Mark      mark
	Word      string // of its state
	Question  bool
	Withdrawn bool
	More      []string // the full text, a line each
	Meets     []string // what of the city's events it meets
	Hidden    string   // from whom it is, for those who see it
	Door      *Door    // to where it is changed, or nil
	hour      string   // to order by
}

// Door is a link, and what it says.
type Door struct{ To, Says string }

// Month is the dates of one month, or of another group.
type Month struct {
	Name  string
	Dates []Date
}

// Dates are a person's entries, as they stand on one day.
type Dates struct {
	Late   []Date
	Coming []Month
	Past   []Month

	Soon, Later, Over int  // how many
	Folded            bool // some have more to say
}

// DayBook is how a page shows entries.
type DayBook struct {
	Today   func(zone string) milestones.Date
	Joint   bool                       // each line names its wedding
	OneZone bool                       // all hours are of one city, which is told once
	Door    func(*feed.Entry) *Door    // where an entry is changed; nil: nowhere
	Hidden  func(*feed.Entry) string   // from whom an entry is hidden, in words; nil: it is not told
	Meets   func(*feed.Entry) []string // what of the city's events an entry meets; nil: it is not told
}

// SortDates puts entries where they belong on the day that it is at their
// wedding. Early notices are left out: the thing itself is there.
func SortDates(entries []feed.Published, book DayBook) Dates {
	var all Dates
	var coming, past []Date
	for i := range entries {
		p := entries[i]
		if p.Of == feed.Notice || p.Date.IsZero() {
			continue
		}
		p.Among = p.Among && !book.OneZone
		now := book.Today(p.HomeZone)
		d := NewDate(&p, now)
		if book.Door != nil {
			d.Door = book.Door(&p.Entry)
		}
		if book.Hidden != nil {
			d.Hidden = book.Hidden(&p.Entry)
		}
		if book.Meets != nil && !d.Day.Before(now) {
			d.Meets = book.Meets(&p.Entry)
		}
		if book.Joint && !p.NamesWedding() {
			d.Wedding = p.Wedding
		}
		all.Folded = all.Folded || len(d.More) > 0
		switch {
		case d.Mark == lateMark:
			if d.Day.Year != now.Year {
				d.When = d.Day.Words()
			}
			all.Late = append(all.Late, d)
		case d.Day.Before(now) && (d.Withdrawn || p.StateOn(now) != milestones.Open):
			past = append(past, d)
		default:
			coming = append(coming, d)
			switch {
			case d.Withdrawn: // shown, and nothing to come
			case d.Day.DaysSince(now) <= feed.SoonDays:
				all.Soon++
			default:
				all.Later++
			}
		}
	}
	slices.SortStableFunc(all.Late, inOrder)
	all.Coming, all.Past, all.Over = byMonth(coming), byMonth(past), len(past)
	return all
}

// NewDate is what the page shows of p. Of what was withdrawn it shows the
// title, the day and whose it was, and nothing else.
func NewDate(p *feed.Published, today milestones.Date) Date {
	day := p.Day()
	words := day.Words()
	d := Date{Day: day, When: words[:strings.LastIndex(words, " ")]}
	if p.Withdrawn {
		d.What, d.For, d.Withdrawn, d.Mark, d.Word = p.Title, p.For, true, withdrawnMark, "withdrawn"
		return d
	}
	d.What = p.What()
	d.Mark, d.Word = stateOf(&p.Entry, today)
	d.Question = len(p.Questions) > 0 && p.Done.IsZero()
	if !p.Deadline() {
		d.Hours, d.Place, d.For = p.Hours(), p.Place.String(), p.For
	}
	if p.Clock != nil {
		d.hour = p.Clock.String()
	}
	if lines := strings.Split(p.Text(), "\n"); len(lines) > 1 { // one line says what the row says
		d.More = lines
	}
	return d
}

// StateOf is the mark and the word of how e stands on today.
func StateOf(e *feed.Entry, today milestones.Date) (shape, word string) {
	m, word := stateOf(e, today)
	return string(m), word
}

// stateOf is the mark and the word of how e stands. The word is true of what
// e is: nobody has to do a last day to cancel, or a dinner.
func stateOf(e *feed.Entry, today milestones.Date) (mark, string) {
	switch state := e.StateOn(today); {
	case state == milestones.Done:
		return settledMark, "settled"
	case state == milestones.Past, state == milestones.Overdue && e.Option():
		return noMark, "over"
	case state == milestones.Overdue:
		return lateMark, "late"
	}
	shape, soon := todoMark, e.Day().DaysSince(today) <= feed.SoonDays
	if soon {
		shape = soonMark
	}
	switch incoming := e.Kind == milestones.KindRefund || e.Kind == milestones.KindPayment && e.Vendor; {
	case e.Kind == milestones.KindCancelBy:
		return shape, "only if you leave"
	case e.Option():
		return shape, "only if you move it"
	case e.For != "":
		return shape, "others attend"
	case e.Kind == milestones.KindAppointment, e.Kind == milestones.KindOccasion, e.Kind == milestones.KindWedding:
		return shape, "to attend"
	case soon:
		return shape, "due soon"
	case incoming:
		return shape, "to come"
	}
	return shape, "to do"
}

// byMonth puts dates in order, under their months. What is on in the city on
// a day is told once.
func byMonth(all []Date) []Month {
	slices.SortStableFunc(all, inOrder)
	var months []Month
	var last Date
	for _, d := range all {
		if told := last.Meets; last.Day == d.Day {
			d.Meets = slices.DeleteFunc(d.Meets, func(says string) bool { return slices.Contains(told, says) })
			last.Meets = append(told, d.Meets...)
		} else {
			last = d
		}
		name := fmt.Sprintf("%s %d", d.Day.Month, d.Day.Year)
		if n := len(months); n == 0 || months[n-1].Name != name {
			months = append(months, Month{Name: name})
		}
		last := &months[len(months)-1]
		last.Dates = append(last.Dates, d)
	}
	return months
}

// inOrder is by day, then by hour; what has none comes first.
func inOrder(a, b Date) int {
	return cmp.Or(a.Day.Compare(b.Day), cmp.Compare(a.hour, b.hour))
}
