package web_test

import (
	"context"
	"net/http"
	"testing"
	"time"
)

// Whose phone is subscribed is known: by who asked for the calendar, and not
// by who looked at the page, or only for its head.
func TestWhoAsked(t *testing.T) {
	s := demoSite(t)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go s.web.Watch(ctx)
	w, err := s.store.WeddingCalled(t.Context(), s.name)
	if err != nil {
		t.Fatal(err)
	}
	id := w.ID
	asked := func() map[string]time.Time {
		all, err := s.store.Asked(t.Context(), id)
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	get(t, s.page("theo")).wants(t, 200)
	head, err := http.Head(s.calendar("bea"))
	if err != nil {
		t.Fatal(err)
	}
	head.Body.Close()
	tag := get(t, s.calendar("priya")).wants(t, 200).Header.Get("Etag")
	within(t, 20*time.Second, func() bool { return len(asked()) > 0 })
	if all := asked(); len(all) != 1 || !all["priya"].Equal(s.now()) {
		t.Errorf("asked: %v", all)
	}
	// A poll that finds nothing new counts; on the same day it is not noted again.
	first := s.now()
	s.goTo(first.Add(time.Hour))
	get(t, s.calendar("priya"), "If-None-Match", tag).wants(t, 304)
	s.goTo(first.Add(25 * time.Hour))
	get(t, s.calendar("theo")).wants(t, 200)
	within(t, 20*time.Second, func() bool { return len(asked()) == 2 })
	if at := asked()["priya"]; !at.Equal(first) {
		t.Errorf("priya asked at %v, and it was noted again at %v", first, at)
	}
	get(t, s.calendar("priya"), "If-None-Match", tag).wants(t, 304)
	within(t, 20*time.Second, func() bool { return asked()["priya"].Equal(s.now()) })
}
