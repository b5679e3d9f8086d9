package store_test

import (
	"banns/store"
	"testing"
	"time"
)

// head is the least that a plan file has, on three lines.
const head = `banns: 1
wedding: {title: Maren and Theo, date: 2027-09-18, zone: America/Detroit, currency: USD}
people: {maren: {name: Maren, part: couple}, june: {name: June, part: vendor}}
`

// hall is an agreement as far as its terms, on lines 4 to 8.
const hall = head + `agreements:
  hall:
    with: The Net Loft
    standing: signed
    signed: 2026-08-21
`

// opened is a store in a folder of its own.
func opened(t testing.TB) *store.Store {
	t.Helper()
	return openedIn(t, t.TempDir())
}

func openedIn(t testing.TB, dir string) *store.Store {
	t.Helper()
	s, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// start is when the first version of everything in these tests is saved.
var start = time.Date(2026, time.November, 25, 9, 0, 0, 0, time.UTC)

// document is the plan that text says.
func document(t testing.TB, text string) *store.Document {
	t.Helper()
	doc, err := store.ReadPlan("plan", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// saved imports text as in says, and is what came of it.
func saved(t testing.TB, s *store.Store, in store.Import, text string, now time.Time) store.Imported {
	t.Helper()
	in.Document = document(t, text)
	done, err := s.Import(t.Context(), in, now)
	if err != nil {
		t.Fatal(err)
	}
	return done
}

// imported saves text over whatever is stored, and is what the store then has.
func imported(t testing.TB, s *store.Store, text string, now time.Time) *store.Document {
	t.Helper()
	return loaded(t, s, saved(t, s, store.Import{Over: true}, text, now).Name)
}

func loaded(t testing.TB, s *store.Store, name string) *store.Document {
	t.Helper()
	doc, err := s.Load(t.Context(), name)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// exported is the plan as "banns export" writes it.
func exported(t testing.TB, doc *store.Document) string {
	t.Helper()
	text, err := doc.Text()
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
