package store_test

import (
	"strings"
	"testing"

	"banns/store"
)

// TestRenaming follows one person through plan files: what is written of
// them, and the id that their calendar has for good.
func TestRenaming(t *testing.T) {
	const maren = "maren: {name: Maren, part: couple}"
	for _, row := range []struct {
		name  string
		files []string // the people of each version, but for june
		key   string   // of the person in the last
		id    string
	}{
		{"never", []string{maren, maren}, "maren", "maren"},
		{"once", []string{maren, "mara: {name: Mara, part: couple, was: maren}"}, "mara", "maren"},
		{"twice", []string{maren, "mara: {name: Mara, part: couple, was: maren}",
			"mari: {name: Mari, part: couple, was: mara}"}, "mari", "maren"},
		{"three times", []string{maren, "mara: {name: Mara, part: couple, was: maren}",
			"mari: {name: Mari, part: couple, was: mara}", "mia: {name: Mia, part: couple, was: mari}"}, "mia", "maren"},
		{"the same file again", []string{maren, "mara: {name: Mara, part: couple, was: maren}",
			"mari: {name: Mari, part: couple, was: mara}", "mari: {name: Mari, part: couple, was: mara}"}, "mari", "maren"},
		{"was left out later", []string{maren, "mara: {name: Mara, part: couple, was: maren}", "mara: {name: Mara, part: couple}"}, "mara", "maren"},
		{"and back", []string{maren, "mara: {name: Mara, part: couple, was: maren}", "maren: {name: Maren, part: couple, was: mara}"}, "maren", "maren"},
		{"was said a version late", []string{maren, "mara: {name: Mara, part: couple}", "mara: {name: Mara, part: couple, was: maren}"}, "mara", "maren"},
		{"two exchange keys", []string{maren + ", theo: {name: Theo, part: couple}",
			"theo: {name: Maren, part: couple, was: maren}, maren: {name: Theo, part: couple, was: theo}"}, "theo", "maren"},
		{"two exchange keys, and the file again", []string{maren + ", theo: {name: Theo, part: couple}",
			"theo: {name: Maren, part: couple, was: maren}, maren: {name: Theo, part: couple, was: theo}",
			"theo: {name: Maren, part: couple, was: maren}, maren: {name: Theo, part: couple, was: theo}"}, "theo", "maren"},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := opened(t)
			var doc *store.Document
			for _, people := range row.files {
				doc = imported(t, s, strings.Replace(head, maren, people, 1), start)
			}
			if p, ok := doc.Plan.Person(row.key); !ok || p.ID() != row.id {
				t.Errorf("%s goes by %q, want %q:\n%s", row.key, p.ID(), row.id, exported(t, doc))
			}
		})
	}
}

// TestRenamedKeepsFeed: address, UIDs and all that was published stay.
func TestRenamedKeepsFeed(t *testing.T) {
	s := opened(t)
	doc := imported(t, s, head, start)
	before, body := tokens(t, s, doc)["maren"], published(t, s, doc, "maren")
	for _, edit := range [][2]string{{"maren: {", "mara: {was: maren, "}, {"maren: {", "mari: {was: mara, "}} {
		doc = imported(t, s, strings.Replace(head, edit[0], edit[1], 1), start)
	}
	if after := tokens(t, s, doc)["mari"]; after != before || after == "" {
		t.Errorf("the address is %q, and was %q", after, before)
	}
	if after := published(t, s, doc, "mari"); after != body {
		t.Errorf("the calendar was\n%s\nand is\n%s", body, after)
	}
}

// TestKeyGivenAway: a new person under the key of somebody renamed would open
// their calendar, so the import is refused.
func TestKeyGivenAway(t *testing.T) {
	s := opened(t)
	imported(t, s, head, start)
	imported(t, s, strings.Replace(head, "maren: {", "mara: {was: maren, ", 1), start)
	doc := document(t, strings.Replace(head, "people: {maren: {", "people: {mara: {name: Mara, part: couple}, maren: {", 1))
	_, err := s.Import(t.Context(), store.Import{Document: doc, Over: true}, start)
	if err == nil || !strings.Contains(err.Error(), `mara and maren would share one calendar, since both go back to the key "maren"`) {
		t.Errorf("the import ends with: %v", err)
	}
}
