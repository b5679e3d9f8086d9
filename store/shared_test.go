package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

var twoDays = []milestones.Date{{Year: 2027, Month: 10, Day: 2}, {Year: 2027, Month: 9, Day: 18}}

// share makes a link to two days of head’s wedding.
func share(t *testing.T, s *store.Store, now time.Time) string {
	t.Helper()
	token, err := s.Share(t.Context(), "maren-and-theo", twoDays, []conflicts.Tradition{conflicts.Jewish}, now)
	if err != nil {
		t.Fatal(err)
	}
	return token
}

func TestShared(t *testing.T) {
	s := opened(t)
	doc := imported(t, s, head, start)
	imported(t, s, strings.Replace(head, "Maren and Theo", "Ida and Ivo", 1), start)
	token := share(t, s, start)
	got, err := s.Shared(t.Context(), token)
	if err != nil || got.Wedding != doc.Plan.ID || got.Token != token || len(got.Days) != 2 || got.Days[0] != twoDays[1] || got.Avoid[0] != conflicts.Jewish || !got.Issued.Equal(start) || got.Closed {
		t.Fatalf("it shows %+v, %v", got, err)
	}
	second := share(t, s, start.Add(time.Hour))
	all, err := s.AllShared(t.Context(), "maren-and-theo")
	if err != nil || len(all) != 2 || all[0].Token != second || all[1].Token != token {
		t.Errorf("open are %+v, %v", all, err)
	}

	// A link of one kind is none of another, and one of one wedding none of another.
	for _, bad := range []string{"", token + "a", token[1:] + "a", tokens(t, s, doc)["maren"]} {
		if _, err := s.Shared(t.Context(), bad); !errors.Is(err, store.ErrUnknown) {
			t.Errorf("%q shows days: %v", bad, err)
		}
	}
	if openings, err := s.Openings(t.Context()); err != nil || s.Genuine(token) || openings[token] != (store.Opening{}) {
		t.Errorf("a link that shows days opens a feed: %v", err)
	}
	if err := s.CloseShared(t.Context(), "ida-and-ivo", token, start); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("another wedding closes it: %v", err)
	}
	if err := s.CloseShared(t.Context(), "maren-and-theo", token, start); err != nil {
		t.Fatal(err)
	}
	if got, err := s.Shared(t.Context(), token); err != nil || !got.Closed {
		t.Errorf("closed, it is %+v, %v", got, err)
	}
	if err := s.CloseShared(t.Context(), "maren-and-theo", token, start); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("it closes twice: %v", err)
	}
}

// A link that was closed since the backup stays closed, and one that was
// given since opens what it did.
func TestSharedIsRestored(t *testing.T) {
	dir := t.TempDir()
	s := openedIn(t, dir)
	imported(t, s, head, start)
	stays, goes := share(t, s, start), share(t, s, start)
	file := backedUp(t, s, start.Add(time.Minute))
	since := share(t, s, start.Add(time.Hour))
	if err := s.CloseShared(t.Context(), "maren-and-theo", goes, start.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	restored(t, file, dir, start.Add(2*time.Hour))
	s = openedIn(t, dir)
	for token, closed := range map[string]bool{stays: false, goes: true, since: false} {
		if got, err := s.Shared(t.Context(), token); err != nil || got.Closed != closed || len(got.Days) != 2 {
			t.Errorf("restored, it is %+v, %v; closed should be %v", got, err, closed)
		}
	}
}

// The mark tells of every change to what sources hold, within one second too.
func TestSourcesMark(t *testing.T) {
	s := opened(t)
	doc := imported(t, s, head, start)
	mark := func() string {
		t.Helper()
		m, err := s.SourcesMark(t.Context(), doc.Plan.ID)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	src := store.Source{Wedding: "maren-and-theo", Name: "town", Body: []byte("name,date\nParade,2027-05-03\n")}
	seen := map[string]string{mark(): "nothing"}
	for _, step := range []struct {
		what string
		do   func() error
	}{
		{"a source", func() error { added(t, s, src, start); return nil }},
		{"another copy", func() error {
			src.Body = []byte("name,date\nParade,2027-05-04\n")
			added(t, s, src, start)
			return nil
		}},
		{"another order", func() error { return s.SetOrder(t.Context(), "maren-and-theo", "town", conflicts.DayMonth) }},
		{"another name", func() error { src.Name = "city"; added(t, s, src, start); return nil }},
	} {
		if err := step.do(); err != nil {
			t.Fatal(err)
		}
		if was, ok := seen[mark()]; ok {
			t.Errorf("%s has the mark of %s", step.what, was)
		}
		seen[mark()] = step.what
	}
	if err := s.SetOrder(t.Context(), "maren-and-theo", "village", conflicts.DayMonth); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("a source that is none has an order: %v", err)
	}
}
