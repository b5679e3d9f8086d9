package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/conflicts"
	"banns/store"
)

func added(t *testing.T, s *store.Store, src store.Source, now time.Time) string {
	t.Helper()
	name, _, err := s.AddSource(t.Context(), src, now)
	if err != nil {
		t.Fatal(err)
	}
	return name
}

// sources are those of head’s wedding.
func sources(t *testing.T, s *store.Store) []store.Source {
	t.Helper()
	all, err := s.Sources(t.Context(), "maren-and-theo")
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func due(t *testing.T, s *store.Store, now time.Time) (names []string) {
	t.Helper()
	all, err := s.DueSources(t.Context(), now)
	if err != nil {
		t.Fatal(err)
	}
	for _, src := range all {
		names = append(names, src.Name)
	}
	return names
}

func TestSources(t *testing.T) {
	s := opened(t)
	imported(t, s, head, start)
	file := store.Source{Wedding: "maren-and-theo", Name: "Town Events.csv", Order: conflicts.DayMonth, Body: []byte("name,date\n")}
	if name := added(t, s, file, start); name != "town-events-csv" {
		t.Errorf("it is called %q", name)
	}
	web := store.Source{Wedding: "maren-and-theo", Name: "rowing", Address: "https://rowing.example.org/a.ics", Private: true, ETag: `"1"`, Modified: "then", Body: []byte("BEGIN:VCALENDAR")}
	added(t, s, web, start)

	file.Name, file.ReadAt, web.ReadAt = "town-events-csv", start, start
	if diff := cmp.Diff([]store.Source{web, file}, sources(t, s)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	file.Body = []byte("name,date\nParade,2027-05-03\n")
	if _, replaced, err := s.AddSource(t.Context(), file, start); err != nil || !replaced {
		t.Errorf("added again: replaced %v, %v", replaced, err)
	}
	if got := sources(t, s); len(got) != 2 || string(got[1].Body) != string(file.Body) {
		t.Errorf("after it was replaced: %+v", got)
	}
	if err := s.RemoveSource(t.Context(), "maren-and-theo", "rowing"); err != nil {
		t.Error(err)
	}
	if err := s.RemoveSource(t.Context(), "maren-and-theo", "rowing"); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("removed twice: %v", err)
	}
	if got := sources(t, s); len(got) != 1 || got[0].Name != "town-events-csv" {
		t.Errorf("after one was removed: %+v", got)
	}
	if _, _, err := s.AddSource(t.Context(), store.Source{Wedding: "nobody", Name: "a"}, start); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("of no wedding: %v", err)
	}
}

// An address is read again a day after it was read, an hour after it could
// not be, and its last good copy stays until there is another.
func TestSourcesAreDue(t *testing.T) {
	s := opened(t)
	imported(t, s, head, start)
	added(t, s, store.Source{Wedding: "maren-and-theo", Name: "file", Body: []byte("a")}, start)
	added(t, s, store.Source{Wedding: "maren-and-theo", Name: "web", Address: "https://a.example.org", ETag: "1", Body: []byte("first")}, start)
	expect := func(now time.Time, want ...string) {
		t.Helper()
		if diff := cmp.Diff(want, due(t, s, now)); diff != "" {
			t.Errorf("due at %s (-want +got):\n%s", now, diff)
		}
	}
	day := start.Add(store.SourceEvery)
	expect(day.Add(-time.Second))
	expect(day, "web")

	src := sources(t, s)[1]
	if err := s.KeepTrouble(t.Context(), src, "the server answers 502", day); err != nil {
		t.Fatal(err)
	}
	expect(day.Add(store.SourceRetry - time.Second))
	expect(day.Add(store.SourceRetry), "web")
	if got := sources(t, s)[1]; string(got.Body) != "first" || got.Trouble != "the server answers 502" || !got.ReadAt.Equal(start) || got.ETag != "1" {
		t.Errorf("after trouble: %+v", got)
	}

	src.Body, src.ETag = nil, "2"
	if err := s.KeepCopy(t.Context(), src, day); err != nil {
		t.Fatal(err)
	}
	if got := sources(t, s)[1]; string(got.Body) != "first" || got.Trouble != "" || !got.ReadAt.Equal(day) || got.ETag != "2" {
		t.Errorf("after an unchanged answer: %+v", got)
	}
	src.Body = []byte("second")
	if err := s.KeepCopy(t.Context(), src, day); err != nil {
		t.Fatal(err)
	}
	if got := sources(t, s)[1]; string(got.Body) != "second" {
		t.Errorf("after a new answer: %q", got.Body)
	}
	expect(day.Add(store.SourceEvery - time.Second))

	// What was removed, or led elsewhere, while it was read stays so.
	src.Address, src.Body = "https://b.example.org", []byte("of another")
	if err := s.KeepCopy(t.Context(), src, day); err != nil {
		t.Fatal(err)
	}
	if got := sources(t, s)[1]; string(got.Body) != "second" {
		t.Errorf("what another address gave is kept: %q", got.Body)
	}
}
