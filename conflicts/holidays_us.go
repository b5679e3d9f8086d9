package conflicts

import "github.com/rickar/cal/v2/us"

// The United States.
//
// Federal offices keep the days of 5 USC 6103(a). One that falls on a
// Saturday is kept on the Friday before, 6103(b)(1); on a Sunday, on the
// Monday after, Executive Order 11582 of 1971, section 3(a).
//
// Banks keep the same days by the Federal Reserve's holiday schedule: on a
// Saturday they are open on the Friday before, on a Sunday they are closed on
// the Monday after.
//
// Juneteenth came with Public Law 117-17, signed on Thursday 17 June 2021.
// Federal offices kept it the next day; the Reserve Banks did not, which is
// their rule for any Saturday, and first closed for it on Monday 20 June 2022.
//
// Left out: Inauguration Day, which is kept in and around Washington alone,
// 6103(c), and the days on which an Executive order sends federal employees
// home, which are no holidays in the sense of 6103.
var (
	federalOffices = observing(nearestWeekday, us.Holidays...)
	reserveBanks   = observing(sundayToMonday, us.Holidays...)
)
