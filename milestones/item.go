package milestones

// Kind is what an Item is.
type Kind string

// The kinds.
const (
	KindPayment     Kind = "payment"
	KindRefund      Kind = "refund"
	KindCancelBy    Kind = "cancel-by"
	KindChangeBy    Kind = "change-by"
	KindPaper       Kind = "paper"
	KindAppointment Kind = "appointment"
	KindOccasion    Kind = "occasion"
	KindMilestone   Kind = "milestone"
	KindWedding     Kind = "wedding"
)

// Kinds are all kinds.
var Kinds = []Kind{KindPayment, KindRefund, KindCancelBy, KindChangeBy, KindPaper,
	KindAppointment, KindOccasion, KindMilestone, KindWedding}

// Item is one dated result of a plan. Nothing but Schedule makes one, and
// nothing else computes a date.
type Item struct {
	ID        string // its place in the plan by keys: catering/pay-2
	Kind      Kind
	Agreement string // key of the agreement, or empty
	Term      string // key of the term, or empty
	Title     string // without a sum, a share or the contract's words
	With      string // the vendor's name, or empty

	Moment        // the contract's day, and its hour where there is one; zero while undated
	Until  *Clock // when an appointment or occasion ends
	ActBy  Date   // the last open day on or before the contract's; zero for what is not handed to a vendor
	Shut   string // why the contract's day is not ActBy: "Labor Day"

	Amount   Amount // a payment's or refund's sum; of a cancel-by: what leaving by then costs
	Later    Amount // of a cancel-by: what leaving costs from the next day
	Saves    Amount // of a cancel-by: Later less Amount; not known where the steps leave a doubt
	Place    Place
	For      []string // who is named besides those who see it anyway
	Hide     []string
	Standing Standing // of the agreement, or empty
	Owed     bool
	Rule     string // the phrase
	Wording  string // the contract's own sentence
	Note     string
	Done     Date   // the day it was done, or zero
	WaitsFor string // why it has no date
	LateBy   *int   // days by which a milestone cannot be met
	Aim      *Aim   // the room that a milestone has; nil for whatever else

	Questions []Question
}

// Undated reports whether the item has no date yet.
func (i *Item) Undated() bool { return i.Date.IsZero() }

// Deadline reports whether the item is something to be done by its day, not
// something to be kept or attended.
func (i *Item) Deadline() bool {
	switch i.Kind {
	case KindPayment, KindCancelBy, KindChangeBy, KindPaper:
		return true
	}
	return false
}

// Day is the day on which the item is acted upon: ActBy, or its own.
func (i *Item) Day() Date {
	if !i.ActBy.IsZero() {
		return i.ActBy
	}
	return i.Date
}

// State is how an item stands on a given day.
type State string

// The states.
const (
	Undated State = "undated"
	Open    State = "open"
	Overdue State = "overdue"
	Done    State = "done"
	Past    State = "past"
)

// StateOn is how the item stands on today. What is to be done under an
// agreement that binds is overdue once its contract's day is over; a last
// day to cancel, and whatever is kept or attended, is then past.
func StateOn(i *Item, today Date) State {
	switch {
	case !i.Done.IsZero():
		return Done
	case i.Undated():
		return Undated
	case !i.Date.Before(today):
		return Open
	case i.duty():
		return Overdue
	}
	return Past
}

// duty reports whether somebody still has to do it.
func (i *Item) duty() bool {
	switch i.Kind {
	case KindChangeBy, KindPayment, KindRefund, KindPaper:
		if i.Term == Postponing {
			return false // the last day to ask for another date binds nobody
		}
		return i.Standing == Signed || i.Owed || i.Kind == KindRefund && i.Standing != Quoted
	case KindMilestone:
		return true
	}
	return false
}
