package web_test

import (
	"context"
	"fmt"
	"maps"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"banns/store"
)

// later is the demo plan with the rehearsal at a quarter to six.
func later(t *testing.T) string {
	t.Helper()
	return strings.Replace(readFile(t, demoPlan), `at: "17:30", until: "18:30"`, `at: "17:45", until: "18:30"`, 1)
}

func TestLastGoodCopyOutlivesTheDatabase(t *testing.T) {
	s := demoSite(t)
	before := get(t, s.calendar("priya")).wants(t, 200)
	if err := s.store.Close(); err != nil {
		t.Fatal(err)
	}
	after := get(t, s.calendar("priya")).wants(t, 200)
	if after.body != before.body {
		t.Error("another calendar")
	}
	get(t, s.calendar("priya"), "If-None-Match", before.Header.Get("Etag")).wants(t, 304)
	get(t, s.calendar("nobody")).wants(t, 404)
}

// A revision that is known and cannot be read is no reason to fail either.
func TestLastGoodCopyOutlivesAFailedRead(t *testing.T) {
	s := demoSite(t)
	before := get(t, s.calendar("priya")).wants(t, 200)
	first := get(t, s.calendar("theo")).Header.Get("Etag")
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go s.web.Watch(ctx)
	other := openAgain(t, s)
	s.take(t, other, later(t))
	// Theo's calendar tells when the change is known here, without a read of
	// priya's.
	within(t, 20*time.Second, func() bool { return get(t, s.calendar("theo")).Header.Get("Etag") != first })
	stop()
	if err := s.store.Close(); err != nil {
		t.Fatal(err)
	}
	if after := get(t, s.calendar("priya")).wants(t, 200); after.body != before.body {
		t.Error("neither the last good copy nor an error")
	}
	if !strings.Contains(s.log.String(), "last good copy") {
		t.Error("it was not logged")
	}
	silent(t, s)
}

func openAgain(t *testing.T, s *site) *store.Store {
	t.Helper()
	other, err := store.Open(t.Context(), s.dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { other.Close() })
	return other
}

func TestAnotherProcessIsNoticed(t *testing.T) {
	s := demoSite(t)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go s.web.Watch(ctx)
	before := get(t, s.calendar("priya"))
	s.goTo(winter.Add(time.Hour))
	s.take(t, openAgain(t, s), later(t))
	within(t, 20*time.Second, func() bool {
		return strings.Contains(get(t, s.calendar("priya")).body, "T174500")
	})
	after := get(t, s.calendar("priya"), "If-None-Match", before.Header.Get("Etag"), "If-Modified-Since", before.Header.Get("Last-Modified")).wants(t, 200)
	calendarIn(t, after.body)
	after.header(t, "Last-Modified", winter.Add(time.Hour).Format(http.TimeFormat))
}

// Pollers never see anything but a whole calendar that was published.
func TestPollersWhileEditsGoOn(t *testing.T) {
	const edits, pollers = 12, 50
	s := newSite(t, secretsPlan)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go s.web.Watch(ctx)
	seen := []map[string]bool{}
	var polling sync.WaitGroup
	done := make(chan struct{})
	for range pollers {
		mine := map[string]bool{}
		seen = append(seen, mine)
		polling.Go(func() {
			for tag := ""; ; {
				a := get(t, s.calendar("priya"), "If-None-Match", tag)
				switch a.StatusCode {
				case http.StatusOK:
					tag, mine[a.body] = a.Header.Get("Etag"), true
				case http.StatusNotModified:
				default:
					t.Errorf("status %d", a.StatusCode)
				}
				select {
				case <-done:
					return
				case <-time.After(20 * time.Millisecond):
				}
			}
		})
	}
	published := map[string]bool{publishedFor(t, s, "priya"): true}
	for n := range edits {
		s.take(t, s.store, strings.Replace(secretsPlan, `at: "11:00"`, fmt.Sprintf(`at: "11:%02d"`, n+1), 1))
		published[publishedFor(t, s, "priya")] = true
		time.Sleep(150 * time.Millisecond)
	}
	last := publishedFor(t, s, "priya")
	within(t, 20*time.Second, func() bool { return get(t, s.calendar("priya")).body == last })
	close(done)
	polling.Wait()
	all := map[string]bool{}
	for _, mine := range seen {
		maps.Copy(all, mine)
	}
	for body := range all {
		calendarIn(t, body)
		if !published[body] {
			t.Error("a calendar that was never published")
		}
	}
	if len(all) < 3 {
		t.Errorf("the pollers saw %d calendars: no edit happened under their eyes", len(all))
	}
}

