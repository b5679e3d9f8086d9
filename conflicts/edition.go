package conflicts

import (
	"cmp"
	"slices"

	"banns/milestones"
)

// Edition is one year's holding of an event, on one or more days.
type Edition struct {
	From, To milestones.Date // first and last day, both included
}

func (e Edition) days() int { return e.To.DaysSince(e.From) + 1 }

// whole is the editions in order. Days that follow one another, or that are
// given twice, are one edition.
func whole(editions []Edition) []Edition {
	sorted := slices.Clone(editions)
	slices.SortFunc(sorted, func(a, b Edition) int { return cmp.Or(a.From.Compare(b.From), a.To.Compare(b.To)) })
	var out []Edition
	for _, e := range sorted {
		if n := len(out); n > 0 && !e.From.After(out[n-1].To.AddDays(1)) {
			if e.To.After(out[n-1].To) {
				out[n-1].To = e.To
			}
			continue
		}
		out = append(out, e)
	}
	return out
}

// A hold is the day of an edition that a rule may hold by, counted from its
// first day, or back from its last.
type hold struct {
	back bool
	days int
}

// holdMost is how far inside a long edition such a day is looked for.
const holdMost = 9

// holds are the days that every edition has. Editions that are equally long
// need not be counted from both ends.
func holds(editions []Edition) []hold {
	shortest, longest := editions[0].days(), 0
	for _, e := range editions {
		shortest, longest = min(shortest, e.days()), max(longest, e.days())
	}
	var all []hold
	for i := range min(shortest, holdMost+1) {
		all = append(all, hold{days: i})
		if longest > shortest || longest > holdMost+1 {
			all = append(all, hold{back: true, days: i})
		}
	}
	return all
}

func (h hold) of(e Edition) milestones.Date {
	if h.back {
		return e.To.AddDays(-h.days)
	}
	return e.From.AddDays(h.days)
}

// around is how many days an edition of so many has before and after h.
func (h hold) around(days int) (before, after int) {
	if h.back {
		return days - 1 - h.days, h.days
	}
	return h.days, days - 1 - h.days
}

// usualDays is how many days most editions have; of two that are as usual, the
// one seen last.
func usualDays(editions []Edition) int {
	count, best := map[int]int{}, 0
	for _, e := range editions {
		count[e.days()]++
	}
	for _, e := range slices.Backward(editions) {
		if count[e.days()] > count[best] {
			best = e.days()
		}
	}
	return best
}

func newYear(year int) milestones.Date {
	return milestones.Date{Year: year, Month: 1, Day: 1}
}

// aroundNewYear is how many days from New Year an edition may be the other year's.
const aroundNewYear = 7

// labellings are the ways in which the days may belong to years: by the
// calendar, and where there are some just before New Year and some just after,
// all as editions of the year that begins or of the one that ends.
func labellings(days []milestones.Date) [][]dated {
	label := func(before, after int) (out []dated, some bool) {
		for _, d := range days {
			year := d.Year
			switch {
			case d.AddDays(aroundNewYear).Year > d.Year:
				year += before
			case d.AddDays(-aroundNewYear).Year < d.Year:
				year += after
			}
			some = some || year != d.Year
			out = append(out, dated{d, year})
		}
		return out, some
	}
	calendar, _ := label(0, 0)
	all := [][]dated{calendar}
	begins, before := label(1, 0)
	ends, after := label(0, -1)
	if before && after {
		all = append(all, begins, ends)
	}
	return all
}

// crowded are the years with several editions.
func crowded(days []dated) []int {
	var years []int
	for i := 1; i < len(days); i++ {
		if y := days[i].year; y == days[i-1].year && !slices.Contains(years, y) {
			years = append(years, y)
		}
	}
	return years
}

// missing are the years without an edition, between those with one.
func missing(years []int) []int {
	var none []int
	for i := 1; i < len(years); i++ {
		for y := years[i-1] + 1; y < years[i]; y++ {
			none = append(none, y)
		}
	}
	return none
}

// step is the greatest number of years of which every pause is a multiple: 2
// for what is held every second year.
func step(years []int) int {
	n := 0
	for i := 1; i < len(years); i++ {
		for a, b := n, years[i]-years[i-1]; ; a, b = b, a%b {
			if b == 0 {
				n = a
				break
			}
		}
	}
	return n
}
