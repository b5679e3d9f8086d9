package milestones

// Standing is where an agreement is in its life.
type Standing string

// The standings.
const (
	Quoted   Standing = "quoted"
	Signed   Standing = "signed"
	Replaced Standing = "replaced" // another vendor took over
	Ended    Standing = "ended"    // left
)

// Standings are all standings, in the order of an agreement's life.
var Standings = []Standing{Quoted, Signed, Replaced, Ended}

// Agreement is what was agreed with one vendor.
type Agreement struct {
	Key          string
	With         string // the vendor's name
	Service      string
	Standing     Standing
	Signed       Date // the day of the last signature, or zero
	Price        Price
	Payer        string // key of the person whose payments these are, or empty
	Contact      string // key of the person at the vendor, or empty
	BusinessDays BusinessDays
	Closed       []Date // days on which the vendor is closed
	Dates        []NamedDate
	Pay          []Payment
	Cancel       []CancelStep
	Change       []ChangeBy
	Papers       []Paper
	Postpone     *Postpone
	Hide         []string // "hide from", for every line
	Note         string
	Answers      []NamedAnswer // to what the agreement as a whole leaves open, by Doubt
}

// NamedDate is a date of the agreement that its terms count from, such as
// the invoice's; zero until it is known.
type NamedDate struct {
	Name string
	Date Date
}

// Binding reports whether the agreement holds today: it is signed, and
// neither replaced nor ended.
func (a *Agreement) Binding() bool { return a.Standing == Signed }

// Over reports whether another took its place, or it was left.
func (a *Agreement) Over() bool { return a.Standing == Replaced || a.Standing == Ended }

// Lines are all dated lines of a.
func (a *Agreement) Lines() []*Line {
	var all []*Line
	a.lines(func(l *Line, _ string, _ int) { all = append(all, l) })
	return all
}

// Paths are where Lines stand in the plan, in the same order.
func (a *Agreement) Paths() []string {
	var all []string
	a.lines(func(_ *Line, list string, i int) { all = append(all, linePath(a, list, i)) })
	return all
}
