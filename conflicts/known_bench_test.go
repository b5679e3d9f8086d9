package conflicts

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"banns/milestones"
)

// manySeries is a table of n yearly events, each held five times in some June.
func manySeries(n int) string {
	r := rand.New(rand.NewPCG(7, 8))
	var b strings.Builder
	b.WriteString("name,date\n")
	for i := range n {
		for year := 2021; year <= 2025; year++ {
			fmt.Fprintf(&b, "Fair of %c%c%c,%s\n", 'a'+i/676%26, 'a'+i/26%26, 'a'+i%26, d(year, 6, 1).AddDays(r.IntN(28)))
		}
	}
	return b.String()
}

// BenchmarkKnown works out what ten thousand yearly events lead one to expect,
// which is as many as a source may hold, and states it as a multiple of
// reading the table that they stand in.
func BenchmarkKnown(b *testing.B) {
	text := manySeries(maxEvents / 5)
	scope := Scope{Source: "town", Zone: zone(b, "America/Detroit"), From: d(2007, 1, 1), To: d(2028, 1, 31)}
	var l Listing
	var baseline float64
	b.Run("read", func(b *testing.B) {
		for range b.N {
			var err error
			if l, err = ReadEvents(strings.NewReader(text), scope); err != nil || len(l.Events) != maxEvents {
				b.Fatal(len(l.Events), err)
			}
		}
		baseline = float64(b.Elapsed()) / float64(b.N)
	})
	w := &milestones.Wedding{Region: "US-MI", Zone: "America/Detroit"}
	b.Run("known", func(b *testing.B) {
		for range b.N {
			if all, _ := Known(w, l.Events, nil, d(2026, 12, 1), d(2028, 1, 31)); len(all) == 0 {
				b.Fatal("nothing is known")
			}
		}
		b.ReportMetric(float64(b.Elapsed())/float64(b.N)/baseline, "x-read")
	})
}
