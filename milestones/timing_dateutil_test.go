package milestones

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// dateRule is one rule as testdata/date_rules.py reads it.
type dateRule struct {
	Anchor Date   `json:"anchor"`
	N      int    `json:"n"` // of a weekday: which, from Monday as 0
	Unit   string `json:"unit"`
	After  bool   `json:"after"`
	Closed []Date `json:"closed"`
}

func (r dateRule) phrase() string {
	side := "before"
	if r.After {
		side = "after"
	}
	if r.Unit == "weekday" {
		return fmt.Sprintf("the %s %s %s", time.Weekday((r.N+1)%7), side, r.Anchor)
	}
	return fmt.Sprintf("%d %ss %s %s", r.N, r.Unit, side, r.Anchor)
}

// random draws rules in which leap days and the ends of months are frequent.
type random struct{ *rand.Rand }

func (r random) date() Date {
	day := d(1990, 1, 1).AddDays(r.IntN(100 * 365))
	switch r.IntN(4) {
	case 0: // the last days of a month
		day = Date{day.Year, day.Month, 1}.AddMonths(1).AddDays(-1 - r.IntN(3))
	case 1: // about the end of a leap year's February
		day = d(1992+4*r.IntN(24), 2, 26).AddDays(r.IntN(6))
	}
	return day
}

func (r random) rule(closed []Date) dateRule {
	rule := dateRule{Anchor: r.date(), After: r.IntN(2) == 0, Closed: closed}
	switch r.IntN(8) {
	case 0:
		rule.Unit, rule.N = "day", 1+r.IntN(800)
	case 1:
		rule.Unit, rule.N = "week", 1+r.IntN(120)
	case 2, 3:
		rule.Unit, rule.N = "month", 1+r.IntN(60)
	case 4:
		rule.Unit, rule.N = "year", 1+r.IntN(12)
	case 5:
		rule.Unit, rule.N = "weekday", r.IntN(7)
	default:
		rule.Unit, rule.N = "business day", 1+r.IntN(30)
		if len(closed) > 0 { // where the closed days matter
			rule.Anchor = closed[r.IntN(len(closed))].AddDays(r.IntN(40) - 20)
		}
	}
	return rule
}

// closed is no closed day, or two weeks' worth of them near to each other.
func (r random) closed() []Date {
	days := []Date{}
	if r.IntN(2) == 0 {
		return days
	}
	for day := r.date(); len(days) < 14; {
		day = day.AddDays(1 + r.IntN(5))
		days = append(days, day)
	}
	return days
}

// ruledPlan is a plan with 20 rules to an agreement, each the timing of a
// paper, and the rules by the id of their item.
func ruledPlan(agreements int) (*Plan, map[string]dateRule) {
	r, rules := random{rand.New(rand.NewPCG(2027, 918))}, map[string]dateRule{}
	var all []Agreement
	for n := range agreements {
		a := Agreement{Key: fmt.Sprintf("a%d", n), Standing: Quoted, BusinessDays: MonFri, Closed: r.closed()}
		for m := range 20 {
			rule := r.rule(a.Closed)
			rules[fmt.Sprintf("%s/paper-%d", a.Key, m+1)] = rule
			a.Papers = append(a.Papers, Paper{Line: said("it " + rule.phrase())})
		}
		all = append(all, a)
	}
	return wedding(all...), rules
}

// Five thousand rules, from the phrase to the item's day, against
// python-dateutil: relativedelta, and rrule for business days.
func TestTimingAgainstDateutil(t *testing.T) {
	python := dateutil(t)
	p, rules := ruledPlan(250)
	var asked []Item
	var lines bytes.Buffer
	for _, i := range Schedule(read(t, p), NoClosures{}) {
		if rule, ok := rules[i.ID]; ok {
			asked = append(asked, i)
			if err := json.NewEncoder(&lines).Encode(rule); err != nil {
				t.Fatal(err)
			}
		}
	}
	command := exec.Command(python, "testdata/date_rules.py")
	command.Stdin = &lines
	var complaint strings.Builder
	command.Stderr = &complaint
	out, err := command.Output()
	if err != nil {
		t.Fatalf("%s: %s\n%s", command, err, &complaint)
	}
	answers := strings.Fields(string(out))
	if len(answers) != len(asked) || len(asked) != 5000 {
		t.Fatalf("%d answers to %d rules", len(answers), len(asked))
	}
	for n, i := range asked {
		if i.Date.String() != answers[n] {
			t.Errorf("%q, closed on %v: %s here, %s there", i.Rule, rules[i.ID].Closed, i.Date, answers[n])
		}
	}
}

// dateutil is a Python that has dateutil. CI has to have one.
func dateutil(t *testing.T) string {
	t.Helper()
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import dateutil").Run(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("CI lacks python3-dateutil: %s", err)
		}
		t.Skip("needs Debian's python3-dateutil: apt-get install python3-dateutil")
	}
	return python
}
