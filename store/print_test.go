package store_test

import (
	"errors"
	"strings"
	"testing"

	"banns/store"
)

func TestPrint(t *testing.T) {
	s := opened(t)
	doc := imported(t, s, head, start)
	imported(t, s, strings.Replace(head, "Maren and Theo", "Ida and Ivo", 1), start)
	other, err := s.WeddingCalled(t.Context(), "ida-and-ivo")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, p := range []store.Print{
		{Wedding: doc.Plan.ID, Version: 1},
		{Wedding: doc.Plan.ID, Version: 1, Month: "2027-12"},
		{Wedding: doc.Plan.ID, Version: 1, Month: "2027-12", All: true},
		{Wedding: doc.Plan.ID, Version: 1, All: true},
		{Wedding: doc.Plan.ID, Version: 1, Month: "2027-01", Person: "june"},
		{Wedding: doc.Plan.ID, Version: 1, Month: "9999-12", Person: "maren"},
		{Wedding: other.ID, Version: 1, Person: "june"},
	} {
		token, err := s.PrintToken(t.Context(), p)
		if err != nil || seen[token] {
			t.Fatalf("%+v has the token %q: %v", p, token, err)
		}
		seen[token] = true
		got, was, err := s.Printed(t.Context(), token)
		if p.Saved = got.Saved; err != nil || got != p || !got.Saved.Equal(start) || was == nil || was.Plan.ID != p.Wedding || was.Plan.Version != 1 {
			t.Errorf("%q is of %+v, not of %+v: %v", token, got, p, err)
		}
		// One of another kind is none of a print, and the other way round.
		for _, bad := range []string{"", token + "a", token[:len(token)-1], strings.ToUpper(token), share(t, s, start), tokens(t, s, doc)["maren"]} {
			if _, _, err := s.Printed(t.Context(), bad); !errors.Is(err, store.ErrUnknown) {
				t.Errorf("%q is of a print: %v", bad, err)
			}
		}
		if _, err := s.Shared(t.Context(), token); s.Genuine(token) || !errors.Is(err, store.ErrUnknown) {
			t.Errorf("a print opens something else: %v", err)
		}
		stranger := opened(t)
		imported(t, stranger, head, start)
		if _, _, err := stranger.Printed(t.Context(), token); !errors.Is(err, store.ErrUnknown) {
			t.Errorf("another store knows it: %v", err)
		}
	}
	// Of somebody who was never there it is nobody's, and least of all a planner's.
	token, err := s.PrintToken(t.Context(), store.Print{Wedding: doc.Plan.ID, Version: 1, Person: "theo"})
	if err != nil {
		t.Fatal(err)
	}
	if p, was, err := s.Printed(t.Context(), token); err != nil || was != nil {
		t.Errorf("it is of %+v: %v", p, err)
	}
	if _, err := s.PrintToken(t.Context(), store.Print{Wedding: doc.Plan.ID, Version: 2}); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("a version to come has a print: %v", err)
	}
}
