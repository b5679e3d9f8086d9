package feed

import (
	"bytes"
	"fmt"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"banns/milestones"
)

// twin is a plan, and one that differs from it in nothing that who may know.
type twin struct {
	plan, other *milestones.Plan
	who         string
}

var twins = rapid.Custom(func(t *rapid.T) twin {
	p := drawPlan(t)
	who := rapid.SampledFrom(p.People).Draw(t, "who").Key
	return twin{p, meddle(t, p, who), who}
})

// leak is how the twin's other plan shows to who, or nothing.
func (tw twin) leak() string {
	var views [2][]Entry
	var feeds [2][]byte
	var ledgers [2][]Row
	for n, p := range []*milestones.Plan{tw.plan, tw.other} {
		views[n] = View(p, scheduled(panics{}, p), tw.who)
		who, _ := p.Person(tw.who)
		wanted := Publishable(views[n], p.ID, who.ID(), "https://banns.example/p/x", ByBoth)
		rows := Revise(nil, wanted, noon, d(2026, 11, 25), time.Time{})
		feeds[n] = Encode(Calendar{Name: p.Wedding.Title, Published: Shown(rows)})
		ledgers[n] = Revise(ledgers[0], wanted, noon.AddDate(0, 0, n), d(2026, 11, 26), time.Time{})
	}
	if len(views[0]) != len(views[1]) {
		return fmt.Sprintf("%s sees %d entries, and then %d", tw.who, len(views[0]), len(views[1]))
	}
	for n := range views[0] {
		if !reflect.DeepEqual(views[0][n], views[1][n]) {
			return fmt.Sprintf("%s sees\n%+v\nand then\n%+v", tw.who, views[0][n], views[1][n])
		}
	}
	if !bytes.Equal(feeds[0], feeds[1]) {
		return fmt.Sprintf("the feed of %s is\n%s\nand then\n%s", tw.who, feeds[0], feeds[1])
	}
	if !reflect.DeepEqual(ledgers[0], ledgers[1]) {
		return fmt.Sprintf("the ledger of %s is\n%+v\nand then\n%+v", tw.who, ledgers[0], ledgers[1])
	}
	if turns := Turns(ledgers[0], ledgers[1]); len(turns) > 0 {
		return fmt.Sprintf("%s would be told %+v", tw.who, turns)
	}
	who, _ := tw.plan.Person(tw.who)
	plan, other := milestones.Work(tw.plan, milestones.NoClosures{}), milestones.Work(tw.other, milestones.NoClosures{})
	if told := Compare(plan, other, who.ID(), d(2026, 11, 26)); len(told) > 0 {
		return fmt.Sprintf("%s would be told %+v", tw.who, told)
	}
	return ""
}

var noon = time.Date(2026, time.November, 25, 12, 0, 0, 0, time.UTC)

// panics is for plans that cannot have faults.
type panics struct{}

func (panics) Fatalf(format string, args ...any) { panic(fmt.Sprintf(format, args...)) }

// TestPrivacy changes everything that one person may not know, and finds
// their entries, their feed's bytes and their ledger as they were.
func TestPrivacy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		if leak := twins.Draw(t, "twin").leak(); leak != "" {
			t.Fatal(leak)
		}
	})
}

// TestPrivacyCanFail gives away one cell of the tables at a time, and demands
// that the twins of TestPrivacy tell.
func TestPrivacyCanFail(t *testing.T) {
	const most = 500
	all := make([]twin, most)
	for n := range all {
		all[n] = twins.Example(n)
	}
	flips(func(table string, k milestones.Kind, wrong tie) {
		if table == "sees" && (outside(k) || !anyOf(sees[k], []tie{wrong})) {
			return // inert, or it hides where the design shows
		}
		if given := map[string][]tie{"seesMoney": seesMoney, "seesQuoted": seesQuoted, "seesOver": seesOver}[table]; table != "sees" && !anyOf(given, []tie{wrong}) {
			return
		}
		for _, tw := range all {
			if tw.leak() != "" {
				return
			}
		}
		t.Errorf("%s[%s] lets a %s see more, and no twin of %d tells", table, k, wrong, most)
	})
}
