package store_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"banns/store"
	"banns/testdata"
)

// BenchmarkEdit is one edit of the demo, end to end: the plan file read,
// saved as a version, published, committed. Every edit moves one payment.
func BenchmarkEdit(b *testing.B) {
	for _, times := range []int{1, 10} {
		b.Run(fmt.Sprintf("x%d", times), func(b *testing.B) { edits(b, manifold(testdata.Demo, times)) })
	}
}

func edits(b *testing.B, text []byte) {
	s, err := store.Open(b.Context(), b.TempDir())
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { s.Close() })
	now := time.Date(2026, time.November, 25, 9, 0, 0, 0, time.UTC)
	for n := 0; b.Loop(); n++ {
		edited := bytes.Replace(text, []byte("25% 6 months"), fmt.Appendf(nil, "25%% %d months", 5+n%2), 1)
		doc, err := store.ReadPlan("demo", edited)
		if err != nil {
			b.Fatal(err)
		}
		now = now.Add(time.Minute)
		if _, err := s.Import(b.Context(), store.Import{Document: doc, Over: true}, now); err != nil {
			b.Fatal(err)
		}
	}
}

// manifold is the plan with all its agreements the given number of times.
// With more than one caterer, lines of others name whose headcount they mean.
func manifold(text []byte, times int) []byte {
	plain := strings.NewReplacer("with final headcount", "with catering/change-2", "7 days after final headcount", "7 days after catering/change-2").Replace(string(text))
	head, rest, _ := strings.Cut(plain, "\nagreements:\n")
	agreements, tail, _ := strings.Cut(rest, "\nappointments:\n")
	var b strings.Builder
	b.WriteString(head + "\nagreements:\n" + agreements)
	for n := 2; n <= times; n++ {
		for line := range strings.Lines(agreements) {
			if name, ok := strings.CutPrefix(line, "  "); ok && !strings.HasPrefix(name, " ") && !strings.HasPrefix(name, "#") {
				line = "  " + strings.TrimSuffix(name, ":\n") + fmt.Sprintf("-%d:\n", n)
			}
			b.WriteString(line)
		}
	}
	b.WriteString("\nappointments:\n" + tail)
	return []byte(b.String())
}
