package conflicts

import (
	"cmp"
	"slices"

	"banns/milestones"
)

// Verdict is what a day comes to, in a word.
type Verdict string

// The verdicts, the best first.
const (
	Clear   Verdict = "clear"   // nothing known speaks against it but what is slight
	Watch   Verdict = "watch"   // it can be done, knowing what is on
	Avoid   Verdict = "avoid"   // choose another if there is one
	Blocked Verdict = "blocked" // somebody or something needed is not to be had
)

// verdicts are what a worst clash of each severity makes of a day.
var verdicts = [...]Verdict{Clear, Clear, Watch, Avoid, Blocked}

// Candidate is a day as it was weighed.
type Candidate struct {
	Date      milestones.Date
	Verdict   Verdict
	Clashes   []Clash  // the worst first
	SpeaksFor []string // what speaks for the day, each in a sentence

	tally tally
	pro   int // how much of the plan's own speaks for it
}

// Compare puts the better of two candidates first.
//
// No number is made up: the worst clash of a day decides, then how many such
// there are and how sure, then what is less bad; between days that are alike
// in all that, what speaks for them; and at last the earlier comes first.
func (c Candidate) Compare(o Candidate) int {
	return cmp.Or(c.tally.compare(o.tally), cmp.Compare(o.pro, c.pro), c.Date.Compare(o.Date))
}

// Rank compares days, and returns the best of them first, without what speaks
// for or against each: telling that costs more than knowing how much it is.
// Days outside the stretch of the scales are weighed without public events.
func (s *Scales) Rank(days []milestones.Date) []Candidate {
	all := make([]Candidate, 0, len(days))
	for _, day := range days {
		c := Candidate{Date: day, tally: s.tallyOf(day)}
		against, pro := s.own(day, false)
		c.pro = len(pro)
		for _, k := range against {
			c.tally[class(k.Severity, k.Status)]++
		}
		c.Verdict = c.tally.verdict()
		all = append(all, c)
	}
	slices.SortStableFunc(all, Candidate.Compare)
	return all
}

// Weigh compares days as Rank does, and tells why: of the best top of them, or
// of all where top is 0.
func (s *Scales) Weigh(days []milestones.Date, top int) []Candidate {
	all := s.Rank(days)
	if top > 0 && top < len(all) {
		all = all[:top]
	}
	for n := range all {
		c := &all[n]
		against, pro := s.own(c.Date, true)
		c.Clashes = append(against, s.public(c.Date)...)
		slices.SortFunc(c.Clashes, worstFirst)
		c.SpeaksFor = append(s.quiet(c.Date, c.Clashes), pro...)
	}
	return all
}

func worstFirst(a, b Clash) int {
	return cmp.Or(cmp.Compare(class(a.Severity, a.Status), class(b.Severity, b.Status)), a.From.Compare(b.From), cmp.Compare(a.Says, b.Says))
}

// tallyOf is the tally of the public events of a day.
func (s *Scales) tallyOf(day milestones.Date) tally {
	if n := day.DaysSince(s.from); n >= 0 && n < len(s.tallies) {
		return s.tallies[n]
	}
	return tally{}
}

// quiet says what of the city speaks for a day.
func (s *Scales) quiet(day milestones.Date, clashes []Clash) []string {
	town, holiday := true, true // nothing that matters much is on in town, and no holiday
	nothing := "Nothing"
	for _, c := range clashes {
		holiday = holiday && c.Kind != Holiday
		if c.Kind == "" { // one of the plan itself
			continue
		}
		town = town && c.Severity == Slight
		if c.Kind != Holiday {
			nothing = "Nothing else"
		}
	}
	var all []string
	if town && s.known(day) {
		all = append(all, nothing+" is known that fills the town on that day, the day before or the day after.")
	}
	if _, unknown := s.closures.(milestones.NoClosures); holiday && !unknown {
		all = append(all, "It is on no holiday weekend.")
	}
	return all
}

// known reports whether any event of the day's year has been read: where
// none has, that nothing is known of a day says nothing.
func (s *Scales) known(day milestones.Date) bool { return s.years[day.Year] }
