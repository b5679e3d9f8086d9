package store_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/store"
)

// TestUnderAnOldKey: whoever comes under the key of somebody who left has
// nothing of theirs, and they nothing of the newcomer's.
func TestUnderAnOldKey(t *testing.T) {
	s := opened(t)
	imp := func(text string, now time.Time) store.Imported {
		t.Helper()
		return saved(t, s, store.Import{Over: true}, text, now)
	}
	with := func(name string) string {
		return strings.Replace(shore, "{name: Noor, part: planner}", "{name: "+name+", part: planner}", 1)
	}
	without := strings.Replace(shore, "  noor: {name: Noor, part: planner}\n", "", 1)
	imp(shore, start)
	imp(valley, start)
	j := together(t, s, start, pairs("noor", "ann-and-bo", "cleo-and-dee")...)
	doc := loaded(t, s, "ann-and-bo")
	first := tokens(t, s, doc)["noor"]

	imp(without, start.AddDate(0, 0, 1))
	if done := imp(with("noor"), start.AddDate(0, 0, 2)); len(done.Newcomers) > 0 || tokens(t, s, doc)["noor"] != first {
		t.Errorf("she came back: %+v; her address is the same: %v", done.Newcomers, tokens(t, s, doc)["noor"] == first)
	}
	imp(without, start.AddDate(0, 0, 3)) // version 4
	if got := one[int](t, s.DB(), "select max(version) from wedding"); got != 4 {
		t.Fatalf("it is version %d", got)
	}
	imp(without, start.AddDate(0, 0, 4))
	done := imp(with("Noor Haddad"), start.AddDate(0, 0, 5))
	want := []store.Newcomer{{Key: "noor", Name: "Noor Haddad", Was: "noor", Left: 4, From: []string{"noor-s-year"}}}
	if diff := cmp.Diff(want, done.Newcomers); diff != "" {
		t.Errorf("newcomers (-want +got):\n%s", diff)
	}
	openings, err := s.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	second := tokens(t, s, doc)["noor"]
	if !openings[first].Revoked || second == first || openings[second].Feed == openings[first].Feed {
		t.Errorf("the old address opens %+v, the new one %+v", openings[first], openings[second])
	}
	if body := published(t, s, doc, "noor"); strings.Contains(body, "CANCELLED") || strings.Count(body, "BEGIN:VEVENT") != 5 {
		t.Errorf("the newcomer's calendar:\n%s", body)
	}
	if c := jointCalendar(t, s, j); strings.Contains(text(c), "Ann and Bo") || len(says(c, "Cleo and Dee")) != 5 {
		t.Errorf("the joint feed has the newcomer's dates:\n%s", text(c))
	}
	// A new name under a key that stays is the same person.
	if done := imp(with("Noor Saleh"), start.AddDate(0, 0, 6)); len(done.Newcomers) > 0 || tokens(t, s, doc)["noor"] != second {
		t.Errorf("another name: %+v", done.Newcomers)
	}
}
