package feed_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
	"banns/store"
)

// stamp is when everything in these tests was published.
var stamp = time.Date(2026, time.November, 25, 9, 0, 0, 0, time.UTC)

// demo is the demo plan and its items.
func demo(t testing.TB) (*milestones.Plan, []milestones.Item) {
	t.Helper()
	path := filepath.Join("..", "testdata", "plans", "maren-and-theo.yaml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := store.ReadPlan(path, text)
	if err != nil {
		t.Fatal(err)
	}
	doc.Plan.ID = "demo"
	closures, _ := conflicts.ClosuresFor(doc.Plan.Wedding.Region)
	return doc.Plan, milestones.Schedule(doc.Plan, closures)
}

// calendarOf is what the person's feed carries of items.
func calendarOf(p *milestones.Plan, items []milestones.Item, key string, r feed.Reminders) feed.Calendar {
	who, _ := p.Person(key)
	wanted := feed.Publishable(feed.View(p, items, key), p.ID, who.ID(), "https://banns.example/p/"+key, r)
	rows := feed.Revise(nil, wanted, stamp, milestones.DateOf(stamp), time.Time{})
	return feed.Calendar{Name: p.Wedding.Title, Published: feed.Shown(rows)}
}
