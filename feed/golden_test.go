package feed_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/feed/check"
)

var update = flag.Bool("update", false, "write the feeds in testdata/feeds anew")

func TestMain(m *testing.M) {
	code := m.Run()
	if err := check.Tidy(); err != nil {
		panic(err)
	}
	os.Exit(code)
}

// goldens are persons of the demo plan whose feed stands beside it: the
// mother who pays, the caterer's own contact, and a friend who reads.
var goldens = []struct {
	who       string
	reminders feed.Reminders
}{{"bea", feed.ByBoth}, {"june", feed.ByAlarm}, {"priya", feed.ByNone}}

func TestGoldenFeeds(t *testing.T) {
	p, items := demo(t)
	for _, g := range goldens {
		path := filepath.Join("..", "testdata", "feeds", "maren-and-theo."+g.who+".ics")
		got := feed.Encode(calendarOf(p, items, g.who, g.reminders))
		if *update {
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Errorf("%s (-) and what is encoded now (+); read it, and then -update:\n%s", path, diff)
		}
	}
}
