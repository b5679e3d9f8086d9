package main

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"maps"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"banns/feed/check"
	"banns/testdata"
)

// TestPollersDuringEdits has 200 clients poll while other processes import
// one edit after the other. Each is served, to the byte, a calendar that was
// committed, under that calendar's own tag, and never an older one than before.
func TestPollersDuringEdits(t *testing.T) {
	t.Parallel()
	const edits, pollers = 12, 200
	p := newPrograms(t)
	if said, err := p.imports(t.Context(), string(testdata.Demo)); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	_, at := p.serve(t.Context())
	get(t, at+"/healthz", "") // by then it has published all
	s := p.open()
	defer s.Close()
	committed := map[string][]string{} // by token, the oldest first
	for token, body := range p.published(s) {
		committed[token] = []string{body}
	}
	tokens := slices.Sorted(maps.Keys(committed))

	over, all := make(chan struct{}), make([]*poller, pollers)
	var polling sync.WaitGroup
	client := &http.Client{Transport: &http.Transport{DisableCompression: true, MaxIdleConnsPerHost: pollers}}
	for n := range all {
		all[n] = &poller{client: client, at: at, token: tokens[n%len(tokens)], zipped: n/len(tokens)%2 == 1, asks: n%3 > 0, bodies: map[string]string{}}
		polling.Go(func() { all[n].run(t.Context(), over) })
	}
	for n := range edits {
		plan := strings.Replace(string(testdata.Demo), `at: "16:30", until`, fmt.Sprintf(`at: "16:%02d", until`, n), 1)
		if said, err := p.imports(t.Context(), plan); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		for token, body := range p.published(s) {
			if had := committed[token]; had[len(had)-1] != body {
				committed[token] = append(had, body)
			}
		}
	}
	eventually(t, func() bool {
		for token, bodies := range committed {
			if _, body := get(t, at+"/c/"+token+".ics", ""); string(body) != bodies[len(bodies)-1] {
				return false
			}
		}
		return true
	})
	close(over)
	polling.Wait()
	judge(t, all, committed)
}

// poller is a client of one calendar.
type poller struct {
	client *http.Client
	at     string
	token  string
	zipped bool              // it takes gzip
	asks   bool              // by the tag it had
	polls  int               // answered
	tags   []string          // of the calendars that it was served, each once in a row
	bodies map[string]string // by tag
	faults []string
}

func (p *poller) run(ctx context.Context, over <-chan struct{}) {
	for last := false; ; {
		if err := p.poll(ctx); err != nil {
			p.faults = append(p.faults, err.Error())
		}
		if last {
			return
		}
		select {
		case <-over:
			last = true
		case <-time.After(100 * time.Millisecond):
		}
	}
}

func (p *poller) poll(ctx context.Context) error {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, p.at+"/c/"+p.token+".ics", nil)
	if err != nil {
		return err
	}
	last := ""
	if len(p.tags) > 0 {
		last = p.tags[len(p.tags)-1]
	}
	if p.zipped {
		req.Header.Set("Accept-Encoding", "gzip")
	}
	if p.asks && last != "" {
		req.Header.Set("If-None-Match", last)
	}
	resp, err := p.client.Do(req)
	if err != nil {
		return err
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err == nil && p.zipped && resp.StatusCode == http.StatusOK {
		body, err = gunzip(body)
	}
	tag := resp.Header.Get("Etag")
	had, known := p.bodies[tag]
	switch {
	case err != nil:
		return err
	case resp.StatusCode == http.StatusNotModified && p.asks && tag == last:
	case resp.StatusCode != http.StatusOK:
		return fmt.Errorf("%s for %q, asked by %q", resp.Status, tag, last)
	case known && had != string(body):
		return fmt.Errorf("two calendars have the tag %s", tag)
	default:
		p.bodies[tag] = string(body)
	}
	p.polls++
	if tag != last {
		p.tags = append(p.tags, tag)
	}
	return nil
}

// judge holds all that was served to what was committed.
func judge(t *testing.T, all []*poller, committed map[string][]string) {
	t.Helper()
	polls, checked := 0, map[string]bool{}
	for _, p := range all {
		for _, fault := range p.faults {
			t.Error(fault)
		}
		polls += p.polls
		at := -1
		for _, tag := range p.tags {
			body := p.bodies[tag]
			now := slices.Index(committed[p.token], body)
			if now < at {
				t.Errorf("revision %d was served after %d (-1 is one that was never committed)", now, at)
			}
			at = now
			if want := tagOf(body, p.zipped); tag != want {
				t.Errorf("it has the tag %s, want %s", tag, want)
			}
			if !checked[body] {
				checked[body] = true
				if faults := check.Calendar([]byte(body)); len(faults) > 0 || !strings.HasSuffix(body, "END:VCALENDAR\r\n") {
					t.Errorf("no whole calendar: %v", faults)
				}
			}
		}
		if last := len(committed[p.token]) - 1; at != last {
			t.Errorf("the last that was served is revision %d of %d", at, last)
		}
	}
	t.Logf("%d polls of %d feeds, %d calendars", polls, len(committed), len(checked))
	if len(checked) < 2*len(committed) {
		t.Error("no edit happened under their eyes")
	}
}

// tagOf is the strong entity tag of a calendar (RFC 9110 8.8.3).
func tagOf(body string, zipped bool) string {
	sum := sha256.Sum256([]byte(body))
	if zipped {
		return fmt.Sprintf(`"%x-gzip"`, sum[:12])
	}
	return fmt.Sprintf(`"%x"`, sum[:12])
}
