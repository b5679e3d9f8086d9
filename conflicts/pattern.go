package conflicts

import (
	"fmt"
	"slices"
	"strings"

	"banns/milestones"

	"github.com/rickar/cal/v2"
)

// Pattern is what past editions say about the edition of a year.
type Pattern struct {
	Year       int
	Rule       Spanned           // in force in Year
	Edition                      // of Year
	Eras       []Era             // one, or the two of a change of rule, the former first
	Fits, Of   int               // how many of the editions are by their rule
	Exceptions []milestones.Date // first days of the others
	Missing    []int             // years without an edition, between those with one
	Rivals     []Rival           // what explains the editions as well, the simplest first
	Holiday    string            // the region's holiday that is always on the rule's day; empty: none, or a feast that the rule names
	Refused    string            // why nothing is expected; Edition and Rivals are then empty

	every int // all editions are a multiple of so many years apart; 0 where they are too few to tell
	late  int // how many of the latest editions in a row are exceptions
}

// Spanned is a rule with the days around its own that an edition takes up.
type Spanned struct {
	Rule
	Before, After int
}

// In is the first and the last day of the edition of a year; no days where
// the rule has none.
func (s Spanned) In(year int) Edition {
	day := s.Rule.In(year)
	if day.IsZero() {
		return Edition{}
	}
	return Edition{day.AddDays(-s.Before), day.AddDays(s.After)}
}

// Era is the years in which a rule held.
type Era struct {
	Rule        Spanned
	First, Last int // the years of its first and its latest edition
}

// Rival is another rule that explains the editions, and the days it gives.
type Rival struct {
	Rule Spanned
	Edition
}

// FindPattern finds the rule that explains past editions, and dates the
// edition of a year by it. Their order does not matter. The region, as for
// ClosuresFor, names the holidays that an event may be counted from; without
// one there are none.
func FindPattern(editions []Edition, year int, region string) Pattern {
	return gather(editions, region).pattern(year)
}

// evidence is past editions with what explains them best, whatever year is
// asked for.
type evidence struct {
	guesser
	editions []Edition
	best     explanation // no parts: there are too few of them, or too many in one year
	by       hold        // the day of theirs that best holds by
	crowds   []int       // the years that have too many
}

func gather(editions []Edition, region string) *evidence {
	e := &evidence{guesser{publicHolidays(region)}, whole(editions), explanation{}, hold{}, nil}
	if len(e.editions) >= fewest {
		e.best, e.by, e.crowds = e.search(e.editions)
	}
	return e
}

// pattern is what the evidence says of a year.
func (e *evidence) pattern(year int) Pattern {
	p := Pattern{Year: year, Of: len(e.editions)}
	switch {
	case p.Of < fewest:
		p.Refused = editionCount(p.Of) + "; a rule needs at least three"
	case e.best.parts == nil:
		p.Refused = fmt.Sprintf("there are several editions in %s; give those of each time of the year as a series of their own", yearList(e.crowds))
	default:
		p.fill(e)
	}
	return p
}

// search is the best explanation of the editions, and the day of theirs that
// it holds by; or the years that have too many of them.
func (g guesser) search(editions []Edition) (best explanation, by hold, crowds []int) {
	all := holds(editions)
	for _, h := range all {
		days := make([]milestones.Date, len(editions))
		for i, e := range editions {
			days[i] = h.of(e)
		}
		for _, labelled := range labellings(days) {
			many := crowded(labelled)
			if 4*len(many) > len(labelled)-len(many) {
				if crowds == nil || len(many) < len(crowds) {
					crowds = many
				}
				continue
			}
			found := g.explain(labelled)
			found.bits += choose(len(all), 1)
			found.gain -= choose(len(all), 1)
			if best.parts == nil || found.beats(best) {
				best, by = found, h
			}
		}
	}
	return best, by, crowds
}

// fill puts what the evidence is explained by into the pattern.
func (p *Pattern) fill(e *evidence) {
	before, after := e.by.around(usualDays(e.editions))
	now, i := e.best.parts[0], 0
	var years []int
	for n, part := range e.best.parts {
		first, latest := part.days[0].year, part.days[len(part.days)-1].year
		p.Eras = append(p.Eras, Era{Spanned{part.rule, before, after}, first, latest})
		p.Fits += part.fits
		if n > 0 && p.Year >= first {
			now = part
		}
		for _, d := range part.days {
			p.late++
			if part.rule.In(d.year) == d.day {
				p.late = 0
			} else {
				p.Exceptions = append(p.Exceptions, e.editions[i].From)
			}
			years = append(years, d.year)
			i++
		}
	}
	p.Missing = missing(years)
	if len(years) > fewest {
		p.every = step(years)
	}
	p.Rule = Spanned{now.rule, before, after}
	p.Edition = p.Rule.In(p.Year)
	if p.Refused = p.refusal(e.best); p.Refused != "" {
		p.Edition = Edition{}
		return
	}
	if feastName(now.rule) == "" {
		p.Holiday = e.sameAs(now.rule, p.Year)
	}
	p.rivals(e.rivals(now, p.Year))
}

// refusal is why an explanation is not to be relied on, if it is not.
func (p *Pattern) refusal(e explanation) string {
	switch {
	case !e.enough() && 2*p.Fits < p.Of:
		return "no rule explains the dates: none holds in even half of the editions"
	case !e.enough():
		return fmt.Sprintf("no rule explains the dates: the best, %s, holds in %d of %d editions", p.Rule, p.Fits, p.Of)
	case e.gain < clearGain:
		return fmt.Sprintf("the dates are too few, or too much alike, to tell a rule from chance: the best is %s", p.Rule)
	case p.From.IsZero():
		return fmt.Sprintf("the rule, %s, has no day in %d", p.Rule, p.Year)
	}
	return ""
}

// rivals keeps of the other rules the simplest that gives the same days, and
// the simplest for each that differ.
func (p *Pattern) rivals(rules []Rule) {
	for _, r := range rules {
		other := Rival{Spanned{r, p.Rule.Before, p.Rule.After}, Edition{}}
		other.Edition = other.Rule.In(p.Year)
		known := slices.ContainsFunc(p.Rivals, func(r Rival) bool { return r.Edition == other.Edition })
		if !other.From.IsZero() && !known {
			p.Rivals = append(p.Rivals, other)
		}
	}
}

// sameAs is the holiday that is always on the day of r.
func (g guesser) sameAs(r Rule, year int) string {
	for _, h := range g.holidays {
		i := 0
		for i < generation && dayOf(h, year+i) == r.In(year+i) {
			i++
		}
		if i == generation {
			return h.Name
		}
	}
	return ""
}

// publicHolidays are the holidays of a region that an event may be counted
// from: those of its public offices.
func publicHolidays(code string) []*cal.Holiday {
	r, ok := regions[canonical(code)]
	if !ok {
		country, _, _ := strings.Cut(canonical(code), "-")
		r = regions[country]
	}
	if r.federal != nil {
		return r.federal
	}
	return r.banks
}
