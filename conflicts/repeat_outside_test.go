package conflicts

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"banns/milestones"
)

// anyRules makes rules of repetition, with the day that each begins on. A
// simple one has nothing that ical.js 2.2.1 takes otherwise than RFC 5545 does:
// it has 31 June on 1 July, and loses its step where BYMONTH leaves months out.
type anyRules struct{ *rand.Rand }

func (r anyRules) rule(simple bool) (start milestones.Date, rule string) {
	start = d(2026, 1, 1).AddDays(r.IntN(365))
	freq := [...]string{"DAILY", "WEEKLY", "MONTHLY", "YEARLY"}[r.IntN(4)]
	parts := []string{"FREQ=" + freq}
	longest := 31 // day of a month
	if simple {
		longest = 28
	}
	add := func(name string, values ...string) { parts = append(parts, name+"="+strings.Join(values, ",")) }
	if n := 1 + r.IntN(4); n > 1 {
		add("INTERVAL", fmt.Sprint(n))
	}
	switch {
	case freq == "DAILY" && r.IntN(2) == 0, freq == "WEEKLY":
		add("BYDAY", r.some(3, weekdayCodes...)...)
	case freq == "DAILY":
		add("BYMONTHDAY", r.numbers(4, 1, 28)...)
	case freq == "MONTHLY" && r.IntN(2) == 0:
		add("BYMONTHDAY", r.numbers(3, -5, 31)...)
	case freq == "MONTHLY" && !simple && r.IntN(2) == 0:
		add("BYDAY", r.some(4, weekdayCodes...)...)
		add("BYSETPOS", r.numbers(2, -3, 4)...)
	case freq == "MONTHLY":
		add("BYDAY", r.nth(), r.nth())
	case !simple && r.IntN(3) == 0:
		add("BYYEARDAY", r.numbers(4, -20, 366)...)
	case !simple && r.IntN(3) == 0:
		add("BYWEEKNO", r.numbers(3, 1, 53)...)
		add("BYDAY", r.some(2, weekdayCodes...)...)
	case r.IntN(2) == 0:
		add("BYMONTH", r.numbers(3, 1, 12)...)
		add("BYDAY", r.nth())
	default:
		add("BYMONTH", r.numbers(3, 1, 12)...)
		add("BYMONTHDAY", r.numbers(3, 1, longest)...)
	}
	if freq != "YEARLY" && !simple && r.IntN(4) == 0 {
		add("BYMONTH", r.numbers(6, 1, 12)...)
	}
	if r.IntN(3) == 0 {
		add("WKST", weekdayCodes[r.IntN(7)])
	}
	return start, strings.Join(parts, ";")
}

var weekdayCodes = []string{"MO", "TU", "WE", "TH", "FR", "SA", "SU"}

// some are up to most of the words, each once.
func (r anyRules) some(most int, words ...string) []string {
	words = slices.Clone(words)
	r.Shuffle(len(words), func(i, j int) { words[i], words[j] = words[j], words[i] })
	return words[:1+r.IntN(most)]
}

// numbers are up to most numbers from one to another, and never nought.
func (r anyRules) numbers(most, from, to int) []string {
	var all []int
	for range 1 + r.IntN(most) {
		if n := from + r.IntN(to-from+1); n != 0 && !slices.Contains(all, n) {
			all = append(all, n)
		}
	}
	if len(all) == 0 {
		all = []int{to}
	}
	slices.Sort(all)
	var words []string
	for _, n := range all {
		words = append(words, strconv.Itoa(n))
	}
	return words
}

// nth is the second Monday, or the last but one.
func (r anyRules) nth() string {
	return [...]string{"1", "2", "3", "4", "-1", "-2"}[r.IntN(6)] + weekdayCodes[r.IntN(7)]
}

// Rules that nobody chose come to the same days as with two libraries from
// outside, the day that each begins on apart: it counts whatever the rule says
// (RFC 5545 3.8.5.3), and the libraries leave that to their caller.
func TestRulesAgainstOthers(t *testing.T) {
	for name, other := range map[string]struct {
		simple bool
		days   func(*testing.T, []string) []string
	}{
		"dateutil": {false, func(t *testing.T, args []string) []string {
			return outside(t, ".", "apt-get install python3-dateutil", "/usr/bin/python3", append([]string{"testdata/rules.py"}, args...)...)
		}},
		"ical.js": {true, func(t *testing.T, args []string) []string { return node(t, "rules.mjs", args...) }},
	} {
		t.Run(name, func(t *testing.T) {
			last := d(2028, 6, 30)
			r := anyRules{rand.New(rand.NewPCG(5, 45))}
			args := []string{last.String()}
			for range 400 {
				start, rule := r.rule(other.simple)
				args = append(args, start.String(), rule)
			}
			rows := other.days(t, args)
			if len(rows) != len(args)/2 {
				t.Fatalf("%d answers to %d rules", len(rows), len(args)/2)
			}
			some := 0
			for i, want := range rows {
				start, rule := args[1+2*i], args[2+2*i]
				var days []string
				for _, e := range readNew(t, last, strings.ReplaceAll(start, "-", ""), rule).Events {
					if day := e.From.String(); day > start {
						days = append(days, day)
					}
				}
				if got := strings.Join(days, " "); got != strings.TrimSpace(want) {
					t.Errorf("%s from %s:\n%s, there\n%s", rule, start, got, want)
				}
				if len(days) > 0 {
					some++
				}
			}
			t.Logf("%d of %d rules have a day", some, len(rows))
			if some < len(rows)*3/4 {
				t.Errorf("only %d of %d rules have a day", some, len(rows))
			}
		})
	}
}
