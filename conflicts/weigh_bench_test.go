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

// BenchmarkWeigh ranks every day of two years by 50,000 events, and states it
// as a multiple of the least work there could be: counting, by binary search
// over the sorted first and last days, how many events each day meets. The
// whole of Weigh is stated beside it, with and without events: the plan's
// dates are worked out anew for each day, and ten days are told in words.
// Loading is stated by event, for 50,000 and for four times that.
func BenchmarkWeigh(b *testing.B) {
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
		baseline = float64(b.Elapsed()) / float64(b.N)
	})
	s := NewScales(lakeTown(), milestones.NoClosures{}, events, days[0], last)
	b.Run("rank", func(b *testing.B) {
		for range b.N {
			ranked := make([]tally, len(days))
			for n, day := range days {
				ranked[n] = s.tallyOf(day)
			}
			slices.SortFunc(ranked, func(a, b tally) int { return a.compare(b) })
		}
		b.ReportMetric(float64(b.Elapsed())/float64(b.N)/baseline, "x-count")
	})
	none := NewScales(lakeTown(), milestones.NoClosures{}, nil, days[0], last)
	for _, run := range []struct {
		name string
		*Scales
	}{{"weigh", s}, {"weigh-no-events", none}} {
		b.Run(run.name, func(b *testing.B) {
			for range b.N {
				if got := run.Weigh(days, 10); len(got) != 10 {
					b.Fatal(len(got))
				}
			}
			b.ReportMetric(float64(b.Elapsed())/float64(b.N)/baseline, "x-count")
		})
	}
	for _, n := range []int{50_000, 200_000} {
		_, events := twoYears(n)
		b.Run("load", func(b *testing.B) {
			for range b.N {
				NewScales(lakeTown(), milestones.NoClosures{}, events, days[0], last)
			}
			b.ReportMetric(float64(b.Elapsed())/float64(b.N)/float64(n), "ns/event")
		})
	}
}
