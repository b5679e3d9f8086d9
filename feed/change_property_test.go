package feed

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"banns/milestones"
)

// TestCompareProperty compares any plan with any other, to everybody: nothing
// is otherwise with a plan and itself, what is told is told in words, and a
// way there is a way back.
func TestCompareProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		was, is := drawPlan(t), drawPlan(t)
		if rapid.Bool().Draw(t, "moved") {
			is = clone(was)
			is.Wedding.Date = is.Wedding.Date.AddDays(rapid.IntRange(-40, 40).Draw(t, "days"))
		}
		for _, p := range []*milestones.Plan{was, is} {
			scheduled(t, p)
		}
		a, b := milestones.Work(was, milestones.NoClosures{}), milestones.Work(is, milestones.NoClosures{})
		for _, who := range append([]milestones.Person{{}}, was.People...) {
			if told := Compare(a, a, who.ID(), d(2026, 11, 25)); len(told) > 0 {
				t.Fatalf("%q is told of nothing: %+v", who.Key, told)
			}
			there, back := Compare(a, b, who.ID(), d(2026, 11, 25)), Compare(b, a, who.ID(), d(2026, 11, 25))
			if (len(there) == 0) != (len(back) == 0) {
				t.Fatalf("%q is told %+v one way and %+v the other", who.Key, there, back)
			}
			for _, c := range append(there, back...) {
				sound(t, c)
			}
		}
	})
}

// sound fails where c is not told in words.
func sound(t *rapid.T, c Change) {
	if len(c.Aspects) == 0 || strings.TrimSpace(c.Says) != c.Says || len(c.Says) < 10 || strings.HasSuffix(c.Says, ".") ||
		strings.Contains(c.Says, "  ") || strings.Contains(c.Says, " ,") || strings.Contains(c.Says, "%!") {
		t.Fatalf("told badly: %+v", c)
	}
	for _, one := range c.Each {
		sound(t, one)
	}
}
