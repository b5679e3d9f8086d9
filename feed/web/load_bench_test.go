package web_test

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strings"
	"testing"
	"time"

	"banns/feed/web"
)

// BenchmarkEditToWire is one edit of the demo until its bytes are on the wire:
// the plan file read, saved, published, noticed, and fetched by everybody. It
// is set beside a fetch by everybody where nothing was edited, in turns.
func BenchmarkEditToWire(b *testing.B) {
	s := demoSite(b)
	plan := readFile(b, demoPlan)
	fetch := func() {
		for who := range s.tokens {
			get(b, s.calendar(who)).wants(b, 200)
		}
	}
	var edit, idle time.Duration
	for n := 0; b.Loop(); n++ {
		begun := time.Now()
		s.take(b, s.store, strings.Replace(plan, `at: "16:30", until`, fmt.Sprintf(`at: "16:%02d", until`, n%2+1), 1))
		if err := s.web.Look(b.Context()); err != nil {
			b.Fatal(err)
		}
		fetch()
		middle := time.Now()
		fetch()
		edit, idle = edit+middle.Sub(begun), idle+time.Since(middle)
	}
	b.ReportMetric(edit.Seconds()/idle.Seconds(), "x-of-fetching")
	b.ReportMetric(float64(edit.Nanoseconds())/float64(b.N), "ns/edit")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkMemory is what a server holds once it has served the 2,200 feeds of
// 100 weddings like the demo, plain and gzipped, beside the calendars
// themselves, and beside what the shelf may hold.
func BenchmarkMemory(b *testing.B) {
	s := newSite(b, readFile(b, demoPlan))
	for n := range 99 {
		s.take(b, s.store, strings.Replace(readFile(b, demoPlan), "title: Maren and Theo", fmt.Sprintf("title: Wedding %d", n), 1))
	}
	for b.Loop() {
		server, err := web.New(b.Context(), web.Options{Store: s.store, Now: s.now, Log: s.web.Log})
		if err != nil {
			b.Fatal(err)
		}
		before, size := heap(), 0
		all, err := s.store.Openings(b.Context())
		if err != nil {
			b.Fatal(err)
		}
		for token := range all {
			for _, coding := range []string{"identity", "gzip"} {
				r := httptest.NewRequestWithContext(context.Background(), http.MethodGet, "/c/"+token+".ics", nil)
				r.Header.Set("Accept-Encoding", coding)
				w := httptest.ResponseRecorder{Body: &bytes.Buffer{}}
				server.ServeHTTP(&w, r)
				if w.Code != http.StatusOK && w.Code != 0 {
					b.Fatal(w.Code)
				}
				size += w.Body.Len()
			}
		}
		after := heap() - before
		b.ReportMetric(float64(len(all)), "feeds")
		b.ReportMetric(float64(after)/(1<<20), "MB")
		b.ReportMetric(float64(after)/float64(size), "x-of-calendars")
		b.ReportMetric(float64(server.Held())/web.ShelfMost, "of-shelf")
		runtime.KeepAlive(server)
	}
	b.ReportMetric(0, "ns/op")
}

// heap is what is in use.
func heap() int64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}
