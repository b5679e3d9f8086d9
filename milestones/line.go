package milestones

// Line is what is common to every dated line of an agreement, as it was
// written down.
type Line struct {
	Key     string // pay-1; unique within the agreement, and kept for good
	Keyed   bool   // the plan file names the key itself
	Says    string // the phrase, in the contract's own terms
	What    string // a label that replaces the one in the phrase
	Done    Date   // the day it was done, or zero
	Amount  *Money // what was paid, or what the invoice says
	Given   int    // the headcount that was given with this line, or 0; it becomes the price's
	Owed    bool   // still to be done although the agreement is replaced or ended
	For     []string
	Hide    []string // "hide from"
	Note    string
	Wording string // the contract's own sentence

	DoneParts []Date // of equal payments: the days on which the first so many were done
	CameBack  Date   // of security: the day it came back, or zero

	Answers []Answer // to what the line leaves open
}

// Payment is money to be paid to a vendor.
type Payment struct {
	Line
	Form   PayForm
	Share  Percent
	OfRest bool  // Share is of the price less the payments named before it
	Sum    Money // of FixedSum and Security
	Times  int   // of Equal
	When   Timing
	Back   *Timing // of Security: when it comes back
}

// PayForm is how a Payment states its sum.
type PayForm int

// The forms of a payment.
const (
	ByShare  PayForm = iota // a share of the price
	FixedSum                // a sum of its own
	Balance                 // what remains
	Equal                   // equal monthly parts of what remains
	Security                // a deposit against damage; no part of the price
)

// CancelStep is one rung of what leaving the agreement costs.
type CancelStep struct {
	Line
	Cost  Cost
	From  *Timing // the first day of the rung, or nil
	Until *Timing // its last day, or nil
	Then  bool    // "after that": from the day after the last until
}

// ChangeBy is the last day to change something, such as a headcount.
type ChangeBy struct {
	Line
	Label string
	When  Timing
}

// Paper is a document that one side owes the other.
type Paper struct {
	Line
	Label string
	When  Timing
}

// Postponing is the term that an agreement's Postpone is known by.
const Postponing = "postpone"

// Postpone is what the agreement says about moving to another date.
type Postpone struct {
	Line
	Times  int    // how often; 0 where it does not say
	Notice Timing // the last day to ask; its Says is empty where there is none
	Fee    Money
	Latest *Timing // the latest new date, counted from the old one, or fixed
}

// Label is what the line is called: what replaces the label of the phrase.
func (l Line) label(read string) string {
	if l.What != "" {
		return l.What
	}
	return read
}
