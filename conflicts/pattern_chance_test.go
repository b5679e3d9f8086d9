package conflicts

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"banns/milestones"
)

// truth is a rule made up for a test, by which dates are drawn.
type truth struct {
	kind string
	in   func(year int) milestones.Date
}

func pick[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

func anyDay(r *rand.Rand, year int) milestones.Date {
	first := d(year, 1, 1)
	return first.AddDays(r.IntN(d(year+1, 1, 1).DaysSince(first)))
}

// seek steps day by day to a weekday.
func seek(day milestones.Date, w time.Weekday, step int) milestones.Date {
	for day.Weekday() != w {
		day = day.AddDays(step)
	}
	return day
}

// someTruth draws a rule, every kind as often.
func someTruth(r *rand.Rand) truth {
	month, w := time.Month(1+r.IntN(12)), time.Weekday(r.IntN(7))
	base := anyDay(r, 2027)
	fixed := func(year int) milestones.Date { return d(year, base.Month, base.Day) }
	switch r.IntN(8) {
	case 0:
		n := r.IntN(4)
		return truth{"nth weekday", func(y int) milestones.Date { return seek(d(y, month, 1), w, 1).AddDays(7 * n) }}
	case 1:
		return truth{"last weekday", func(y int) milestones.Date { return seek(d(y, month, 1).AddMonths(1).AddDays(-1), w, -1) }}
	case 2:
		return truth{"fixed date", fixed}
	case 3:
		moved := pick(r, map[time.Weekday]int{time.Sunday: 1}, map[time.Weekday]int{time.Saturday: -1},
			map[time.Weekday]int{time.Saturday: -1, time.Sunday: 1}, map[time.Weekday]int{time.Saturday: 2, time.Sunday: 1})
		return truth{"fixed date, moved", func(y int) milestones.Date { return fixed(y).AddDays(moved[fixed(y).Weekday()]) }}
	case 4:
		return truth{"nearest weekday", func(y int) milestones.Date { return seek(fixed(y).AddDays(-3), w, 1) }}
	case 5:
		step := pick(r, -1, 1)
		return truth{"weekday from a date", func(y int) milestones.Date { return seek(fixed(y), w, step) }}
	case 6:
		n, easter := r.IntN(121)-60, pick(r, Easter, Pascha)
		return truth{"from Easter", func(y int) milestones.Date { return easter(y).AddDays(n) }}
	}
	n := r.IntN(15) - 7
	return truth{"from a holiday", func(y int) milestones.Date {
		labor := seek(d(y, time.September, 1), time.Monday, 1)
		return labor.AddDays(n)
	}}
}

// editions are those of n years, but that one is left out, or held on any day
// of its year.
func (t truth) editions(r *rand.Rand, from, n int) []Edition {
	odd, gap := r.IntN(n), r.IntN(2) == 0
	var all []Edition
	for i := range n {
		day := t.in(from + i)
		if i == odd {
			if gap {
				continue
			}
			day = anyDay(r, from+i)
		}
		all = append(all, Edition{day, day})
	}
	return all
}

// gives reports whether the rule or one of its rivals gives that day.
func (p Pattern) gives(day milestones.Date) bool {
	return p.From == day || slices.ContainsFunc(p.Rivals, func(r Rival) bool { return r.From == day })
}

// A rule with one odd year is found: it, or what explains the editions as
// well, gives the days of the next two years. Nearly as often it is what is
// named first, and what somebody plans by, that gives the next year's.
func TestRulesAreFound(t *testing.T) {
	const series = 1000
	for _, n := range []int{6, 7, 10} {
		r := rand.New(rand.NewPCG(1978, uint64(n)))
		found, first := 0, 0
		missed := map[string]int{}
		for range series {
			rule, from := someTruth(r), 2005+r.IntN(12)
			given := rule.editions(r, from, n)
			next, after := rule.in(from+n), rule.in(from+n+1)
			p := FindPattern(given, from+n, "US")
			if !p.gives(next) || !FindPattern(given, from+n+1, "US").gives(after) {
				missed[rule.kind]++
				continue
			}
			found++
			if p.From == next {
				first++
			}
		}
		t.Logf("%d years, one of them odd: %d of %d rules found, %d of them named first; missed %v", n, found, series, first, missed)
		if found < series*95/100 {
			t.Errorf("fewer than 95 %% found")
		}
		if first < series*95/100 {
			t.Errorf("fewer than 95 %% named first")
		}
	}
}

// Dates without a rule are refused. Those of the last row have one, the
// weekday, and now and then three quarters of them fall in the same week.
func TestChanceIsRefused(t *testing.T) {
	const series = 1000
	saturdayOfJune := func(r *rand.Rand, year int) milestones.Date {
		all := []milestones.Date{}
		for day := seek(d(year, 6, 1), time.Saturday, 1); day.Month == time.June; day = day.AddDays(7) {
			all = append(all, day)
		}
		return pick(r, all...)
	}
	rows := []struct {
		what  string
		day   func(*rand.Rand, int) milestones.Date
		least int // refused
	}{
		{"any day of the year", anyDay, series * 99 / 100},
		{"any day of June", func(r *rand.Rand, year int) milestones.Date { return d(year, 6, 1+r.IntN(30)) }, series * 99 / 100},
		{"any Saturday of June", saturdayOfJune, series * 97 / 100},
	}
	for _, row := range rows {
		r := rand.New(rand.NewPCG(1978, 7))
		refused := 0
		for range series {
			var given []Edition
			for year := 2018; year < 2025; year++ {
				day := row.day(r, year)
				given = append(given, Edition{day, day})
			}
			if FindPattern(given, 2025, "US").Refused != "" {
				refused++
			}
		}
		t.Logf("seven of %s: %d of %d refused", row.what, refused, series)
		if refused < row.least {
			t.Errorf("seven of %s: fewer than %d refused", row.what, row.least)
		}
	}
}

func BenchmarkPattern(b *testing.B) {
	r := rand.New(rand.NewPCG(1978, 1))
	given := someTruth(r).editions(r, 2010, 10)
	for b.Loop() {
		FindPattern(given, 2027, "US")
	}
}
