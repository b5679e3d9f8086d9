package testdata

import (
	"fmt"
	"strings"
)

// Manifold is the plan with all its agreements the given number of times.
// With more than one caterer, lines of others name whose headcount they mean.
func Manifold(text []byte, times int) []byte {
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
