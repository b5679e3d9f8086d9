package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"banns/milestones"
)

// town is a server whose answer can be changed, and that counts what it is
// asked.
type town struct {
	answer atomic.Pointer[http.HandlerFunc]
	asked  atomic.Int32
}

func (s *town) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	s.asked.Add(1)
	(*s.answer.Load())(w, r)
}

func (s *town) answers(h http.HandlerFunc) { s.answer.Store(&h) }

// calendar answers with one event, under an ETag.
func (s *town) calendar(what string) {
	s.answers(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("ETag", `"`+what+`"`)
		if r.Header.Get("If-None-Match") == `"`+what+`"` {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		fmt.Fprintf(w, "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20270918\r\nSUMMARY:%s\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n", what)
	})
}

// banns runs the command on a store as it would be on a day.
func verb(t *testing.T, data, today string, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(t.Context(), append([]string{"--data", data, "--today", today}, args...), strings.NewReader(""), &out, &errs); status != 0 {
		t.Fatalf("banns %s: %d\n%s", strings.Join(args, " "), status, errs.String())
	}
	return out.String()
}

// rereadOn does the minute's reading as it would be on a day, and returns its
// log.
func rereadOn(t *testing.T, data, today string) string {
	t.Helper()
	return rereadWithin(t, data, today, 0)
}

// rereadWithin does so with so much patience for each server.
func rereadWithin(t *testing.T, data, today string, patience time.Duration) string {
	t.Helper()
	day, err := milestones.ParseDate(today)
	if err != nil {
		t.Fatal(err)
	}
	e := &env{ctx: t.Context(), data: data, today: day, patience: patience}
	s, err := e.open()
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var log bytes.Buffer
	if err := reread(e, s, slog.New(slog.NewTextHandler(&log, nil))); err != nil {
		t.Fatal(err)
	}
	return log.String()
}

// A calendar that was added by address is read again each day. Whatever else
// comes from there, the last good copy stays.
func TestEventsByAddress(t *testing.T) {
	var server town
	at := httptest.NewServer(&server)
	defer at.Close()
	data := filepath.Join(t.TempDir(), "store")
	verb(t, data, "2026-11-25", "import", "../../testdata/plans/maren-and-theo.yaml")
	list := func(day string) string { return verb(t, data, day, "events", "list", "maren-and-theo") }

	server.calendar("Gull Derby")
	said := verb(t, data, "2026-11-25", "events", "add", "maren-and-theo", at.URL+"/secret.ics", "--private", "--as", "town")
	if !strings.HasPrefix(said, "Added town: 1 event between") {
		t.Errorf("it says %q", said)
	}
	if rereadOn(t, data, "2026-11-25"); server.asked.Load() != 1 {
		t.Errorf("asked %d times on the first day", server.asked.Load())
	}

	// The next day it has not changed, and is not sent again.
	if log := rereadOn(t, data, "2026-11-26"); server.asked.Load() != 2 || log != "" {
		t.Errorf("asked %d times by the second day; log %q", server.asked.Load(), log)
	}
	if got := list("2026-11-26"); !strings.Contains(got, "Gull Derby") || !strings.Contains(got, "read on Thu 26 Nov 2026") {
		t.Errorf("the second day:\n%s", got)
	}

	for _, bad := range []struct {
		day    string
		answer http.HandlerFunc
		says   string
	}{
		{"2026-11-27", http.NotFound, "there is nothing at this address any more (404)"},
		{"2026-11-28", func(w http.ResponseWriter, r *http.Request) { fmt.Fprint(w, "<html>Sign in</html>") }, "it is a web page"},
		{"2026-11-29", func(w http.ResponseWriter, r *http.Request) {}, "the answer is empty"},
		{"2026-11-30", func(w http.ResponseWriter, r *http.Request) { fmt.Fprint(w, `{"error": "busy"}`) }, "no headings are found"},
		{"2026-12-01", func(w http.ResponseWriter, r *http.Request) { fmt.Fprint(w, "BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n") },
			"it lists no events any more, where there were 1"},
		{"2026-12-02", func(w http.ResponseWriter, r *http.Request) {
			fmt.Fprint(w, "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20270919\r\nSUMMARY:Other\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nDTST")
		}, "it was cut off: of its events, 1 came whole"},
	} {
		server.answers(bad.answer)
		day := bad.day
		log := rereadOn(t, data, day)
		if !strings.Contains(log, bad.says) || strings.Contains(log, "secret") {
			t.Errorf("%s: the log is %q, want %q", day, log, bad.says)
		}
		if got := list(day); !strings.Contains(got, "Gull Derby") || !strings.Contains(got, bad.says) || !strings.Contains(got, "read on Thu 26 Nov 2026") {
			t.Errorf("%s:\n%s", day, got)
		}
	}

	server.calendar("Gull Final")
	rereadOn(t, data, "2026-12-04")
	if got := list("2026-12-04"); !strings.Contains(got, "Gull Final") || strings.Contains(got, "Gull Derby") || strings.Contains(got, "last try") {
		t.Errorf("after it came back:\n%s", got)
	}
}

