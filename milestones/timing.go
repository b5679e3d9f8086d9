package milestones

import (
	"strings"
	"time"
)

// Unit is what a Timing counts in.
type Unit string

// The units.
const (
	Day         Unit = "day"
	BusinessDay Unit = "business day"
	Week        Unit = "week"
	Month       Unit = "month"
	Year        Unit = "year"
	Hour        Unit = "hour" // elapsed time; the others count on the calendar
)

// Bound says which edge of a count a Timing means.
type Bound int

// The edges of a count.
const (
	OnTheDay  Bound = iota // the day itself; "at least N before" and "no later than" too
	MoreThan               // the day before it: "more than 30 days before"
	FewerThan              // the day after it: "fewer than 30 days before"
	WithinOf               // "within 30 days of": read as 30 before, and a question; of what leads, as 30 after
)

// Timing is a date in the contract's own terms: a count, a unit, a side, an
// anchor, perhaps an hour. With N zero it is the anchor's own day; with a
// Weekday, the nearest such day on that side of it.
type Timing struct {
	Says    string // as written
	Bound   Bound
	N       int
	Unit    Unit
	After   bool          // the side of the anchor; false: before
	Weekday *time.Weekday // "the Friday before the wedding"
	With    bool          // "with the balance": the anchor's hour holds too
	Anchor  Anchor
	Clock   *Clock // "by 17:00"
	Zone    string // the zone the term names; empty: the wedding's
	// Sided marks a WithinOf that names its side: "within 30 days before" may
	// mean before those days, or any of them.
	Sided bool
	// Midnight marks an hour written as "midnight", which may mean either
	// end of the day; the earlier is taken, with a question.
	Midnight bool
}

// Anchor is what a Timing counts from: a fixed date, or something of the plan.
type Anchor struct {
	Date Date   // a fixed date, or zero
	Says string // as written: "the wedding", "final headcount"
	ref  ref    // what Says stands for, once the plan is read
}

// leads reports whether a is a day from which an agreement counts on: its
// signing, or one that it gives a name, as an invoice's. What is owed within
// so many days of that is owed after it.
func (a Anchor) leads() bool { return a.signing() || strings.HasPrefix(string(a.ref), "@date/") }

func (a Anchor) signing() bool { return strings.HasPrefix(string(a.ref), "@signing/") }

// sideless reports whether t does not say which side of its anchor it means,
// and it could be either. Nothing is owed before signing.
func (t Timing) sideless() bool { return t.Bound == WithinOf && (t.Sided || !t.Anchor.signing()) }

// Fixed reports whether t names a date of the calendar itself.
func (t Timing) Fixed() bool {
	return !t.Anchor.Date.IsZero() && t.N == 0 && t.Weekday == nil
}
