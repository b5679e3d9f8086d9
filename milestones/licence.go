package milestones

// Licence is the rule of the office that issues the marriage licence, as the
// planner was told it. Nothing of it is assumed: places differ, and the
// office's word counts.
type Licence struct {
	Office string
	Waits  string // 3 days; 72 hours from issue; none
	Lasts  string // 33 days; 6 months from issue; before the 90th day from issue
	Return string // how soon after the wedding it goes back: 10 days

	waits, lasts, back period
}

// period is a stretch of time in the office's rule.
type period struct {
	n     int
	unit  Unit
	short bool   // one day short of it: "before the 90th day", "fewer than 90 days"
	from  origin // what it runs from
}

type origin string

const (
	fromEither      origin = "" // the rule does not say
	fromApplication origin = "application"
	fromIssue       origin = "issue"
)
