package desk_test

import (
	"bytes"
	"fmt"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"golang.org/x/net/html"
	"modernc.org/sqlite"

	"banns/store"
	"banns/testdata"
)

// selects counts the reads of every database of this test program: SQLite
// asks its authorizer once for each SELECT that it compiles.
var selects atomic.Int64

func init() {
	sqlite.RegisterConnectionHook(func(conn sqlite.ExecQuerierContext, _ string) error {
		asks, ok := conn.(sqlite.AuthorizerRegisterer)
		if !ok {
			return fmt.Errorf("the driver has no authorizer")
		}
		return asks.RegisterAuthorizer(func(action sqlite.AuthorizerActionCode, _, _, _, _ string) sqlite.AuthorizerReturnCode {
			if action == sqlite.AuthSelect {
				selects.Add(1)
			}
			return sqlite.AuthorizerOK
		})
	})
}

const (
	readsMost  = 12     // of the database, for one page: what somebody sees tells of their calendar too
	anewMost   = 14     // for the first page after a save, which reads the plan
	bytesMost  = 40_000 // of a page with all that it loads, as it travels
	bytesLarge = 60_000 // of a page of ten times the plan
)

// A page asks the database for a handful, and comes over a slow line.
func TestPagesAreCheap(t *testing.T) {
	s := walkedSite(t)
	for _, r := range s.routes(t) {
		if r.method != http.MethodGet {
			continue
		}
		for _, path := range s.seen(t, r) {
			for name, b := range map[string]*browser{"the planner": s.planner, "Theo": s.theo} {
				b.ask(r.method, path, nil) // the plan is read and dated once
				if n := b.reads(path); n > readsMost || n == 0 && !r.public() {
					t.Errorf("GET %s reads the database %d times for %s, and %d is the most", path, n, name, readsMost)
				}
			}
			if n := s.planner.weighs(path); n > bytesMost {
				t.Errorf("GET %s comes to %d bytes at first, and %d is the most", path, n, bytesMost)
			}
		}
	}
}

// The first page after a save asks for little more, whichever it is.
func TestPagesAreCheapAfterASave(t *testing.T) {
	s := walkedSite(t)
	for n, r := range s.routes(t) {
		if r.method != http.MethodGet || !r.ofWedding() {
			continue
		}
		edit := store.Edit{Wedding: "maren-and-theo", Seen: s.plan(t).Plan.Version, Sets: []store.Set{{Path: "wedding/title", Value: []string{fmt.Sprintf("Title %d", n)}}}}
		if _, err := s.store.Update(t.Context(), edit, winter); err != nil {
			t.Fatal(err)
		}
		path := s.path(t, r, "", "")
		if n := s.planner.reads(path); n > anewMost || n == 0 {
			t.Errorf("GET %s reads the database %d times after a save, and %d is the most", path, n, anewMost)
		}
	}
}

// A plan of ten times the agreements takes no more reads, and few more bytes.
func TestPagesAreCheapOfALargePlan(t *testing.T) {
	if testing.Short() {
		t.Skip("-short dates no large plan")
	}
	s := walkedSiteOf(t, string(testdata.Manifold([]byte(walkedPlan(t)), 10)))
	for _, path := range []string{"", "dates", "people", "agreements/", "agreements/catering", "due", "leaving", "countdown", "questions", "paper/month"} {
		path = atWedding + path
		s.planner.ask(http.MethodGet, path, nil)
		if n := s.planner.reads(path); n > readsMost || n == 0 {
			t.Errorf("GET %s reads the database %d times, and %d is the most", path, n, readsMost)
		}
		if n := s.planner.weighs(path); n > bytesLarge {
			t.Errorf("GET %s comes to %d bytes at first, and %d is the most", path, n, bytesLarge)
		}
	}
}

// reads is how often a page has the database read.
func (b *browser) reads(path string) int64 {
	b.t.Helper()
	before := selects.Load()
	b.ask(http.MethodGet, path, nil)
	return selects.Load() - before
}

// weighs is how many bytes travel for a page with all that it loads.
func (b *browser) weighs(path string) int {
	b.t.Helper()
	page := b.ask(http.MethodGet, path, nil, "Accept-Encoding", "gzip")
	total := len(page.raw)
	root, err := html.Parse(bytes.NewReader(b.ask(http.MethodGet, path, nil).raw))
	if err != nil {
		b.t.Fatal(err)
	}
	for n := range root.Descendants() {
		if _, file, ok := strings.Cut(attr(n, "href")+attr(n, "src"), "static/"); ok {
			total += len(b.ask(http.MethodGet, "/static/"+file, nil).raw)
		}
	}
	return total
}
