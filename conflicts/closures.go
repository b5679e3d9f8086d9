package conflicts

import (
	"fmt"
	"strings"

	"banns/milestones"
)

// ClosuresFor is the holidays of a region: an ISO 3166-1 country, alone or
// with its ISO 3166-2 subdivision (US, US-MI, GB-SCT, DE-BY), in either case.
//
// The caution is one sentence for the planner about what these closures leave
// out, and is empty where nothing is known to be missing. A region that is
// not covered has no holidays, and a caution that says so.
//
// Years before rulesSince get the rules of today, which is not always what was
// kept then.
func ClosuresFor(code string) (c milestones.Closures, caution string) {
	r, caution := find(code)
	if r.banks == nil {
		return milestones.NoClosures{}, caution + "; business days skip weekends and the agreement's own closed days only"
	}
	return r.closures(), caution
}

// rulesSince is the year from which the rules hold, as the library has them and
// as they were mended here. Before the Uniform Monday Holiday Act of 1971, for
// one, Memorial Day was on 30 May whatever the weekday, and the rules give a
// Monday in 1950 too.
const rulesSince = 2020

var earlyCaution = fmt.Sprintf("holidays before %d are worked out by the rules in force since, as rickar/cal 2.1 and this program have them, and may not be those that were kept then", rulesSince)

// early is the caution about days from first on. Those that are looked at only
// because they lie within reach of the year that is asked for do not count.
func early(first milestones.Date) string {
	if first.AddDays(ReachDays).Year >= rulesSince {
		return ""
	}
	return earlyCaution
}

// find is the region of a code, or that of its country where it is no region
// of its own, and one without holidays where neither is known. The caution is
// about what is left out.
func find(code string) (r region, caution string) {
	code = canonical(code)
	if r, ok := regions[code]; ok {
		return r, r.caution
	}
	country, _, _ := strings.Cut(code, "-")
	if r, ok := regions[country]; ok {
		caution = fmt.Sprintf("holidays that only %s keeps are not included, only those of the whole country", code)
		if r.caution != "" {
			caution += "; " + r.caution
		}
		return r, caution
	}
	if code == "" {
		return region{}, "no region is given"
	}
	return region{}, fmt.Sprintf("no holidays are known for %s", code)
}

// canonical is the code as the table of regions spells it. ISO 3166-1
// reserves UK for the United Kingdom, whose code is GB.
func canonical(code string) string {
	code = strings.ToUpper(strings.TrimSpace(code))
	if code == "UK" || strings.HasPrefix(code, "UK-") {
		return "GB" + code[len("UK"):]
	}
	return code
}

// closures is the holidays of one region, by kind of office.
type closures struct{ banks, federal *table }

func (r region) closures() closures {
	banks := newTable(r.banks)
	if r.federal == nil {
		return closures{banks, banks}
	}
	return closures{banks, newTable(r.federal)}
}

// Holiday is the name of the holiday that closes offices of this kind on d,
// with "(observed)" where it falls on another day and is kept on this one.
// The day itself has its name too, though it be a Saturday.
func (c closures) Holiday(d milestones.Date, kind milestones.BusinessDays) string {
	switch kind {
	case milestones.Banks:
		return c.banks.holiday(d)
	case milestones.Federal:
		return c.federal.holiday(d)
	}
	return ""
}
