package conflicts

import (
	"math/rand/v2"
	"slices"
	"sort"
	"testing"

	"banns/milestones"
)

// twoYears are the days of 2027 and 2028, and n events of one or two days
// spread over them.
func twoYears(n int) ([]milestones.Date, []Event) {
	days := make([]milestones.Date, 731)
	for i := range days {
		days[i] = d(2027, 1, 1).AddDays(i)
	}
	r := rand.New(rand.NewPCG(5, 6))
	events := make([]Event, n)
	for i := range events {
		from := days[r.IntN(len(days))]
		events[i] = Event{What: "Event", From: from, To: from.AddDays(r.IntN(7) / 6), Kind: Match, Status: Announced, Place: milestones.Place{At: &stadium}}
	}
	return days, events
}

// perRun is how long one run of a benchmark took.
func perRun(b *testing.B) float64 { return float64(b.Elapsed()) / float64(b.N) }

// BenchmarkRank ranks every day of two years by 50,000 events, and states it
// as a multiple of the least work there could be: counting, by binary search
// over the sorted first and last days, how many events each day meets. Most
// of it is the light and the plan's own dates, which go by the day: they are
// rank-no-events, with a countdown from today rank-countdown, and the events'
// part alone, the days put in order by their tallies, is tallies. Weigh, which
// tells ten days in words too, is stated beside it.
func BenchmarkRank(b *testing.B) {
	days, events := twoYears(50_000)
	last := days[len(days)-1]
	var baseline float64
	b.Run("count", func(b *testing.B) {
		firsts, lasts, sum := make([]int, len(events)), make([]int, len(events)), 0
		for i, e := range events {
			firsts[i], lasts[i] = e.From.DaysSince(days[0]), e.To.DaysSince(days[0])
		}
		slices.Sort(firsts)
		slices.Sort(lasts)
		b.ResetTimer()
		for range b.N {
			for day := range days {
				sum += sort.SearchInts(firsts, day+1) - sort.SearchInts(lasts, day)
			}
		}
		if sum == 0 {
			b.Fatal("no day meets an event")
		}
		baseline = perRun(b)
	})
	s := NewScales(lakeTown(), milestones.NoClosures{}, events, days[0], last)
	none := NewScales(lakeTown(), milestones.NoClosures{}, nil, days[0], last)
	begun := NewScales(planned(b), milestones.NoClosures{}, nil, days[0], last)
	begun.Today = d(2026, 10, 1)
	for _, run := range []struct {
		name string
		do   func() []Candidate
		want int
	}{
		{"tallies", func() []Candidate { return s.byTally(days) }, len(days)},
		{"rank-events", func() []Candidate { return s.Rank(days) }, len(days)},
		{"rank-no-events", func() []Candidate { return none.Rank(days) }, len(days)},
		{"rank-countdown", func() []Candidate { return begun.Rank(days) }, len(days)},
		{"weigh-events", func() []Candidate { return s.Weigh(days, 10) }, 10},
		{"weigh-no-events", func() []Candidate { return none.Weigh(days, 10) }, 10},
	} {
		b.Run(run.name, func(b *testing.B) {
			for range b.N {
				if got := run.do(); len(got) != run.want {
					b.Fatal(len(got))
				}
			}
			b.ReportMetric(perRun(b)/baseline, "x-count")
		})
	}
}

// byTally is Rank without the plan's own.
func (s *Scales) byTally(days []milestones.Date) []Candidate {
	all := make([]Candidate, len(days))
	for n, day := range days {
		all[n] = Candidate{Date: day, tally: s.tallyOf(day)}
		all[n].Verdict = all[n].tally.verdict()
	}
	slices.SortStableFunc(all, Candidate.Compare)
	return all
}

// daysLater are events on other days: each so many days later.
func daysLater(events []Event, days int) []Event {
	all := slices.Clone(events)
	for n := range all {
		all[n].From, all[n].To = all[n].From.AddDays(days), all[n].To.AddDays(days)
	}
	return all
}

// BenchmarkMeets weighs the days of June 2027, told in words, with 1,000
// events in that month; with ten times as many besides that all lie in the
// rest of two years; and with ten times as many in that month. It grows with
// what meets the days and not with what is known: elsewhere is to be about 1,
// and more about ten.
func BenchmarkMeets(b *testing.B) {
	june := make([]milestones.Date, 30)
	for n := range june {
		june[n] = d(2027, 6, 1).AddDays(n)
	}
	few := make([]Event, 1_000)
	for n := range few {
		few[n] = on(june[n%30], "Match", Match, &stadium, 0, 0)
	}
	var elsewhere, more []Event
	for n := range 10 {
		elsewhere = append(elsewhere, daysLater(few, 60+40*n)...)
		more = append(more, few...)
	}
	var baseline float64
	for _, run := range []struct {
		name   string
		events []Event
	}{{"few", few}, {"elsewhere", slices.Concat(few, elsewhere)}, {"more", more}} {
		s := NewScales(lakeTown(), milestones.NoClosures{}, run.events, d(2027, 1, 1), d(2028, 12, 31))
		b.Run(run.name, func(b *testing.B) {
			clashes := 0
			for range b.N {
				for _, c := range s.Weigh(june, 0) {
					clashes += len(c.Clashes)
				}
			}
			if clashes < b.N*len(few) {
				b.Fatal(clashes)
			}
			if run.name == "few" {
				baseline = perRun(b)
			}
			b.ReportMetric(perRun(b)/baseline, "x-few")
		})
	}
}

// BenchmarkLoad takes N events in, and 4N: it is to be about four times as
// long.
func BenchmarkLoad(b *testing.B) {
	var baseline float64
	for _, run := range []struct {
		name string
		n    int
	}{{"N", 50_000}, {"4N", 200_000}} {
		days, events := twoYears(run.n)
		b.Run(run.name, func(b *testing.B) {
			for range b.N {
				NewScales(lakeTown(), milestones.NoClosures{}, events, days[0], days[len(days)-1])
			}
			if run.name == "N" {
				baseline = perRun(b)
			}
			b.ReportMetric(perRun(b)/baseline, "x-N")
		})
	}
}
