package web_test

import (
	"compress/gzip"
	"context"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"banns/feed/check"
	"banns/store"
)

func unzip(t testing.TB, s string) string {
	t.Helper()
	r, err := gzip.NewReader(strings.NewReader(s))
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// calendarIn fails where the answer's body is no sound calendar.
func calendarIn(t testing.TB, body string) {
	t.Helper()
	for _, fault := range check.Calendar([]byte(body)) {
		t.Error(fault)
	}
	if !strings.HasPrefix(body, "BEGIN:VCALENDAR\r\n") || !strings.HasSuffix(body, "END:VCALENDAR\r\n") {
		t.Errorf("not a whole calendar: %.80q", body)
	}
}

func TestCalendarIsServed(t *testing.T) {
	s := demoSite(t)
	for who := range s.tokens {
		a := get(t, s.calendar(who)).wants(t, http.StatusOK).
			header(t, "Content-Type", "text/calendar; charset=utf-8").
			header(t, "Content-Encoding", "").
			header(t, "Vary", "Accept-Encoding").
			header(t, "Referrer-Policy", "no-referrer").
			header(t, "X-Robots-Tag", "noindex").
			header(t, "X-Content-Type-Options", "nosniff").
			header(t, "Cache-Control", "private, no-cache").
			header(t, "Last-Modified", winter.Format(http.TimeFormat))
		calendarIn(t, a.body)
		if a.ContentLength != int64(len(a.body)) {
			t.Errorf("%s: Content-Length %d, body %d", who, a.ContentLength, len(a.body))
		}
		if len(a.Cookies()) > 0 {
			t.Errorf("%s: a cookie was set", who)
		}
	}
}

func TestCodings(t *testing.T) {
	s := demoSite(t)
	plain := get(t, s.calendar("bea"))
	for _, row := range []struct {
		accepts string
		zipped  bool
	}{
		{"gzip", true}, {"GZIP", true}, {"br, gzip;q=0.5", true}, {"deflate, gzip", true}, {"gzip ; q=1", true},
		{"", false}, {"identity", false}, {"br", false}, {"gzip;q=0", false}, {"gzip; q=0.000", false}, {"xgzip", false},
	} {
		a := get(t, s.calendar("bea"), "Accept-Encoding", row.accepts).wants(t, http.StatusOK)
		body := a.body
		if row.zipped {
			a.header(t, "Content-Encoding", "gzip")
			body = unzip(t, body)
		} else {
			a.header(t, "Content-Encoding", "")
		}
		if body != plain.body {
			t.Errorf("%q: another calendar", row.accepts)
		}
		if same := a.Header.Get("Etag") == plain.Header.Get("Etag"); same == row.zipped {
			t.Errorf("%q: strong tags must tell the codings apart (RFC 9110 8.8.3.3)", row.accepts)
		}
	}
}

func TestNotModified(t *testing.T) {
	s := demoSite(t)
	tag := get(t, s.calendar("bea")).Header.Get("Etag")
	zipTag := get(t, s.calendar("bea"), "Accept-Encoding", "gzip").Header.Get("Etag")
	changed := winter.Format(http.TimeFormat)
	before := winter.Add(-time.Second).Format(http.TimeFormat)
	for _, row := range []struct {
		header, value string
		status        int
	}{
		{"If-None-Match", tag, 304},
		{"If-None-Match", zipTag, 304},
		{"If-None-Match", "W/" + tag, 304}, // comparison is weak (RFC 9110 13.1.2)
		{"If-None-Match", `"other", ` + tag, 304},
		{"If-None-Match", `"other",W/` + zipTag + `,"more"`, 304},
		{"If-None-Match", "*", 304},
		{"If-None-Match", `"other"`, 200},
		{"If-None-Match", strings.Trim(tag, `"`), 200},
		{"If-None-Match", "", 200},
		{"If-Modified-Since", changed, 304},
		{"If-Modified-Since", winter.Add(time.Hour).Format(http.TimeFormat), 304},
		{"If-Modified-Since", before, 200},
		{"If-Modified-Since", "yesterday", 200},
	} {
		for _, method := range []string{http.MethodGet, http.MethodHead} {
			a := ask(t, method, s.calendar("bea"), "", row.header, row.value).wants(t, row.status).header(t, "Etag", tag)
			if row.status == 304 && (a.body != "" || a.Header.Get("Content-Type") != "" || a.Header.Get("Content-Length") != "") {
				t.Errorf("%s: %q: a 304 with content", row.header, row.value)
			}
		}
	}
	// A tag goes before a date (RFC 9110 13.2.2).
	get(t, s.calendar("bea"), "If-None-Match", `"other"`, "If-Modified-Since", changed).wants(t, 200)
	get(t, s.calendar("bea"), "If-None-Match", tag, "Accept-Encoding", "gzip").wants(t, 304).
		header(t, "Etag", zipTag).header(t, "Content-Encoding", "")
}

func TestHeadIsGetWithoutABody(t *testing.T) {
	s := demoSite(t)
	for _, accepts := range []string{"identity", "gzip"} {
		got := get(t, s.calendar("priya"), "Accept-Encoding", accepts)
		head := ask(t, http.MethodHead, s.calendar("priya"), "", "Accept-Encoding", accepts).wants(t, 200)
		if head.body != "" {
			t.Error("HEAD has a body")
		}
		for name := range got.Header {
			if name != "Date" {
				head.header(t, name, got.Header.Get(name))
			}
		}
	}
}

func TestNoCalendarHere(t *testing.T) {
	s := demoSite(t)
	token := s.tokens["bea"]
	for _, row := range []struct {
		method, path string
		status       int
	}{
		{"GET", "/c/" + strings.Repeat("a", store.TokenSize) + ".ics", 404},
		{"GET", "/c/" + token[:store.TokenSize-1] + flipped(token) + ".ics", 404}, // the right id, a forged signature
		{"GET", "/c/" + token[:20] + ".ics", 404},
		{"GET", "/c/" + token + token + ".ics", 404},
		{"GET", "/c/" + strings.ToUpper(token) + ".ics", 404},
		{"GET", "/c/" + token, 404},
		{"GET", "/c/" + token + ".ICS", 404},
		{"GET", "/c/" + token + ".ics/", 404},
		{"GET", "/c/.ics", 404},
		{"GET", "/c/", 404},
		{"HEAD", "/c/" + token[:20] + ".ics", 404},
		{"POST", "/c/" + token + ".ics", 405},
		{"PUT", "/c/" + token + ".ics", 405},
		{"DELETE", "/c/" + token + ".ics", 405},
		{"PROPFIND", "/c/" + token + ".ics", 405},
	} {
		a := ask(t, row.method, s.URL+row.path, "").wants(t, row.status)
		if kind := a.Header.Get("Content-Type"); strings.Contains(kind, "html") || strings.Contains(a.body, "<") {
			t.Errorf("%s %s: HTML where a calendar was asked for: %s", row.method, row.path, a.body)
		}
	}
}

// flipped is another last letter for a token.
func flipped(token string) string {
	if strings.HasSuffix(token, "a") {
		return "q"
	}
	return "a"
}

func TestRevokedIsGoneForGood(t *testing.T) {
	s := demoSite(t)
	watched, stop := context.WithCancel(t.Context())
	defer stop()
	go s.web.Watch(watched)
	old := s.calendar("bea")
	get(t, old).wants(t, 200)
	if err := s.store.Revoke(t.Context(), s.name, "bea", true, winter); err != nil {
		t.Fatal(err)
	}
	within(t, 5*time.Second, func() bool { return get(t, old).StatusCode == http.StatusGone })
	get(t, old).wants(t, 410).header(t, "Content-Type", "text/plain; charset=utf-8").header(t, "Referrer-Policy", "no-referrer")
	get(t, old, "If-None-Match", "*").wants(t, 410)
	s.readTokens(t)
	if s.calendar("bea") == old {
		t.Fatal("the new address is the old one")
	}
	calendarIn(t, get(t, s.calendar("bea")).wants(t, 200).body)
	if err := s.store.Revoke(t.Context(), s.name, "bea", false, winter); err != nil {
		t.Fatal(err)
	}
	within(t, 5*time.Second, func() bool { return get(t, s.calendar("bea")).StatusCode == http.StatusGone })
	get(t, s.calendar("priya")).wants(t, 200)
}

// A link works from the moment it is given out, whether or not the server has
// looked for changes since. Nobody watches here.
func TestNewAddressOpensAtOnce(t *testing.T) {
	s := demoSite(t)
	if err := s.store.Revoke(t.Context(), s.name, "bea", true, winter); err != nil {
		t.Fatal(err)
	}
	s.readTokens(t)
	get(t, s.calendar("bea")).wants(t, 200)
	get(t, s.page("bea")).wants(t, 200)
}

// within fails where done is not true in time.
func within(t testing.TB, limit time.Duration, done func() bool) {
	t.Helper()
	for end := time.Now().Add(limit); !done(); {
		if time.Now().After(end) {
			t.Fatalf("not within %s", limit)
		}
		time.Sleep(20 * time.Millisecond)
	}
}
