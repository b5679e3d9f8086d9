package conflicts

import (
	"slices"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/ca"
)

// Canada.
//
// Banks keep the ten general holidays of the Canada Labour Code, section 166.
// Section 193(2) moves one that falls on a weekend to a working day beside
// it; banks and federal offices take the one that follows. The National Day
// for Truth and Reconciliation is from 2021 (S.C. 2021, c. 11).
//
// Federal offices keep Easter Monday as well: the Interpretation Act, section
// 35(1), names it among the holidays, and so do the public service's
// agreements. The first Monday of August is no holiday of the whole country.
var (
	canadianBanks = observing(nextWeekday,
		ca.NewYear,
		ca.GoodFriday,
		ca.VictoriaDay,
		ca.CanadaDay,
		ca.LabourDay,
		ca.NationalDayForTruthAndReconciliation,
		ca.ThanksgivingDay,
		ca.RemembranceDay,
		ca.ChristmasDay,
		ca.BoxingDay,
	)
	canadianOffices = slices.Concat(canadianBanks, []*cal.Holiday{ca.EasterMonday})
)
