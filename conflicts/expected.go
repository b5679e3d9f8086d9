package conflicts

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"banns/milestones"
)

// Expect is what past editions of one event lead one to expect in a year:
// the event that their rule gives, or none where they have no rule, and the
// pattern that says why. An edition of that year that somebody has announced,
// or has pencilled in, is better than any rule, and then nothing is expected.
//
// Editions that are only expected themselves, and those of the year asked for,
// are no evidence.
func Expect(editions []Event, year int, region string) ([]Event, Pattern) {
	past := slices.DeleteFunc(slices.Clone(editions), func(e Event) bool { return e.Status == Expected || e.From.Year == year })
	p := gather(daysOf(past), region).pattern(year)
	if heldIn(editions, year) || p.isAmong(editions) {
		return nil, p
	}
	return p.expected(past), p
}

// expectAll is what Expect expects in each of some years, and where else it may
// be. The rule is the same in all that have no edition of their own, and is
// looked for once.
func expectAll(editions []Event, first, last int, region string) (all []Event) {
	past := slices.DeleteFunc(slices.Clone(editions), func(e Event) bool { return e.Status == Expected })
	var found *evidence
	for year := first; year <= last; year++ {
		if heldIn(editions, year) {
			continue
		}
		if found == nil {
			found = gather(daysOf(past), region)
		}
		if p := found.pattern(year); !p.isAmong(editions) {
			for _, e := range p.expected(past) {
				all = append(append(all, e), p.mayBe(e)...)
			}
		}
	}
	return all
}

// heldIn reports whether some source lists an edition of a year.
func heldIn(editions []Event, year int) bool {
	return slices.ContainsFunc(editions, func(e Event) bool { return e.From.Year == year })
}

func daysOf(editions []Event) []Edition {
	all := make([]Edition, len(editions))
	for n, e := range editions {
		all[n] = Edition{e.From, e.To}
	}
	return all
}

// expected is the edition that the pattern of those before gives, if it gives one.
func (p Pattern) expected(past []Event) []Event {
	if p.Refused != "" || p.outOfTurn() {
		return nil
	}
	latest := slices.MaxFunc(past, compareEditions)
	return []Event{{
		What: seriesName(latest.What), From: p.From, To: p.To, Start: latest.Start, End: latest.End, Place: latest.Place, Kind: latest.Kind,
		Status: Expected, Rule: fmt.Sprint(p.Rule), Note: p.Note(), Source: latest.Source,
	}}
}

// mayBe are the editions that rules give which are as good as that of the one
// expected, on other days.
func (p Pattern) mayBe(e Event) []Event {
	taken := []Edition{p.Edition}
	var all []Event
	for _, r := range p.Rivals {
		if slices.ContainsFunc(taken, r.Edition.meets) {
			continue
		}
		taken = append(taken, r.Edition)
		one := e
		one.From, one.To, one.Rule, one.Rival = r.From, r.To, fmt.Sprint(r.Rule), true
		one.Note = fmt.Sprintf("more simply it is on %s, by %s; %s", p.From.Words(), p.Words(), p.Held())
		all = append(all, one)
	}
	return all
}

// isAmong reports whether one of the editions is the one of the pattern's year,
// though by the calendar it is in the year before or after.
func (p Pattern) isAmong(editions []Event) bool {
	return slices.ContainsFunc(editions, func(e Event) bool {
		apart := e.From.DaysSince(p.From)
		return !p.From.IsZero() && -aroundNewYear <= apart && apart <= aroundNewYear
	})
}

// Note is the pattern in a line or two: the rule, how it held, and where else
// the edition may be.
func (p Pattern) Note() string {
	parts := append([]string{p.Words(), p.Held()}, p.Notes()...)
	for _, r := range p.Rivals {
		if r.From != p.From {
			parts = append(parts, fmt.Sprintf("or %s, by %s", r.From.Words(), r.Rule))
		}
	}
	return strings.Join(parts, "; ")
}

// Contradiction says in what an announced event contradicts the rule of its
// past editions, the holiday it is named after, or the weekday in its name;
// empty where it does not. Sources hold wrong dates, and events are moved: it
// is for a person to look which. The pattern is that of the event's year, as
// Expect gives it.
func Contradiction(e Event, p Pattern, region string) string {
	if says := misnamed(e, region); says != "" {
		return says
	}
	return p.brokenBy(e)
}

// brokenBy says in what e contradicts the pattern of its year.
func (p Pattern) brokenBy(e Event) string {
	own := Edition{e.From, e.To}
	if p.Refused != "" || p.From.IsZero() || own.meets(p.Edition) {
		return ""
	}
	for _, r := range p.Rivals {
		if own.meets(r.Edition) {
			return ""
		}
	}
	return fmt.Sprintf("%s is not by the rule of earlier editions, %s, which gives %s; see whether it was moved or the source is wrong",
		e.From.Words(), p.Rule, p.From.Words())
}

func (e Edition) meets(f Edition) bool { return !e.From.After(f.To) && !f.From.After(e.To) }

// misnamed says how the day of e and its name disagree.
func misnamed(e Event, region string) string {
	wrong := func(what string, right ...milestones.Date) string {
		var days []string
		for _, d := range right {
			days = append(days, d.Words())
		}
		return fmt.Sprintf("%s is not %s, which is %s; look for the right day at the source", e.From.Words(), what, strings.Join(days, " or "))
	}
	name := seriesKey(e.What)
	if right := holidayCalled(name, e.From.Year, region); right != nil {
		if slices.ContainsFunc(right, func(d milestones.Date) bool { return (Edition{d, d}).meets(Edition{e.From, e.To}) }) {
			return ""
		}
		return wrong(seriesName(e.What), right...)
	}
	if e.Kind != Holiday && e.Kind != Observance {
		return ""
	}
	for w := time.Sunday; w <= time.Saturday; w++ {
		if slices.Contains(strings.Fields(name), strings.ToLower(w.String())) && e.To.DaysSince(e.From) < 6 &&
			weekdayFrom(e.From, w, onAfter).After(e.To) {
			return fmt.Sprintf("%s is no %s, which its name says; look for the right day at the source", e.From.Words(), w)
		}
	}
	return ""
}

// holidayCalled are the days of a year on which something of that name is: a
// public holiday of the region, where it falls and where it is kept, or a feast
// of either church.
func holidayCalled(name string, year int, region string) []milestones.Date {
	var days []milestones.Date
	for _, h := range publicHolidays(region) {
		if day := dayOf(h, year); seriesKey(h.Name) == name && !day.IsZero() {
			days = append(days, day)
			if n := shift(h, day.Weekday()); n != 0 {
				days = append(days, day.AddDays(n))
			}
		}
	}
	for n, feast := range westernFeasts {
		if seriesKey(feast) == name {
			days = append(days, Easter(year).AddDays(n))
		}
	}
	for n, feast := range easternFeasts {
		if seriesKey(feast) == name {
			days = append(days, Pascha(year).AddDays(n))
		}
	}
	slices.SortFunc(days, milestones.Date.Compare)
	return slices.Compact(days)
}