// A server that takes the question and never answers keeps none of the others
// from being read.
func TestEventsBesideAStalledServer(t *testing.T) {
	var sound, stalled town
	at, stands := httptest.NewServer(&sound), httptest.NewServer(&stalled)
	defer at.Close()
	defer stands.Close()
	data := filepath.Join(t.TempDir(), "store")
	verb(t, data, "2026-11-25", "import", "../../testdata/plans/maren-and-theo.yaml")
	stalled.calendar("Gull Derby")
	sound.calendar("Harbor Run")
	verb(t, data, "2026-11-25", "events", "add", "maren-and-theo", stands.URL, "--private", "--as", "a-stands")
	verb(t, data, "2026-11-25", "events", "add", "maren-and-theo", at.URL, "--private", "--as", "b-sound")

	stalled.answers(func(w http.ResponseWriter, r *http.Request) { <-r.Context().Done() })
	sound.calendar("Harbor Ride")
	log := rereadWithin(t, data, "2026-11-26", time.Second)
	if stalled.asked.Load() != 2 || !strings.Contains(log, "source=a-stands") || !strings.Contains(log, "no whole answer came within 1s") {
		t.Errorf("the stalled one was asked %d times; the log is %q", stalled.asked.Load(), log)
	}
	if got := verb(t, data, "2026-11-26", "events", "list", "maren-and-theo"); !strings.Contains(got, "Harbor Ride") || !strings.Contains(got, "Gull Derby") {
		t.Errorf("after it was read beside a stalled one:\n%s", got)
	}
}

// The server reads by itself what is due, whatever page is asked for.
func TestServeReadsEventsAgain(t *testing.T) {
	var server town
	at := httptest.NewServer(&server)
	defer at.Close()
	data := filepath.Join(t.TempDir(), "store")
	verb(t, data, "2026-11-25", "import", "../../testdata/plans/maren-and-theo.yaml")
	server.calendar("Gull Derby")
	verb(t, data, "2026-11-25", "events", "add", "maren-and-theo", at.URL, "--private", "--as", "town")
	server.calendar("Gull Final")

	ctx, end := context.WithCancel(t.Context())
	e := &env{ctx: ctx, data: data, today: milestones.Date{Year: 2026, Month: 11, Day: 26}, out: io.Discard, err: io.Discard}
	s, err := e.open()
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	l, err := listen(ctx, "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- serve(e, s, l, serving{base: "http://" + l.Addr().String()}) }()
	var body string
	for try := 0; try < 400 && !strings.Contains(body, "Gull Final"); try++ {
		time.Sleep(50 * time.Millisecond)
		sources, err := s.Sources(t.Context(), "maren-and-theo")
		if err != nil || len(sources) != 1 {
			t.Fatal(sources, err)
		}
		body = string(sources[0].Body)
	}
	if !strings.Contains(body, "Gull Final") {
		t.Errorf("the server asked %d times, and its copy is %q", server.asked.Load(), body)
	}
	end()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}
