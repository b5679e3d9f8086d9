package conflicts

import (
	"math"
	"slices"
)

// A rule is believed when it is a shorter way of writing the dates down than
// the dates themselves: minimum description length (Rissanen, "Modeling by
// shortest data description", Automatica 14, 1978). Each rule costs the bits
// that tell it from all others, each edition it does not explain the bits of a
// date; the simplest that fits is then the shortest. The dates alone have three
// plain codes to choose from: any day of the year, any day of a stretch of it,
// any day of a stretch that is one weekday. A rule has to beat the best of them
// by the bits that chance gives away once in a hundred times: by the
// no-hypercompression inequality, a series that a plain code describes is
// written k bits shorter by another code with a probability of at most 2^-k
// (Grünwald, The Minimum Description Length Principle, 2007, ch. 3).
var (
	clearGain = math.Log2(100)
	dateBits  = math.Log2(365.2425)
)

// bits is what it takes to tell r from every other rule: which kind, the
// simpler ones in fewer bits, and which of that kind.
func (g guesser) bits(r Rule) float64 {
	switch r.kind {
	case nthWeekday:
		return 1 + math.Log2(12*7*5)
	case fixedDay:
		return 2 + dateBits
	case shiftedDay:
		return 3 + dateBits + math.Log2(float64(len(shifts)))
	case nearDay:
		return 4 + dateBits + math.Log2(7) + float64(r.side) // nearest before the others, which say the same but in February
	case holidayDay:
		return 6 + math.Log2(float64(len(g.holidays)*2*7))
	}
	// Feasts have names. The rest of what is counted from Easter is rare, and
	// dearer than anything that needs no table.
	if feastName(r) != "" {
		return 10 + 1 + math.Log2(2*float64(len(westernFeasts)))
	}
	return 10 + 1 + math.Log2(2*(2*easterSpan+1))
}

// exceptionBits is what it takes to say which m of n editions a rule does not
// explain, and when those were.
func exceptionBits(n, m int) float64 {
	return math.Log2(float64(n/4+1)) + choose(n, m) + float64(m)*dateBits
}

// choose is the logarithm of the number of ways to choose m of n.
func choose(n, m int) float64 {
	lg := func(x int) float64 { v, _ := math.Lgamma(float64(x + 1)); return v }
	return (lg(n) - lg(m) - lg(n-m)) / math.Ln2
}

// season is the shortest stretch of days, four weeks, that a plain code may
// have.
const season = 28

// plainBits is what the dates take without a rule, by the shortest of the
// plain codes.
func plainBits(days []dated) float64 {
	n := float64(len(days))
	from, to, oneWeekday := math.MaxInt, math.MinInt, true
	for _, d := range days {
		at := d.day.DaysSince(newYear(d.year))
		from, to = min(from, at), max(to, at)
		oneWeekday = oneWeekday && d.day.Weekday() == days[0].day.Weekday()
	}
	// What has no rule still has its season; a shorter one would be a rule.
	wide := float64(max(to-from+1, season))
	codes := []float64{n * dateBits, 2*dateBits + n*math.Log2(wide)}
	if oneWeekday {
		codes = append(codes, math.Log2(7)+2*dateBits+n*math.Log2(wide/7))
	}
	return math.Log2(3) + slices.Min(codes)
}
