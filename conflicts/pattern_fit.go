package conflicts

import (
	"cmp"
	"slices"
)

// scored is a rule, how many editions it explains, and what it takes to write
// all of them down by it.
type scored struct {
	rule Rule
	fits int
	bits float64
}

func (s scored) compare(t scored) int {
	return cmp.Or(cmp.Compare(s.bits, t.bits), s.rule.compare(t.rule))
}

// score is r where it explains so many of n editions.
func (g guesser) score(r Rule, fits, n int) scored {
	return scored{r, fits, g.bits(r) + exceptionBits(n, n-fits)}
}

// scores are all rules that explain any of the editions, in no order.
func (g guesser) scores(guesses [][]Rule) []scored {
	fits := make(map[Rule]int, rulesMost*len(guesses))
	for _, rules := range guesses {
		for _, r := range rules {
			fits[r]++
		}
	}
	all := make([]scored, 0, len(fits))
	for r, n := range fits {
		all = append(all, g.score(r, n, len(guesses)))
	}
	return all
}

// running is the best rule of the first one, two, three editions and so on.
func (g guesser) running(guesses [][]Rule) []scored {
	fits := map[Rule]int{}
	var all []scored
	for i, rules := range guesses {
		var was Rule // at first none, which explains nothing
		if i > 0 {
			was = all[i-1].rule
		}
		best := []scored{g.score(was, fits[was], i+1)}
		for _, r := range rules {
			fits[r]++
			best = append(best, g.score(r, fits[r], i+1))
		}
		all = append(all, slices.MinFunc(best, scored.compare))
	}
	return all
}

// fewest is how many editions a rule has to explain.
const fewest = 3

// enough reports whether a rule explains enough editions to be one: three
// quarters, and no fewer than three.
func enough(fits, n int) bool { return fits >= fewest && 4*fits >= 3*n }

// A stretch is some editions in a row, and the rule that explains them best.
type stretch struct {
	scored
	days    []dated
	guesses [][]Rule
}

// An explanation of a series is one rule, or two where it changed.
type explanation struct {
	parts []stretch
	bits  float64
	gain  float64 // bits saved against the plain dates
}

// explain is the shortest explanation that is enough, or the shortest of all
// where none is.
func (g guesser) explain(days []dated) explanation {
	guesses := make([][]Rule, len(days))
	for i, d := range days {
		guesses[i] = g.rules(d)
	}
	single := stretch{slices.MinFunc(g.scores(guesses), scored.compare), days, guesses}
	best := explanation{parts: []stretch{single}, bits: single.bits}
	if single.fits < len(days) {
		if two, ok := g.change(days, guesses); ok && (two.bits < best.bits || !best.enough()) {
			best = two
		}
	}
	best.gain = plainBits(days) - best.bits
	return best
}

// change is the shortest explanation by two rules, each of which is enough for
// its part of the years. An edition by both is one by the former.
func (g guesser) change(days []dated, guesses [][]Rule) (best explanation, ok bool) {
	n := len(days)
	if n < 2*fewest {
		return best, false
	}
	former := g.running(guesses)
	backward := slices.Clone(guesses)
	slices.Reverse(backward)
	latter := g.running(backward)
	for cut := fewest; cut <= n-fewest; cut++ {
		a, b := former[cut-1], latter[n-cut-1]
		bits := a.bits + b.bits + choose(n, 1) + 1
		if days[cut].year == days[cut-1].year || !enough(a.fits, cut) || !enough(b.fits, n-cut) || ok && bits > best.bits {
			continue
		}
		ok = true
		best = explanation{bits: bits, parts: []stretch{{a, days[:cut], guesses[:cut]}, {b, days[cut:], guesses[cut:]}}}
	}
	return best, ok
}

func (e explanation) enough() bool {
	for _, p := range e.parts {
		if !enough(p.fits, len(p.days)) {
			return false
		}
	}
	return true
}

// holds reports whether the explanation is to be believed.
func (e explanation) holds() bool { return e.enough() && e.gain >= clearGain }

// beats reports whether e is to be preferred to f.
func (e explanation) beats(f explanation) bool {
	if e.holds() != f.holds() {
		return e.holds()
	}
	return e.bits < f.bits
}

// rivals are the other rules that explain as many editions of the stretch, the
// simplest first. One that says the same as a simpler one is none.
func (g guesser) rivals(s stretch, year int) []Rule {
	seen := map[[generation]int]bool{almanac(s.rule, year): true}
	scores := slices.DeleteFunc(g.scores(s.guesses), func(r scored) bool { return r.fits < s.fits })
	slices.SortFunc(scores, scored.compare)
	var all []Rule
	for _, r := range scores {
		if days := almanac(r.rule, year); !seen[days] {
			seen[days] = true
			all = append(all, r.rule)
		}
	}
	return all
}

// generation is the number of years after which weekdays and leap years come
// round.
const generation = 28

// almanac is the rule's day in the years from one on, from the first day of
// each year; rules with the same almanac say the same.
func almanac(r Rule, year int) (days [generation]int) {
	for i := range days {
		if d := r.In(year + i); !d.IsZero() {
			days[i] = 1000 + d.DaysSince(newYear(year+i))
		}
	}
	return days
}
