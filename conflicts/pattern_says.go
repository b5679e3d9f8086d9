package conflicts

import (
	"fmt"
	"strings"

	"banns/milestones"
)

// Words is the rule in force, and where it changed, the other: "the first
// Saturday of June since 2016; until 2015 the third Saturday of May". It is
// empty where the pattern is refused.
func (p Pattern) Words() string {
	if p.Refused != "" {
		return ""
	}
	now := p.Rule.String()
	if p.Holiday != "" {
		now += " (" + p.Holiday + ")"
	}
	if len(p.Eras) < 2 {
		return now
	}
	former, latter := p.Eras[0], p.Eras[1]
	if p.Year < latter.First {
		return fmt.Sprintf("%s until %d; since %d %s", now, former.Last, latter.First, latter.Rule)
	}
	return fmt.Sprintf("%s since %d; until %d %s", now, latter.First, former.Last, former.Rule)
}

// exceptionsNamed is how many exceptions, or missing years, are named one by
// one.
const exceptionsNamed = 5

// Held is how well the rule held: "held in 6 of 7 editions; Mon 11 Oct 2021
// was not".
func (p Pattern) Held() string {
	if len(p.Exceptions) == 0 {
		return fmt.Sprintf("held in all %d editions", p.Of)
	}
	held := fmt.Sprintf("held in %d of %d editions; ", p.Fits, p.Of)
	if len(p.Exceptions) > exceptionsNamed {
		return held + fmt.Sprintf("%d were not", len(p.Exceptions))
	}
	var days []string
	for _, d := range p.Exceptions {
		days = append(days, d.Words())
	}
	if len(days) == 1 {
		return held + days[0] + " was not"
	}
	return held + joined(days) + " were not"
}

// Notes are what else is to be known before the rule is relied on: years
// without an edition, a year out of turn, a rule that may have changed.
func (p Pattern) Notes() []string {
	var notes []string
	switch {
	case p.Refused != "":
		return nil
	case p.every > 1:
		turns := fmt.Sprintf("held every %d years", p.every)
		if p.outOfTurn() {
			turns += fmt.Sprintf(", and %d would be out of turn", p.Year)
		}
		notes = append(notes, turns)
	case len(p.Missing) > 0:
		notes = append(notes, "none in "+yearList(p.Missing))
	}
	if p.late > 1 {
		notes = append(notes, fmt.Sprintf("the latest %d editions were not by it, so the rule may have changed", p.late))
	}
	return notes
}

// outOfTurn reports whether the event, which is not held every year, would not
// be in this one.
func (p Pattern) outOfTurn() bool { return p.every > 1 && (p.Year-p.Eras[0].First)%p.every != 0 }

// yearList is years in order, in words; long runs and long lists are cut short.
func yearList(years []int) string {
	var runs []string
	for i := 0; i < len(years); {
		j := i
		for j+1 < len(years) && years[j+1] == years[j]+1 {
			j++
		}
		switch run := fmt.Sprint(years[i]); {
		case j-i > 1:
			runs = append(runs, fmt.Sprintf("%s to %d", run, years[j]))
		case j > i:
			runs = append(runs, run, fmt.Sprint(years[j]))
		default:
			runs = append(runs, run)
		}
		i = j + 1
	}
	if len(runs) > exceptionsNamed {
		return fmt.Sprintf("%d of the years from %d to %d", len(years), years[0], years[len(years)-1])
	}
	return joined(runs)
}

// joined is "a, b and c".
func joined(items []string) string {
	n := len(items)
	if n < 2 {
		return strings.Join(items, "")
	}
	return strings.Join(items[:n-1], ", ") + " and " + items[n-1]
}

func editionCount(n int) string {
	switch n {
	case 0:
		return "no editions are known"
	case 1:
		return "1 edition is known"
	}
	return fmt.Sprintf("%d editions are known", n)
}

// Days are the days of an edition, in order.
func (e Edition) Days() []milestones.Date {
	var days []milestones.Date
	for d := e.From; !e.From.IsZero() && !d.After(e.To); d = d.AddDays(1) {
		days = append(days, d)
	}
	return days
}