// TestShelfIsBounded serves everybody from a shelf that holds three calendars
// of one of the couple, before and after an edit.
func TestShelfIsBounded(t *testing.T) {
	s := demoSite(t)
	whole := get(t, s.calendar("maren"))
	zipped := get(t, s.calendar("maren"), "Accept-Encoding", "gzip")
	most := 3 * (len(whole.body) + len(zipped.body))
	s.web.Hold(most)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go s.web.Watch(ctx)
	kept := 0
	for _, plan := range []string{readFile(t, demoPlan), later(t)} {
		s.take(t, s.store, plan)
		for who := range s.tokens {
			want := publishedFor(t, s, who)
			within(t, 20*time.Second, func() bool { return get(t, s.calendar(who)).wants(t, 200).body == want })
			if held := s.web.Held(); held > most {
				t.Fatalf("%d bytes are held, of %d at most", held, most)
			} else {
				kept = max(kept, held)
			}
		}
	}
	if kept < most/3 {
		t.Errorf("no more than %d bytes of %d were held", kept, most)
	}
}

// publishedFor is what the store has published for somebody now.
func publishedFor(t *testing.T, s *site, who string) string {
	t.Helper()
	all, err := s.store.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.store.Calendar(t.Context(), all[s.tokens[who]].Feed)
	if err != nil {
		t.Fatal(err)
	}
	return string(c.Body)
}

// silent fails where a token, or a part of one that opens anything, is in
// the log.
func silent(t *testing.T, s *site) {
	t.Helper()
	text := s.log.String()
	for who, token := range s.tokens {
		if strings.Contains(text, token) || strings.Contains(text, token[:store.TokenSize/2]) {
			t.Errorf("the token of %s is in the log: %s", who, text)
		}
	}
}

func TestTokensAreNotLogged(t *testing.T) {
	s := demoSite(t)
	get(t, s.page("bea")).wants(t, 200)
	ask(t, "POST", s.page("bea")+"/reminders", "reminders=loud", formType...).wants(t, 400)
	if err := s.store.Close(); err != nil {
		t.Fatal(err)
	}
	// Never read before, and the database is gone: nothing to fall back upon.
	get(t, s.calendar("maren")).wants(t, 500).header(t, "Content-Type", "text/plain; charset=utf-8")
	get(t, s.page("bea")).wants(t, 500).header(t, "Content-Type", "text/html; charset=utf-8")
	ask(t, "POST", s.page("bea")+"/reminders", "reminders=both", formType...).wants(t, 500)
	if n := strings.Count(s.log.String(), "level=ERROR"); n != 3 {
		t.Errorf("%d failures in the log, want 3: %s", n, s.log)
	}
	silent(t, s)
}

func TestPanicIsAnsweredAndLoggedWithoutTheToken(t *testing.T) {
	s := demoSite(t)
	s.panics(t)
	get(t, s.page("bea")).wants(t, 500).header(t, "Content-Type", "text/html; charset=utf-8")
	if !strings.Contains(s.log.String(), "the clock broke") {
		t.Errorf("the panic was not logged: %s", s.log)
	}
	silent(t, s)
	get(t, s.calendar("bea")).wants(t, 200) // it is sent before the clock is read
}
