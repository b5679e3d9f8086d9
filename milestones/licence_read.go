package milestones

import (
	"strconv"
	"strings"
)

// periodSuch are the forms that a stretch of the office's rule may take.
const periodSuch = `write it as "3 days from application", "72 hours from issue", "6 months from issue" or "before the 90th day from issue"`

// licence reads the office's rule.
func (rd *planReader) licence() {
	l := rd.plan.Licence
	if l == nil {
		return
	}
	read := func(says, path string, to *period) {
		if strings.TrimSpace(says) == "" {
			return
		}
		p, ok := readPeriod(says)
		if !ok {
			rd.fault("licence/"+path, periodSuch, "%q is no stretch of time of the office's rule", says)
		}
		*to = p
	}
	l.waits, l.lasts, l.back = period{}, period{}, period{}
	read(l.Waits, "waits", &l.waits)
	read(l.Lasts, "lasts", &l.lasts)
	read(l.Return, "return within", &l.back)
	for path, p := range map[string]period{"lasts": l.lasts, "return within": l.back} {
		if p.unit == Hour || path == "lasts" && p.unit == BusinessDay {
			rd.fault("licence/"+path, "write it in days, weeks or months", "only the waiting is counted in %ss", p.unit)
		}
	}
	if l.waits.short {
		rd.fault("licence/waits", periodSuch, "a wait has its whole length")
	}
}

// readPeriod reads "3 days", "72 hours from issue", "none", "fewer than 90
// days after issue" and "before the 90th day after issue".
func readPeriod(says string) (p period, ok bool) {
	words := strings.Fields(strings.ToLower(strings.TrimRight(says, ".")))
	take := func(some ...string) bool {
		if len(words) < len(some) || strings.Join(words[:len(some)], " ") != strings.Join(some, " ") {
			return false
		}
		words = words[len(some):]
		return true
	}
	if strings.Join(words, " ") == "none" || strings.Join(words, " ") == "no wait" || strings.Join(words, " ") == "nothing" {
		return p, true
	}
	ordinal := take("before", "the")
	p.short = ordinal || take("fewer", "than") || take("less", "than")
	if len(words) < 2 {
		return p, false
	}
	if p.n = number(words[0]); ordinal {
		p.n, _ = strconv.Atoi(strings.TrimRight(words[0], "stndrh"))
	}
	words = words[1:]
	if take("business") || take("working") {
		p.unit = BusinessDay
		if !take("days") && !take("day") {
			return p, false
		}
	} else {
		p.unit = Unit(strings.TrimSuffix(words[0], "s"))
		words = words[1:]
	}
	most, known := unitMost[p.unit]
	return p, known && p.n > 0 && p.n <= most && p.originIn(words)
}

// originIn reads what a stretch runs from.
func (p *period) originIn(words []string) bool {
	if len(words) == 0 {
		return true
	}
	if words[0] != "from" && words[0] != "after" {
		return false
	}
	words = words[1:]
	if len(words) > 0 && words[0] == "the" {
		words = words[1:]
	}
	switch strings.Join(words, " ") {
	case "application", "applying":
		p.from = fromApplication
	case "issue", "issuing", "issuance", "issued":
		p.from = fromIssue
	default:
		return false
	}
	return true
}

// span is p as the rule has it: 3 days.
func (p period) span() string { return Timing{N: p.n, Unit: p.unit}.span() }
